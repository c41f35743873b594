import { type FieldLook, type SideSpread, slowTenth } from "@/lib/field";
import {
  currentSpread,
  faceHours,
  type FieldArrangement,
  type FieldSubject,
  type HoursRange,
  INSIDE_MATTERS,
  ORDINARY_SLOW_TENTH,
  placeHours,
} from "@/lib/treatment";
import { stepOf } from "./hour-steps";
import { flatNormals } from "./surface-shape";

/** What a picture says, in figures. */
export type FieldSummary = {
  readonly outside: HoursRange;
  /** null where nothing, or too little to matter, is inside */
  readonly inside: HoursRange | null;
  /** Share of the wet area in each step of hours, quick to slow; adds up to 1. */
  readonly shares: readonly number[];
  /** Share of the whole surface that stands above the level. */
  readonly dryShare: number;
  readonly lagShare: number;
  /** m, with what is left of error in it; null until known. */
  readonly length: { readonly value: number; readonly error: number } | null;
  /** Through the part, A. */
  readonly currentA: number;
};

/** Area of every patch, m². */
function areas(corners: Float32Array): Float32Array {
  const normals = flatNormals(corners);
  return Float32Array.from({ length: normals.length / 3 }, (_, patch) =>
    Math.hypot(...normals.subarray(3 * patch, 3 * patch + 3)),
  );
}

/**
 * How the part's area is shared out over the steps, and what of it is dry.
 * @param hours of a density over the mean
 */
export function areaShares(
  { surface, electrodes }: Pick<FieldLook, "surface" | "electrodes">,
  hours: (ratio: number) => number,
  limits: readonly number[],
): Pick<FieldSummary, "shares" | "dryShare"> {
  const shares = limits.map(() => 0).concat(0);
  let [wet, dry] = [0, 0];
  areas(surface.corners).forEach((area, patch) => {
    if (electrodes[surface.electrode[patch] ?? 0]?.kind !== "PART") return;
    const ratio = surface.ratio[patch] ?? Number.NaN;
    if (Number.isNaN(ratio)) dry += area;
    else {
      const step = stepOf(limits, hours(ratio));
      shares[step] = (shares[step] ?? 0) + area;
      wet += area;
    }
  });
  return { shares: shares.map((area) => area / (wet || 1)), dryShare: dry / (wet + dry || 1) };
}

/** Hours of the places of a part, when so many times the plan's current flows. */
export function hoursAt(subject: FieldSubject, strength: number): (ratio: number) => number {
  const hours = placeHours(subject);
  return (ratio) => hours(ratio * strength);
}

/** Quickest and slowest twentieth of the wet area, h: what the steps are chosen for. */
export function hoursBetween(
  look: FieldLook,
  hours: (ratio: number) => number,
): readonly [number, number] {
  const sides = look.parts.flatMap(({ outside, inside }) =>
    inside ? [outside, inside] : [outside],
  );
  const all = sides.flatMap(({ quantiles }) => [quantiles[1] ?? 1, quantiles[19] ?? 1]);
  return [hours(Math.max(...all)), hours(Math.min(...all))];
}

/**
 * Sums up a picture.
 *
 * @param found what the plan's own work says of the same arrangement: its hours then stand for the picture's
 */
export function summaryOf(
  subject: FieldSubject,
  look: FieldLook,
  limits: readonly number[],
  found: FieldArrangement | null,
  length: FieldSummary["length"],
): FieldSummary | null {
  const [part] = look.parts;
  if (!part) return null;
  const planned = subject.chosen.band.mid.currentA;
  const currentA = found?.currentA ?? planned;
  const counts = part.inside !== null && part.insideShare >= INSIDE_MATTERS;
  return {
    ...areaShares(look, hoursAt(subject, currentA / planned), limits),
    outside: found?.hours.outside ?? sideHours(subject, part.outside),
    inside: found ? found.hours.inside : counts ? sideHours(subject, part.inside) : null,
    ...{ lagShare: part.lagShare, length, currentA },
  };
}

/** Hours of one side at the plan's current: those of its slowest tenth, held against that of an ordinary side. */
function sideHours({ part, chosen }: FieldSubject, side: SideSpread): HoursRange {
  const { band, wetAreaM2 } = chosen;
  const density = (slowTenth(side) / ORDINARY_SLOW_TENTH) * (band.mid.currentA / wetAreaM2);
  const never = { p10: Infinity, p50: Infinity, p90: Infinity };
  return density > 0 ? faceHours(part, density, currentSpread(band)) : never;
}
