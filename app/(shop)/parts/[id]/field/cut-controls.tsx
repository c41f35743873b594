"use client";

import { useId } from "react";
import { formatMeasure } from "@/lib/units";
import { useUnits } from "@/app/ui";
import { Slider } from "../slider";
import type { Axis, CutKind } from "./cut-plane";
import type { CutAsked } from "./cut-scene";

type Props = {
  readonly asked: CutAsked;
  /** Where it lies, m. */
  readonly atM: number;
  readonly onAsked: (asked: CutAsked) => void;
};

/** Each plane: what the picture is then seen from, and what its slider is called. */
export const PLANES: Readonly<Record<Axis, { readonly seen: string; readonly moves: string }>> = {
  y: { seen: "from the front", moves: "Front to back" },
  x: { seen: "from the end", moves: "End to end" },
  z: { seen: "from above", moves: "Floor to level" },
};

/** Which plane cuts the bath, where, and what it shows. */
export function CutControls({ asked, atM, onAsked }: Props) {
  const units = useUnits();
  const { axis, share, kind } = asked;
  return (
    <div className="space-y-3">
      <Choice
        label="Cut through the bath, seen"
        value={axis}
        options={(["y", "x", "z"] as const).map((value) => [value, PLANES[value].seen] as const)}
        onChoose={(value) => onAsked({ ...asked, axis: value, share: value === "z" ? share : 0.5 })}
      />
      <Slider
        label={PLANES[axis].moves}
        shown={whereWords(axis, atM, (mm) => formatMeasure("length", mm, units))}
        value={share}
        least={0}
        most={1}
        step={0.01}
        onChange={(value) => onAsked({ ...asked, share: value })}
      />
      <Choice<CutKind>
        label="The bath shows"
        value={kind}
        options={[
          ["VOLTS", "volts"],
          ["CURRENT", "how strong the current is"],
        ]}
        onChoose={(value) => onAsked({ ...asked, kind: value })}
      />
    </div>
  );
}

/** @example whereWords("z", 0.12, words) // "120 mm above the floor" */
function whereWords(axis: Axis, atM: number, length: (mm: number) => string): string {
  const mm = Math.round(1000 * atM);
  if (axis === "z") return `${length(mm)} above the floor`;
  if (mm === 0) return "through the middle";
  const [less, more] = axis === "y" ? ["in front of", "behind"] : ["left of", "right of"];
  return `${length(Math.abs(mm))} ${mm < 0 ? less : more} the middle`;
}

type ChoiceProps<Value extends string> = {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly (readonly [Value, string])[];
  readonly onChoose: (value: Value) => void;
};

/** One of a few, in a list that opens. */
function Choice<Value extends string>({ label, value, options, onChoose }: ChoiceProps<Value>) {
  const id = useId();
  return (
    <div className="flex flex-wrap items-center gap-x-3 gap-y-1">
      <label htmlFor={id} className="font-medium">
        {label}
      </label>
      <select
        id={id}
        className="min-h-12 min-w-40 grow rounded border border-rim bg-sheet px-3"
        value={value}
        onChange={({ target }) => {
          const chosen = options.find(([one]) => one === target.value);
          if (chosen) onChoose(chosen[0]);
        }}
      >
        {options.map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}
