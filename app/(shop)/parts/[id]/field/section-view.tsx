"use client";

import { type ReactNode, useEffect, useRef } from "react";
import { formatMeasure, type UnitSystem } from "@/lib/units";
import { formatNumber, useUnits } from "@/app/ui";
import { PLANES } from "./cut-controls";
import type { CutScene } from "./cut-scene";
import { bandTone, paintCut } from "./paint-cut";
import { useNight } from "./use-inks";
import { cutInks } from "./use-stage";

type Props = {
  /** What chooses the cut. */
  readonly children: ReactNode;
  readonly scene: CutScene;
  readonly toneOf: (ratio: number) => string;
  /** Volts are those of the plan, and not of a quick look. */
  readonly exact: boolean;
};

/** Dots along the longer side, and while a part is moved. */
const EDGE = 1200;
const QUICK_EDGE = 600;

/** The bath cut through, to scale: bands of the bath, the part rimmed in its tones, lines of the current. */
export function SectionView({ children, scene, toneOf, exact }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const units = useUnits();
  const night = useNight();

  useEffect(() => {
    if (canvas.current) {
      paintCut(canvas.current, scene, exact ? EDGE : QUICK_EDGE, toneOf, cutInks());
    }
  }, [scene, toneOf, exact, night]);

  const { frame } = scene;
  const wide = frame.right - frame.left;
  return (
    <figure className="plate space-y-3 p-3 sm:p-4">
      <canvas
        ref={canvas}
        role="img"
        aria-label={`The bath cut through, seen ${PLANES[scene.axis].seen}, to scale: ${contents(scene)}.`}
        className="mx-auto block max-h-[32rem] max-w-full"
        style={{ aspectRatio: `${wide} / ${frame.top - frame.bottom}` }}
      />
      <ScaleBar wide={wide} high={frame.top - frame.bottom} units={units} />
      <BandLegend scene={scene} exact={exact} />
      {children}
      <figcaption className="text-sm text-zinc">
        The part is dark metal, rimmed in the tone of its hours; anodes are grey. Where two bands
        meet, the bath is alike all along. The lines across them are the way of the current: the
        closer they stand on the part, the more it gets there. A dot is where one leaves this plane
        for the anode before or behind it.
      </figcaption>
    </figure>
  );
}

function contents({ part, inner, kind }: CutScene): string {
  const metal =
    part.triangle.length > 0 ? "the part in its tones of hours" : "no part in this plane";
  const anode = inner.triangle.length > 0 ? ", an anode inside it" : "";
  const bands = kind === "VOLTS" ? "bands of equal volts" : "bands of the current’s strength";
  return `${metal}${anode}, the anode at the wall, ${bands} and lines of the current between them`;
}

/** Lengths that a scale bar may have: mm in either system. */
const BARS: Readonly<Record<UnitSystem, readonly number[]>> = {
  METRIC: [10, 20, 50, 100, 200, 500, 1000, 2000],
  US: [25.4, 50.8, 101.6, 152.4, 304.8, 609.6, 1219.2],
};

type BarProps = { readonly wide: number; readonly high: number; readonly units: UnitSystem };

/** A round length as long as it is in the drawing above. */
function ScaleBar({ wide, high, units }: BarProps) {
  const bars = BARS[units];
  const mm = bars.findLast((length) => length < 300 * wide) ?? bars[0] ?? 100;
  return (
    <div className="mx-auto w-full" style={{ maxWidth: `min(100%, calc(32rem * ${wide / high}))` }}>
      <div
        className="border-x-2 border-b-2 border-magnetite pb-0.5 text-center text-sm"
        style={{ width: `${mm / 10 / wide}%` }}
      >
        {formatMeasure("length", mm, units)}
      </div>
    </div>
  );
}

/** @example voltWords(0.034) // "34 mV" */
function voltWords(volts: number): string {
  const [value, unit] = volts < 1 ? [1000 * volts, "mV"] : [volts, "V"];
  return `${formatNumber(Number(value.toPrecision(2)))} ${unit}`;
}

/** The bands side by side, with what the ends and the middle mean. */
function BandLegend({ scene, exact }: Pick<Props, "scene" | "exact">) {
  const bands = scene.limits.length + 1;
  const { least, most } = scene.field;
  const band = voltWords((most - least) / bands);
  const words =
    scene.kind === "VOLTS"
      ? ["at the part", exact ? `each band ${band}` : "bands of equal volts", "at the anode"]
      : ["under 3 % of the part’s mean", "30 to 100 %", "over 3 times"];
  return (
    <div className="text-sm">
      <div aria-hidden="true" className="flex h-4 border border-rim">
        {Array.from({ length: bands }, (_, one) => (
          <span
            key={one}
            className="grow border-r border-rim last:border-r-0"
            style={{ background: `rgb(${bandTone(one, bands).join(" ")})` }}
          />
        ))}
      </div>
      <p className="flex justify-between gap-3">
        {words.map((one) => (
          <span key={one}>{one}</span>
        ))}
      </p>
    </div>
  );
}
