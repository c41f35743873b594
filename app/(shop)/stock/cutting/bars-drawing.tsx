import type { CuttingPlan } from "@/lib/stock";
import { formatMeasure, type UnitSystem } from "@/lib/units";

type Props = {
  readonly bars: CuttingPlan;
  readonly units: UnitSystem;
  /** what a bar is called: "whole bar of 3 March" */
  readonly nameOf: (barId: string) => string;
};

/** Each bar to scale, the longest across the page, and the same in words. */
export function BarsDrawing({ bars, units, nameOf }: Props) {
  const longest = Math.max(1, ...bars.map(({ lengthMm }) => lengthMm));
  return (
    <ol className="space-y-5" aria-label="Bars to saw">
      {bars.map((bar, index) => (
        <li key={index} className="space-y-1">
          <p className="font-medium">
            {index + 1}. {nameOf(bar.barId)}, {inWords(bar.lengthMm, units)}
          </p>
          <svg
            viewBox="0 0 1000 44"
            preserveAspectRatio="none"
            aria-hidden="true"
            className="block h-11 w-full"
          >
            <OneBar bar={bar} scale={1000 / longest} />
          </svg>
          <p>{sawnWords(bar, units)}</p>
        </li>
      ))}
    </ol>
  );
}

type Bar = CuttingPlan[number];

function OneBar({ bar, scale }: { readonly bar: Bar; readonly scale: number }) {
  const cuts = bar.offcutMm + bar.scrapMm > 0 ? bar.pieces.length : bar.pieces.length - 1;
  const kerf = cuts > 0 ? bar.chipsMm / cuts : 0;
  const starts = bar.pieces.map((_, index) =>
    bar.pieces.slice(0, index).reduce((sum, piece) => sum + piece + kerf, 0),
  );
  const end = bar.lengthMm - bar.offcutMm - bar.scrapMm;
  return (
    <>
      <rect x={0} y={6} width={end * scale} height={32} className="fill-magnetite" />
      {bar.pieces.map((piece, index) => (
        <rect
          key={index}
          x={(starts[index] ?? 0) * scale}
          y={6}
          // A cut is thinner than a hair at this scale: a gap of one unit shows where it is.
          width={Math.max(1, piece * scale - 1.5)}
          height={32}
          className="fill-liquid"
        />
      ))}
      {bar.offcutMm > 0 ? (
        <rect
          x={end * scale}
          y={7}
          width={Math.max(1, bar.offcutMm * scale - 1)}
          height={30}
          strokeDasharray="8 6"
          strokeWidth={2}
          vectorEffect="non-scaling-stroke"
          className="fill-sheet stroke-rim"
        />
      ) : null}
      {bar.scrapMm > 0 ? (
        <rect
          x={end * scale}
          y={14}
          width={bar.scrapMm * scale}
          height={16}
          className="fill-oxide"
        />
      ) : null}
    </>
  );
}

const inWords = (mm: number, units: UnitSystem): string =>
  formatMeasure("length", mm, units, units === "US" ? {} : { decimals: 1 });

/** @example sawnWords(bar, "METRIC") // "3 × 800 mm, chips 6 mm, keep the offcut of 594 mm" */
export function sawnWords(bar: Bar, units: UnitSystem): string {
  const counts = new Map<number, number>();
  for (const piece of bar.pieces) counts.set(piece, (counts.get(piece) ?? 0) + 1);
  const parts = [...counts].map(([mm, count]) => `${count} × ${inWords(mm, units)}`);
  if (bar.chipsMm > 0) parts.push(`chips ${inWords(bar.chipsMm, units)}`);
  if (bar.offcutMm > 0) parts.push(`keep the offcut of ${inWords(bar.offcutMm, units)}`);
  if (bar.scrapMm > 0) parts.push(`scrap ${inWords(bar.scrapMm, units)}`);
  return parts.join(", ");
}
