import { type Bathful, type FieldLook, type StreamLines, streamLines } from "@/lib/field";
import {
  type Axis,
  AXES,
  cutAt,
  type CutField,
  cutField,
  type CutKind,
  type CutLines,
  cutTriangles,
} from "./cut-plane";
import { stripQuads, trianglesOf, widest } from "./vessel-outline";

/** What part of the cut's plane is shown, m, right and up. */
export type Frame = {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
};

/** A cut through a bath, ready to be painted. */
export type CutScene = {
  readonly axis: Axis;
  /** Where on the axis, m. */
  readonly atM: number;
  readonly kind: CutKind;
  readonly frame: Frame;
  readonly bath: Bathful;
  readonly field: CutField;
  /** Limits between the bands, rising: V, or log₁₀ of the density over the part's mean. */
  readonly limits: readonly number[];
  /** The part's outline, and the density over the mean at each piece of it; NaN where dry. */
  readonly part: CutLines & { readonly ratio: Float32Array };
  readonly inner: CutLines;
  readonly strips: CutLines;
  /** Lines that begin on the cut, seen square to it. */
  readonly lines: StreamLines;
};

export type CutAsked = {
  readonly axis: Axis;
  /** Of the way along the axis, 0 to 1. */
  readonly share: number;
  readonly kind: CutKind;
};

/** Bands of equal volts. */
const VOLT_BANDS = 12;
/** Limits between the bands of the current: over the part's mean. */
export const CURRENT_LIMITS = [0.03, 0.1, 0.3, 1, 3] as const;
const LINES = 40;
/** Round the tank, of its greatest measure. */
const MARGIN = 0.03;

/**
 * Cuts a bath.
 * @param meanSlopeVPerM slope of the potential where the part's mean density flows, V/m
 */
export function cutScene(
  look: FieldLook,
  bath: Bathful,
  { axis, share, kind }: CutAsked,
  meanSlopeVPerM: number,
): CutScene {
  const atM = cutAt(look.grid, axis, share);
  const field = cutField(look, axis, share, kind, meanSlopeVPerM);
  const { corners, ratio, electrode } = look.surface;
  const all = cutTriangles(corners, axis, atM);
  const isPart = (triangle: number): boolean =>
    look.electrodes[electrode[triangle] ?? 0]?.kind === "PART";
  const part = chosen(all, isPart);
  return {
    ...{ axis, atM, kind, bath, field },
    frame: frameOf(look, bath, axis),
    limits: kind === "VOLTS" ? voltLimits(field) : CURRENT_LIMITS.map(Math.log10),
    part: { ...part, ratio: Float32Array.from(part.triangle, (one) => ratio[one] ?? Number.NaN) },
    inner: chosen(all, (triangle) => !isPart(triangle)),
    strips: cutTriangles(trianglesOf(stripQuads(bath)), axis, atM),
    lines: streamLines(look, { count: LINES, weights: weightsOn(look, part) }),
  };
}

function voltLimits({ least, most }: CutField): readonly number[] {
  return Array.from(
    { length: VOLT_BANDS - 1 },
    (_, band) => least + ((band + 1) / VOLT_BANDS) * (most - least),
  );
}

function chosen({ ends, triangle }: CutLines, which: (triangle: number) => boolean): CutLines {
  const kept = [...triangle.keys()].filter((piece) => which(triangle[piece] ?? 0));
  return {
    ends: Float32Array.from(kept.flatMap((piece) => [...ends.subarray(4 * piece, 4 * piece + 4)])),
    triangle: Uint32Array.from(kept, (piece) => triangle[piece] ?? 0),
  };
}

/** Current into each piece of the part's outline. */
function weightsOn({ surface }: FieldLook, { ends, triangle }: CutLines): Float32Array {
  const weights = new Float32Array(surface.ratio.length);
  triangle.forEach((one, piece) => {
    const [x = 0, y = 0, u = 0, v = 0] = ends.subarray(4 * piece, 4 * piece + 4);
    const density = surface.ratio[one] ?? 0;
    if (density > 0) weights[one] = density * Math.hypot(u - x, v - y);
  });
  return weights;
}

function frameOf({ surface }: FieldLook, { vessel }: Bathful, axis: Axis): Frame {
  const [a, b] = widest(vessel);
  const margin = 2 * MARGIN * Math.max(a, b);
  const half = [a, b][AXES[axis][1]] ?? a;
  if (axis === "z") {
    return { left: -a - margin, right: a + margin, bottom: -b - margin, top: b + margin };
  }
  let highest = vessel.depthM;
  for (let at = 2; at < surface.corners.length; at += 3) {
    highest = Math.max(highest, surface.corners[at] ?? 0);
  }
  return { left: -half - margin, right: half + margin, bottom: -margin, top: highest + margin };
}
