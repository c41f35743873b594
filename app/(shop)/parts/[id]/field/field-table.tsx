"use client";

import type { ReactNode } from "react";
import type { FieldFindings, HoursRange } from "@/lib/treatment";
import { formatMeasure, formatMeasures, said, type UnitSystem } from "@/lib/units";
import { type Column, Table, useUnits } from "@/app/ui";
import { type HourSteps, hoursWords, stepWords } from "./hour-steps";
import { percent } from "./legend";
import type { FieldSummary } from "./summary";

export type Compared = { readonly head: string; readonly summary: FieldSummary };

type Props = {
  readonly steps: HourSteps;
  /** One, or before and after. */
  readonly compared: readonly Compared[];
};

/** Lengths are shown to this, m. */
const ROUNDED_M = 0.01;

type Row = { readonly name: string; readonly of: (summary: FieldSummary) => ReactNode };

/** What the pictures say, in figures: for reading, and for those who cannot see them. */
export function FieldTable({ steps, compared }: Props) {
  const units = useUnits();
  const columns: Column<Row>[] = [
    { head: "What", cell: ({ name }) => name },
    ...compared.map(({ head, summary }): Column<Row> => ({
      head,
      numeric: true,
      cell: ({ of }) => of(summary),
    })),
  ];
  return (
    <Table
      caption="The bath in figures"
      columns={columns}
      rows={rowsFor(steps, compared, units)}
      rowKey={({ name }) => name}
    />
  );
}

function rowsFor(
  { limits }: HourSteps,
  compared: readonly Compared[],
  units: UnitSystem,
): readonly Row[] {
  const inside = compared.some(({ summary }) => summary.inside !== null);
  const dry = compared.some(({ summary }) => summary.dryShare > 0.001);
  return [
    { name: "Outside, half are clean by", of: ({ outside }) => hoursWords(outside.p50) },
    { name: "Outside, nine in ten by", of: ({ outside }) => hoursWords(outside.p90) },
    ...(inside
      ? [
          { name: "Inside, half are clean by", of: (one: FieldSummary) => p50(one.inside) },
          { name: "Inside, nine in ten by", of: (one: FieldSummary) => p90(one.inside) },
        ]
      : []),
    ...[...limits, Infinity].map((_, step) => ({
      name: `Area, ${stepWords(limits, step)}`,
      of: ({ shares }: FieldSummary) => percent(shares[step] ?? 0),
    })),
    ...(dry
      ? [
          {
            name: "Of the whole, above the level",
            of: (one: FieldSummary) => percent(one.dryShare),
          },
        ]
      : []),
    {
      name: "Area with less than half the middle current",
      of: ({ lagShare }) => percent(lagShare),
    },
    {
      name: "Shape length of the cell",
      of: ({ length }) => (length ? lengthWords(length, units) : "…"),
    },
    { name: "Current through the part", of: ({ currentA }) => `${currentA.toFixed(1)} A` },
  ];
}

/** With its error; one that rounds to nothing is not none. */
function lengthWords(
  { value, error }: { readonly value: number; readonly error: number },
  units: UnitSystem,
): string {
  if (error >= ROUNDED_M) {
    return formatMeasures("distance", [value, error], units, " ± ", { decimals: 2 });
  }
  const most = formatMeasure("distance", ROUNDED_M, units, { decimals: 2 });
  return `${formatMeasure("distance", value, units, { decimals: 2 })}, ± less than ${most}`;
}

const p50 = (hours: HoursRange | null): string => (hours ? hoursWords(hours.p50) : "none");
const p90 = (hours: HoursRange | null): string => (hours ? hoursWords(hours.p90) : "none");

/** What the plan found beyond the picture: other ways to lie, and how the anode wears from floor to level. */
export function FindingsTables({ findings }: { readonly findings: FieldFindings | null }) {
  const units = useUnits();
  if (!findings) return null;
  const { turns, wear } = findings;
  return (
    <>
      {turns.length > 0 ? (
        <Table
          caption="Other ways to lay it"
          columns={[
            {
              head: "Way to lie",
              cell: ({ words, planned }) =>
                `${said(words, units)}${planned ? " (as planned)" : ""}`,
            },
            { head: "Half by", numeric: true, cell: ({ hours }) => hoursWords(hours.p50) },
            { head: "Nine in ten by", numeric: true, cell: ({ hours }) => hoursWords(hours.p90) },
          ]}
          rows={turns}
          rowKey={({ words }) => words}
        />
      ) : null}
      {wear.length > 0 ? (
        <Table
          caption="How the anode at the wall wears"
          columns={[
            {
              head: "Height above the floor",
              cell: ({ fromM, toM }) => heights(fromM, toM, units),
            },
            {
              head: "Of its mean",
              numeric: true,
              cell: ({ ratio }) => `${Math.round(100 * ratio)} %`,
            },
          ]}
          rows={wear}
          rowKey={({ fromM }) => String(fromM)}
        />
      ) : null}
    </>
  );
}

const heights = (fromM: number, toM: number, units: UnitSystem): string =>
  [fromM, toM].map((m) => formatMeasure("length", Math.round(1000 * m), units)).join(" to ");
