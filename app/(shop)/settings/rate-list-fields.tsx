import type { ReactNode } from "react";
import { minorDigits } from "@/lib/money";
import {
  type DiscountStep,
  type EnergyBand,
  LABOUR_TASKS,
  type Skill,
  type TaxRule,
} from "@/lib/pricing";
import { NumberField, SelectField, TextField } from "@/app/ui";
import { MoreRows } from "./more-rows";
import { MOST_ROWS } from "./rate-lists";

/** An amount as it is entered: in whole units of the currency; nothing where there is none. */
export const entered = (minor: number | undefined, currency: string): string => {
  const digits = minorDigits(currency);
  return minor === undefined ? "" : (minor / 10 ** digits).toFixed(digits);
};

const ROW = "grid items-start gap-3 sm:grid-cols-2 lg:grid-cols-5";

type GroupProps = { readonly title: string; readonly hint: string; readonly children: ReactNode };

function Group({ title, hint, children }: GroupProps) {
  return (
    <fieldset className="space-y-3">
      <legend className="text-lg font-semibold">{title}</legend>
      <p className="max-w-prose text-sm text-zinc">{hint}</p>
      {children}
    </fieldset>
  );
}

const blanks = <Row,>(rows: readonly Row[]): readonly (Row | undefined)[] =>
  Array.from({ length: Math.max(MOST_ROWS, rows.length) }, (_, row) => rows[row]);

const TASK_WORDS: Readonly<Record<(typeof LABOUR_TASKS)[number], string>> = {
  "take in": "Taking in",
  load: "Loading",
  pull: "Pulling",
  finish: "Finishing",
  other: "Other work",
};

type SkillProps = { readonly skills: readonly Skill[]; readonly currency: string };

export function SkillFields({ skills, currency }: SkillProps) {
  return (
    <Group
      title="Labour by skill"
      hint="Where a task is paid otherwise than the plain hour: who does it, and what an hour of them costs. Leave both empty where the plain hour holds."
    >
      <div className="grid gap-3 sm:grid-cols-2">
        {LABOUR_TASKS.map((task) => {
          const skill = skills.find(({ tasks }) => tasks.includes(task));
          return (
            <div key={task} className="grid grid-cols-2 gap-3">
              <TextField
                name="skillName"
                label={`${TASK_WORDS[task]}: who`}
                defaultValue={skill?.name ?? ""}
              />
              <NumberField
                name="skillRate"
                label={`${TASK_WORDS[task]}: an hour`}
                unit={currency}
                defaultValue={entered(skill?.perHourMinor, currency)}
              />
            </div>
          );
        })}
      </div>
    </Group>
  );
}

const DAY_OPTIONS = [
  { value: "1,2,3,4,5,6,7", label: "every day" },
  { value: "1,2,3,4,5", label: "Monday to Friday" },
  { value: "6,7", label: "Saturday and Sunday" },
  ...["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"].map(
    (label, index) => ({ value: String(index + 1), label }),
  ),
];

/** Minutes of the day as a clock shows them. */
export const clock = (minute: number): string =>
  [Math.floor(minute / 60) % 24, minute % 60]
    .map((part) => String(part).padStart(2, "0"))
    .join(":");

/** Days of a band in words. */
export const daysWords = (days: readonly number[]): string =>
  DAY_OPTIONS.find(({ value }) => value === days.join(","))?.label ?? days.join(", ");

type BandProps = { readonly bands: readonly EnergyBand[]; readonly currency: string };

export function BandFields({ bands, currency }: BandProps) {
  return (
    <Group
      title="Energy by time of day"
      hint="Hours at a price of their own; the first row that holds counts, the plain price for the rest. Hours that end earlier than they begin end on the next day."
    >
      <MoreRows
        more="Other hours"
        shown={Math.max(1, bands.length)}
        rows={blanks(bands).map((band, row) => (
          <div key={row} className={ROW}>
            <TextField name="bandName" label="Name" defaultValue={band?.name ?? ""} />
            <SelectField
              name="bandDays"
              label="Days"
              options={DAY_OPTIONS}
              defaultValue={band?.days.join(",") ?? "1,2,3,4,5,6,7"}
              required
            />
            <TextField
              name="bandFrom"
              label="From"
              type="time"
              defaultValue={band ? clock(band.fromMinute) : ""}
            />
            <TextField
              name="bandTo"
              label="To"
              type="time"
              defaultValue={band ? clock(band.toMinute) : ""}
            />
            <NumberField
              name="bandRate"
              label="A kW·h"
              unit={currency}
              defaultValue={entered(band?.perKwhMinor, currency)}
            />
          </div>
        ))}
      />
    </Group>
  );
}

type StepProps = { readonly steps: readonly DiscountStep[]; readonly currency: string };

export function StepFields({ steps, currency }: StepProps) {
  return (
    <Group
      title="Discounts by size"
      hint="From which amount before tax a job gets which discount, where nothing else is agreed. The largest that it reaches counts."
    >
      <MoreRows
        more="Another step"
        shown={Math.max(1, steps.length)}
        rows={blanks(steps).map((step, row) => (
          <div key={row} className="grid gap-3 sm:grid-cols-2">
            <NumberField
              name="stepFrom"
              label="From"
              unit={currency}
              defaultValue={entered(step?.fromMinor, currency)}
            />
            <NumberField
              name="stepPercent"
              label="Discount"
              unit="%"
              defaultValue={step?.percent ?? ""}
            />
          </div>
        ))}
      />
    </Group>
  );
}

export function TaxFieldsets({ rules }: { readonly rules: readonly TaxRule[] }) {
  return (
    <Group
      title="Taxes"
      hint="Ways of taxing: the first is the usual one, the others are chosen for a customer or a quote. One may have two taxes on the same amount, or none. Tax law differs from place to place: ask your adviser which of them hold for you."
    >
      <MoreRows
        more="Another way of taxing"
        shown={Math.max(1, rules.length)}
        rows={blanks(rules).map((rule, row) => (
          <div key={row} className={ROW}>
            <input type="hidden" name="ruleCode" value={rule?.code ?? ""} />
            <TextField name="ruleLabel" label="What is taxed so" defaultValue={rule?.label ?? ""} />
            {([0, 1] as const).map((place) => (
              <div key={place} className="contents">
                <TextField
                  name={`tax${place + 1}Name`}
                  label={place === 0 ? "Tax" : "Second tax"}
                  defaultValue={rule?.taxes.at(place)?.name ?? ""}
                />
                <NumberField
                  name={`tax${place + 1}Percent`}
                  label={place === 0 ? "Tax rate" : "Second rate"}
                  unit="%"
                  defaultValue={rule?.taxes.at(place)?.percent ?? ""}
                />
              </div>
            ))}
          </div>
        ))}
      />
    </Group>
  );
}
