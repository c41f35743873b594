"use client";

import { useEffect, useId, useRef, useState } from "react";
import { type FieldLook, sectionOf } from "@/lib/field";
import { Slider } from "../slider";
import { drawSection, type SectionInks } from "./draw-section";

type Axis = "x" | "y" | "z";

const CUTS: readonly (readonly [Axis, string, string])[] = [
  ["y", "seen from the front", "How far back"],
  ["x", "seen from the end", "How far along"],
  ["z", "seen from above", "How high"],
];

/** Colours of a drawing that is the same by day and by night: bath from near the part to near the anode. */
const INKS: SectionInks = {
  bath: [217, 236, 236],
  far: [15, 94, 107],
  part: [150, 55, 15],
  anode: [28, 30, 32],
};

/** The bath cut through: bands of equal volts; where they crowd, much current flows. */
export function CutView({ look }: { readonly look: FieldLook }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const id = useId();
  const [axis, setAxis] = useState<Axis>("y");
  const [share, setShare] = useState(0.5);
  const words = CUTS.find(([one]) => one === axis);

  useEffect(() => {
    if (canvas.current)
      drawSection(canvas.current, sectionOf(look, axis, share), look.electrodes, INKS);
  }, [look, axis, share]);

  return (
    <figure className="plate space-y-3 p-4">
      <label htmlFor={id} className="block font-medium">
        Cut through the bath
      </label>
      <select
        id={id}
        className="min-h-12 w-full rounded border border-rim bg-sheet px-3"
        value={axis}
        onChange={({ target }) => setAxis(CUTS.find(([one]) => one === target.value)?.[0] ?? "y")}
      >
        {CUTS.map(([value, label]) => (
          <option key={value} value={value}>
            {label}
          </option>
        ))}
      </select>
      <canvas
        ref={canvas}
        role="img"
        aria-label={`The bath ${words?.[1] ?? ""}: part in rust, anode in black, bands of equal volts between them.`}
        className="mx-auto max-h-96 w-full object-contain [image-rendering:pixelated]"
      />
      <Slider
        label={words?.[2] ?? "How far"}
        shown={`${Math.round(100 * share)} %`}
        value={share}
        least={0}
        most={1}
        step={0.01}
        onChange={setShare}
      />
      <figcaption className="text-sm text-zinc">
        Part in rust, anode in black. Each band is a sixteenth of the bath’s volts: where bands
        crowd, much current flows; where one fills a hollow, hardly any.
      </figcaption>
    </figure>
  );
}
