"use client";

import { type FieldLook, type PartDistribution, type SideSpread, slowTenth } from "@/lib/field";
import { INSIDE_MATTERS } from "@/lib/treatment";
import { said, type Worked } from "@/lib/units";
import { Figure, useUnits } from "@/app/ui";
import type { Hung } from "./hung";
import type { FieldState } from "./use-field";

/** A share of the mean in words. @example ratioWords(0.046) // "5 % of the mean" */
export function ratioWords(ratio: number): string {
  if (ratio >= 1.95) return `${ratio.toFixed(1)} times the mean`;
  const percent = 100 * ratio;
  return `${percent < 1 ? percent.toFixed(1) : percent.toFixed(0)} % of the mean`;
}

type WordsProps = { readonly look: FieldLook; readonly hung: Hung | null };

/** The one sentence to know before looking. */
export function FieldWords({ look, hung }: WordsProps) {
  const units = useUnits();
  const [part] = look.parts;
  if (!part) return null;
  return <p className="text-lg font-medium">{inWords(part, hung && said(hung.words, units))}</p>;
}

function inWords(part: PartDistribution, hung: string | null): string {
  const { outside } = part;
  const inside = hollowOf(part);
  if (!inside) {
    return `No hollow: all but the slowest tenth of it get at least ${ratioWords(slowTenth(outside))} current.`;
  }
  const middle = (side: SideSpread): string => ratioWords(side.quantiles[10] ?? 0);
  const begin = hung ? `${hung}: the` : "The";
  return `${begin} middle of the inside gets ${middle(inside)} current, the middle of the outside ${middle(outside)}.`;
}

/** The inside, where there is enough of it to matter. */
const hollowOf = ({ inside, insideShare }: PartDistribution): SideSpread | null =>
  insideShare >= INSIDE_MATTERS ? inside : null;

type LengthProps = { readonly look: FieldLook; readonly length: FieldState["length"] };

/** The shape length with its working. */
export function LengthFigure({ look, length }: LengthProps) {
  return length ? <Figure worked={workedLength(look, length)} /> : null;
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
