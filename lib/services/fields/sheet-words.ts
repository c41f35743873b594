import type { SheetFact, SheetField, SheetTable } from "@/lib/documents";
import type { FieldFindings, HoursRange, InnerAnodeFound } from "@/lib/treatment";
import { formatMeasure, formatMeasures, formatNumber, said, type UnitSystem } from "@/lib/units";
import type { FieldOfPart } from "./see";

/** Ten years and more: nobody waits for it. */
const NEVER_H = 87_660;
/** Rows of a table that anybody reads at the bench. */
const MOST_ROWS = 5;

/**
 * What the field says, in the words and units of the shop; without the picture.
 *
 * @param hung what the plan hangs inside the part; null for nothing
 */
export function fieldInWords(
  field: FieldOfPart | null,
  units: UnitSystem,
  hung: InnerAnodeFound | null,
): Omit<SheetField, "picture"> {
  const findings = field?.findings;
  if (!findings) return { notice: whyNothing(field), facts: [], tables: [] };
  return {
    notice: field.outdated
      ? "The figures here are of before the last change of tank, anode or part."
      : null,
    facts: facts(findings, units, hung),
    tables: [
      innerAnodes(findings, units),
      ...(findings.turns.length > 0 ? [turns(findings, units)] : []),
      ...(findings.wear.length > 0 ? [wear(findings, units)] : []),
    ],
  };
}

function whyNothing(field: FieldOfPart | null): string {
  if (field?.state === "FAILED") return `It could not be worked out. ${field.why}`;
  return "It is not worked out yet: print this page again in a minute.";
}

function facts(
  findings: FieldFindings,
  units: UnitSystem,
  hung: InnerAnodeFound | null,
): SheetFact[] {
  const { shapeLengthM, wetAreaM2, insideShare } = findings;
  const { currentA, lagShare, hours } = hung ?? findings.planned;
  const { outside, inside } = hours;
  return [
    ...(hung ? [{ label: "With this hung inside", value: said(hung.words, units) }] : []),
    { label: inside ? "Hours outside" : "Hours", value: hoursWords(outside) },
    { label: "Hours inside", value: inside ? hoursWords(inside) : "nothing inside to wait for" },
    {
      label: "Current it was solved at",
      value: `${formatNumber(currentA)} A`,
    },
    {
      label: hung
        ? "Shape length with nothing inside, error of two grids"
        : "Shape length of the cell, error of two grids",
      value: `${formatNumber(shapeLengthM.value)} ± ${formatNumber(shapeLengthM.error)} m`,
    },
    {
      label: "Wet area in one dip",
      value: `${formatMeasure("area", wetAreaM2, units)}, ${percent(insideShare)} of it inside`,
    },
    {
      label: "Less than half the usual current",
      value: `${percent(lagShare)} of the area`,
    },
  ];
}

function innerAnodes({ innerAnodes: tried }: FieldFindings, units: UnitSystem): SheetTable {
  return {
    title: "What hung inside helps",
    columns: ["Inner anode", "Clearance", "Hours", "Saves"],
    rows: tried
      .slice(0, MOST_ROWS)
      .map((one) => [
        said(one.words, units),
        formatMeasure("length", one.clearanceMm, units, wholeMm(units)),
        hoursWords(one.hours.worst),
        `${formatNumber(one.savesH)} h`,
      ]),
    note:
      tried.length > 0
        ? "Mild steel, never stainless. Supply off before it is hung; touching the part is a short circuit."
        : "Nothing hung inside helps, or there is no room for it.",
  };
}

function turns({ turns: tried }: FieldFindings, units: UnitSystem): SheetTable {
  return {
    title: "Ways to lay it, the quickest first",
    columns: ["How it lies", "Hours", ""],
    rows: tried
      .slice(0, MOST_ROWS)
      .map((one) => [
        said(one.words, units),
        hoursWords(one.hours),
        one.planned ? "as planned" : "",
      ]),
    note: "",
  };
}

function wear({ wear: bands }: FieldFindings, units: UnitSystem): SheetTable {
  // From the top down, as the sheet hangs.
  const rows = [...bands].reverse().map(({ fromM, toM, ratio }) => {
    const mm = [1000 * fromM, 1000 * toM];
    return [
      formatMeasures("length", mm, units, " to ", wholeMm(units)),
      `${formatNumber(ratio)} ×`,
    ];
  });
  return {
    title: "Wear of the anode by height",
    columns: ["Height over the floor", "Of its mean"],
    rows,
    note: "Turn it end for end where one end goes faster.",
  };
}

const wholeMm = (units: UnitSystem) => (units === "US" ? {} : { decimals: 0 });

const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** @example hoursWords({ p10: 2, p50: 4, p90: 8 }) // "about 4 h, nine in ten within 8 h" */
export function hoursWords({ p50, p90 }: HoursRange): string {
  if (p50 >= NEVER_H) return "never by itself";
  return `about ${formatNumber(p50)} h, nine in ten within ${formatNumber(p90)} h`;
}
