"use client";

import { useId } from "react";

type SliderProps = {
  readonly label: string;
  /** The value in words, with its unit. */
  readonly shown: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  /** Equal steps are equal ratios; `least` must be above 0. */
  readonly logarithmic?: boolean;
  /** Left out: a two-hundredth of the way. */
  readonly step?: number;
  readonly onChange: (value: number) => void;
};

const STEPS = 200;

/** One quantity to slide; arrow keys move it, and its value is read out in its unit. */
export function Slider({
  label,
  shown,
  value,
  least,
  most,
  logarithmic,
  step,
  onChange,
}: SliderProps) {
  const id = useId();
  const scale = logarithmic ? Math.log : (x: number) => x;
  const back = logarithmic ? Math.exp : (x: number) => x;
  const from = scale(least);
  const to = scale(most);
  return (
    <div>
      <label htmlFor={id} className="flex flex-wrap items-baseline justify-between gap-x-3">
        <span className="font-medium">{label}</span>
        <output htmlFor={id} className="tabular-nums">
          {shown}
        </output>
      </label>
      <input
        id={id}
        type="range"
        className="h-12 w-full accent-bath"
        min={from}
        max={to}
        step={step ?? (to - from) / STEPS}
        value={scale(value)}
        aria-valuetext={shown}
        onChange={({ target }) => {
          onChange(Math.min(most, Math.max(least, back(target.valueAsNumber))));
        }}
      />
    </div>
  );
}
