import { Refusal } from "@/lib/errors";
import {
  type DiscountStep,
  type EnergyBand,
  LABOUR_TASKS,
  MOST_TAX_PERCENT,
  type Skill,
  type Tax,
  type TaxRule,
} from "@/lib/pricing";
import { isAmbiguousNumber, plainNumber } from "@/lib/units";
import { minorOf } from "../typed-amount";

/**
 * The lists of a rate card as they are typed: rows of fields, those of one row at the same place of each list. A row
 * that is left empty is none.
 */

/** Rows that a form has room for. */
export const MOST_ROWS = 8;

export type TypedRows<Name extends string> = Readonly<Record<Name, readonly string[]>>;

const at = (list: readonly string[], row: number): string => list[row]?.trim() ?? "";

const refuse = (field: string, row: number, expected: string): Refusal =>
  new Refusal("invalid", "Please look at the marked fields.", {
    [field]: `Row ${row + 1}: ${expected}`,
  });

/** Rows there are in these lists: a form holds other fields beside them. */
function rowsOf(...lists: readonly (readonly string[])[]): readonly number[] {
  const longest = Math.max(0, ...lists.map((list) => list.length));
  return Array.from({ length: longest }, (_, row) => row);
}

function amountAt(field: string, typed: string, row: number, currency: string): number {
  const minor = minorOf(typed, currency);
  if (minor !== null && minor >= 0) return minor;
  throw refuse(field, row, `expected an amount in ${currency}, such as 12.50; not “${typed}”.`);
}

function percentAt(field: string, typed: string, row: number, most: number): number {
  const value = typed === "" || isAmbiguousNumber(typed) ? Number.NaN : plainNumber(typed);
  if (value >= 0 && value <= most) return value;
  throw refuse(field, row, `expected a number from 0 to ${most} %; not “${typed}”.`);
}

/** One row a task, in the order of `LABOUR_TASKS`; tasks with the same skill at the same rate are one skill. */
export function skillsFrom(
  typed: TypedRows<"skillName" | "skillRate">,
  currency: string,
): readonly Skill[] {
  const skills: Skill[] = [];
  LABOUR_TASKS.forEach((task, row) => {
    const [name, rate] = [at(typed.skillName, row), at(typed.skillRate, row)];
    if (name === "" && rate === "") return;
    if (name === "") throw refuse("skillName", row, "name the skill, or leave its rate empty too.");
    const perHourMinor = amountAt("skillRate", rate, row, currency);
    const same = skills.findIndex((skill) => skill.name === name);
    const found = skills[same];
    if (!found) skills.push({ name, perHourMinor, tasks: [task] });
    else if (found.perHourMinor === perHourMinor) {
      skills[same] = { ...found, tasks: [...found.tasks, task] };
    } else throw refuse("skillRate", row, `“${name}” stands in another row at another rate.`);
  });
  return skills;
}

export function bandsFrom(
  typed: TypedRows<"bandName" | "bandDays" | "bandFrom" | "bandTo" | "bandRate">,
  currency: string,
): readonly EnergyBand[] {
  const { bandName, bandFrom, bandTo, bandRate } = typed;
  return rowsOf(bandName, bandFrom, bandTo, bandRate).flatMap((row): EnergyBand[] => {
    const [name, rate] = [at(typed.bandName, row), at(typed.bandRate, row)];
    const [from, to] = [at(typed.bandFrom, row), at(typed.bandTo, row)];
    if ([name, rate, from, to].every((text) => text === "")) return [];
    if (name === "") throw refuse("bandName", row, "give these hours a name, such as night.");
    const toMinute = minuteAt("bandTo", to, row);
    return [
      {
        name,
        days: at(typed.bandDays, row).split(",").map(Number),
        fromMinute: minuteAt("bandFrom", from, row),
        toMinute: toMinute === 0 ? 1440 : toMinute,
        perKwhMinor: amountAt("bandRate", rate, row, currency),
      },
    ];
  });
}

function minuteAt(field: string, typed: string, row: number): number {
  const match = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(typed);
  if (!match) throw refuse(field, row, `expected a time such as 22:00; not “${typed}”.`);
  return Number(match[1]) * 60 + Number(match[2]);
}

export function stepsFrom(
  typed: TypedRows<"stepFrom" | "stepPercent">,
  currency: string,
): readonly DiscountStep[] {
  return rowsOf(typed.stepFrom, typed.stepPercent).flatMap((row): DiscountStep[] => {
    const [from, percent] = [at(typed.stepFrom, row), at(typed.stepPercent, row)];
    if (from === "" && percent === "") return [];
    return [
      {
        fromMinor: amountAt("stepFrom", from, row, currency),
        percent: percentAt("stepPercent", percent, row, 100),
      },
    ];
  });
}

/** Fields of the taxes of a rule: each with its name and its percentage. */
export type TaxFields =
  "ruleCode" | "ruleLabel" | "tax1Name" | "tax1Percent" | "tax2Name" | "tax2Percent";

/** A rule keeps its code while its row stands; a new one gets the first that is free. */
export function rulesFrom(typed: TypedRows<TaxFields>): readonly TaxRule[] {
  const taken = new Set(typed.ruleCode.filter((code) => code !== ""));
  const { ruleLabel, tax1Name, tax1Percent, tax2Name, tax2Percent } = typed;
  const all = rowsOf(ruleLabel, tax1Name, tax1Percent, tax2Name, tax2Percent);
  const rules = all.flatMap((row): TaxRule[] => {
    const label = at(typed.ruleLabel, row);
    const taxes = [
      ...taxAt(typed, "tax1Name", "tax1Percent", row),
      ...taxAt(typed, "tax2Name", "tax2Percent", row),
    ];
    if (label === "" && taxes.length === 0) return [];
    if (label === "") throw refuse("ruleLabel", row, "say what is taxed so.");
    const code = at(typed.ruleCode, row) || freeCode(taken);
    taken.add(code);
    return [{ code, label, taxes }];
  });
  if (rules.length > 0) return rules;
  throw refuse("ruleLabel", 0, "there is at least one way of taxing, if only “Not taxed”.");
}

function taxAt(
  typed: TypedRows<TaxFields>,
  nameField: TaxFields,
  percentField: TaxFields,
  row: number,
): readonly Tax[] {
  const [name, percent] = [at(typed[nameField], row), at(typed[percentField], row)];
  if (name === "" && percent === "") return [];
  if (name === "") throw refuse(nameField, row, "give the tax its name.");
  return [{ name, percent: percentAt(percentField, percent, row, MOST_TAX_PERCENT) }];
}

function freeCode(taken: ReadonlySet<string>): string {
  let number = 1;
  while (taken.has(`rule-${number}`)) number += 1;
  return `rule-${number}`;
}
