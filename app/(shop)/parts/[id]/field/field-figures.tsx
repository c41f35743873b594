"use client";

import { type FieldLook, type PartDistribution, type SideSpread, slowTenth } from "@/lib/field";
import type { Worked } from "@/lib/units";
import { Figure, Figures } from "@/app/ui";
import { ratioWords } from "./shades";

type Props = {
  readonly look: FieldLook;
  readonly length: { readonly value: number; readonly error: number } | null;
  readonly rod: boolean;
};

/** Of the area: less inside than that does not decide when a part is done. */
const INSIDE_MATTERS = 0.1;

/** What the picture says, in words and numbers: for reading, and for those who cannot see it. */
export function FieldFigures({ look, length, rod }: Props) {
  const [part] = look.parts;
  if (!part) return null;
  const hollow = hollowOf(part);
  return (
    <div className="space-y-4">
      <p className="text-lg font-medium">{inWords(part, rod)}</p>
      <div className="overflow-x-auto">
        <table className="w-full text-left">
          <caption className="sr-only">Current on the outside and the inside of the part</caption>
          <thead className="text-sm text-zinc">
            <tr>
              <th scope="col">Side</th>
              <th scope="col">Of the area</th>
              <th scope="col">Half of it gets more than</th>
              <th scope="col">All but the slowest tenth get more than</th>
            </tr>
          </thead>
          <tbody>
            <Row name="Outside" side={part.outside} of={part} />
            {hollow ? <Row name="Inside" side={hollow} of={part} /> : null}
          </tbody>
        </table>
      </div>
      <Figures>
        <Figure worked={workedLag(part)} />
        {length ? <Figure worked={workedLength(look, length)} /> : null}
      </Figures>
    </div>
  );
}

type RowProps = {
  readonly name: string;
  readonly side: SideSpread;
  readonly of: PartDistribution;
};

function Row({ name, side, of }: RowProps) {
  return (
    <tr className="border-t border-line">
      <th scope="row" className="py-2 pr-4 font-medium">
        {name}
      </th>
      <td className="pr-4">{Math.round((100 * side.areaM2) / of.wetAreaM2)} %</td>
      <td className="pr-4">{ratioWords(side.quantiles[10] ?? 0)}</td>
      <td>{ratioWords(slowTenth(side))}</td>
    </tr>
  );
}

/** The inside, where there is enough of it to matter. */
function hollowOf({ inside, insideShare }: PartDistribution): SideSpread | null {
  return insideShare >= INSIDE_MATTERS ? inside : null;
}

function inWords(part: PartDistribution, rod: boolean): string {
  const { outside } = part;
  const inside = hollowOf(part);
  if (!inside) {
    return `No hollow: all but the slowest tenth of it get at least ${ratioWords(slowTenth(outside))}.`;
  }
  const middle = inside.quantiles[10] ?? 0;
  const hung = rod ? "With the rod the" : "The";
  return `${hung} middle of the inside gets ${ratioWords(middle)}, the middle of the outside ${ratioWords(outside.quantiles[10] ?? 0)}.`;
}

function workedLag({ lagShare, wetAreaM2 }: PartDistribution): Worked {
  return {
    name: "area that lags",
    value: 100 * lagShare,
    unit: "%",
    formula: "area with less than half the median current density, over all of the wet area",
    inputs: [{ name: "wet area", value: wetAreaM2, unit: "m²", standing: "assumption" }],
    standing: "assumption",
    source:
      "field of this part in this tank: finite volumes, with the overvoltages of part and anode",
    note: "For a clean surface. Rust and paint hold the current off at first, and even it out.",
  };
}

function workedLength(
  { grid }: FieldLook,
  { value, error }: { readonly value: number; readonly error: number },
): Worked {
  return {
    name: "shape length of the cell",
    value,
    unit: "m",
    low: Math.max(0, value - error),
    high: value + error,
    formula: "R_bath = 1/(κ·g)",
    inputs: [
      {
        name: "cells in the picture",
        value: grid.nx * grid.ny * grid.nz,
        standing: "assumption",
      },
      {
        name: "difference of two grids, the finer with eight times the cells",
        value: error,
        unit: "m",
        standing: "assumption",
      },
    ],
    standing: "assumption",
    source: "Laplace’s equation on a grid, checked against plates, cylinders, spheres and rods",
    note: "Without the layers of rust and scale, which the plan adds to it.",
  };
}
