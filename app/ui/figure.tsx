"use client";

import type { ReactNode } from "react";
import { said, type UnitSystem, type Worked, workedIn, type WorkedInput } from "@/lib/units";
import { formatNumber } from "./number";
import { useUnits } from "./units";

type FigureProps = {
  readonly worked: Worked;
  /** Other words or units for the value, already formatted. */
  readonly shown?: ReactNode;
  readonly label?: ReactNode;
};

/**
 * A computed figure that opens its working: formula, inputs with units, where each came from, and how far to
 * trust it. The one way in which the shop shows its working, in the units that it reads.
 */
export function Figure({ worked: metric, shown, label }: FigureProps) {
  const worked = workedIn(metric, useUnits());
  return (
    <details className="group plate open:bg-sheet">
      <summary className="flex min-h-16 flex-col justify-center px-4 py-3">
        <span className="text-sm text-zinc first-letter:uppercase">{label ?? worked.name}</span>
        <span className="flex flex-wrap items-baseline justify-between gap-x-3">
          <span className="text-xl font-semibold">
            {shown ?? `${formatNumber(worked.value)} ${worked.unit}`}
            <FigureRange worked={worked} />
          </span>
          <span className="text-sm text-bath underline underline-offset-3">
            <span className="group-open:hidden">show the working</span>
            <span className="hidden group-open:inline">hide</span>
          </span>
        </span>
      </summary>
      <Working worked={metric} />
    </details>
  );
}

function FigureRange({ worked }: { readonly worked: Worked }) {
  if (worked.low === undefined && worked.high === undefined) return null;
  const low = worked.low === undefined ? "" : formatNumber(worked.low);
  const high = worked.high === undefined ? "" : formatNumber(worked.high);
  const words = low && high ? `${low} to ${high}` : high ? `up to ${high}` : `from ${low}`;
  return <span className="ml-2 text-sm font-normal text-zinc">({words})</span>;
}

/** The inside of a figure: also used where the value itself stands elsewhere. */
export function Working({ worked: metric }: { readonly worked: Worked }) {
  const units = useUnits();
  const worked = workedIn(metric, units);
  return (
    <div className="space-y-3 border-t border-line px-4 py-3 text-sm">
      <p>
        <span className="text-zinc">Formula: </span>
        <span className="font-medium break-words">{worked.formula}</span>
      </p>
      {worked.inputs.length > 0 ? (
        <ul className="divide-y divide-line">
          {worked.inputs.map((input, index) => (
            <WorkingInput key={index} input={input} units={units} />
          ))}
        </ul>
      ) : null}
      <p>
        <span className="text-zinc">Rests on: </span>
        {worked.standing}
        {worked.source ? `. ${said(worked.source, units)}` : ""}
      </p>
      {worked.note ? <p className="text-zinc">{said(worked.note, units)}</p> : null}
    </div>
  );
}

type InputProps = { readonly input: WorkedInput; readonly units: UnitSystem };

function WorkingInput({ input, units }: InputProps) {
  const value =
    typeof input.value === "number" ? formatNumber(input.value) : said(input.value, units);
  return (
    <li className="py-1.5">
      <span>
        {input.name}
        {input.symbol ? ` (${input.symbol})` : ""}
      </span>{" "}
      <span className="font-medium">
        {value} {input.unit ?? ""}
      </span>
      <span className="block text-zinc">
        {input.standing}
        {input.source ? `: ${said(input.source, units)}` : ""}
      </span>
    </li>
  );
}

/** Figures side by side. */
export function Figures({ children }: { readonly children: ReactNode }) {
  return <div className="grid items-start gap-3 sm:grid-cols-2 lg:grid-cols-3">{children}</div>;
}
