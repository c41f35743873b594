import {
  checkNonNegative,
  checkPositive,
  checkRange,
  type Worked,
  type WorkedInput,
} from "@/lib/units";
import type { Coating, Goal, RustGrade } from "./codes";

/** z of the 90th percentile of the normal distribution. */
const Z90 = 1.2816;

/**
 * Charge that an area of rust needs, A·h/m², median; the shop's priors until its own runs replace them.
 * Assumption, tuned with the saturation below so that two facts of common practice hold at once: a weak warm
 * bath of little current cleans an open rusty casting in 3 to 4 h, and so does a bath of the usual dose, which
 * draws several times the current; heavy rust takes overnight. Grade A carries mill scale and little rust.
 */
export const RUST_CHARGE_AH_PER_M2: Readonly<Record<RustGrade, number>> = {
  A: 20,
  B: 40,
  C: 50,
  D: 120,
};
/** P90 over P50, and P50 over P10: assumption. */
const RUST_SPREAD = 1.8;
/** Current above which more only makes gas, A/m²: assumption. */
export const SATURATION_A_PER_M2 = 15;

/** Median hours for a coat to lift at 10 A/m²; null lifts no later than the rust. */
const COAT_HOURS: Readonly<Record<Coating, number | null>> = {
  OIL_PAINT: 18,
  SPRAY_ENAMEL: 18,
  VARNISH: 18,
  BAKED_OR_POWDER: 30,
  LEAD_PAINT_SUSPECTED: 30,
  TAR_OR_BITUMEN: 30,
  WAX_OR_GREASE: null,
};
const PAINT_SPREAD = 1.5;
const PAINT_REFERENCE_A_PER_M2 = 10;

/** Hours inside a deep open hollow over those outside, with nothing hung in it: shape default, common practice. */
export const DEEPEST_LAG = 3;
/** Below this share of the area the inside does not decide when a part is done. */
export const INSIDE_MATTERS = 0.1;

/** A time as a range: one in ten is done by P10, half by P50, nine in ten by P90. */
export type HoursRange = { readonly p10: number; readonly p50: number; readonly p90: number };

export type Densities = {
  readonly outsideAPerM2: number;
  readonly insideAPerM2: number | null;
};

/** The inside of a part as the current sees it. */
export type Hollow = {
  /** Share of the area that is inside, 0 to 1. */
  readonly insideShare: number;
  /** Hours inside over hours outside, and so current outside over current inside; 1 to `DEEPEST_LAG`. */
  readonly insideLag: number;
  /** What a field solution says instead of that; none where none was worked out. */
  readonly seen?: Seen | undefined;
};

/** How the current spreads over the sides of a part, as the hours take it. */
export type SideSpread = {
  /** Density that decides the hours of this side, over the part's mean. */
  readonly outside: number;
  /** null where nothing, or too little to matter, is inside */
  readonly inside: number | null;
};

/** The sides of a part in its tank as the field has them. */
export type Seen = {
  readonly spread: SideSpread;
  /** With the best that can be hung inside; null where nothing helps. */
  readonly withInnerAnode: SeenWithInnerAnode | null;
};

export type SeenWithInnerAnode = {
  readonly spread: SideSpread;
  /** Shape length of the cell then over that without. */
  readonly lengthTimes: number;
  /** What hangs, in words with measures in braces, and how far from the part. */
  readonly words: string;
  readonly clearanceMm: number;
};

/** The same part with an anode hung inside: as the field has it, else both sides see the same. */
export function withInnerAnode<Part extends Hollow>(hollow: Part): Part {
  const best = hollow.seen?.withInnerAnode;
  const seen: Seen | undefined = best ? { spread: best.spread, withInnerAnode: best } : undefined;
  return { ...hollow, insideLag: 1, seen };
}

/**
 * How much longer an open hollow takes than the outside, by how deep it is for its opening.
 *
 *   lag = 1 + 2·min(1, depth / (opening/2))
 *
 * A hollow as deep as half its opening, and every deeper one, takes the full `DEEPEST_LAG`; a flat dish takes
 * hardly longer than a plate. Between the two it is a straight line: shape default, assumption.
 *
 * @param depthMm   from the rim to the floor, or to the middle of a tube, ≥ 0
 * @param openingMm narrowest measure of the opening, > 0
 * @throws RangeError if a measure is out of range
 * @example insideLag(65, 260) // 2: a pan a quarter as deep as it is wide
 */
export function insideLag(depthMm: number, openingMm: number): number {
  checkNonNegative("depth of the hollow", depthMm, "mm");
  checkPositive("opening of the hollow", openingMm, "mm");
  return 1 + (DEEPEST_LAG - 1) * Math.min(1, depthMm / (openingMm / 2));
}

/**
 * Splits a current over outside and inside.
 *
 *   I = j_out·A·(1 − s) + j_in·A·s,  j_in = j_out/lag
 *
 * Where a field solution is there, each side has its share of the mean instead.
 *
 * @param currentA A, > 0
 * @param areaM2   m², > 0, all of the part
 * @throws RangeError if an argument is out of its range
 * @example densities(6, 0.5, { insideShare: 0.4, insideLag: 3 }).outsideAPerM2 // 16.4 A/m²
 */
export function densities(currentA: number, areaM2: number, hollow: Hollow): Densities {
  checkPositive("current", currentA, "A");
  checkPositive("area", areaM2, "m²");
  const { insideShare, insideLag: lag, seen } = hollow;
  if (seen) {
    const { outside, inside } = seen.spread;
    const mean = currentA / areaM2;
    return { outsideAPerM2: mean * outside, insideAPerM2: inside === null ? null : mean * inside };
  }
  checkRange("inside share", insideShare, 0, 1, "(share)");
  checkRange("inside lag", lag, 1, DEEPEST_LAG, "(ratio)");
  const outsideAPerM2 = currentA / (areaM2 * (1 - insideShare + insideShare / lag));
  const counts = insideShare >= INSIDE_MATTERS;
  return { outsideAPerM2, insideAPerM2: counts ? outsideAPerM2 / lag : null };
}

/** The side that is done last: its density, and how much longer than that alone it takes. */
export function slowerSide(
  { insideLag: lag, seen }: Hollow,
  { outsideAPerM2, insideAPerM2 }: Densities,
): { readonly density: number; readonly lag: number } {
  if (insideAPerM2 === null) return { density: outsideAPerM2, lag: 1 };
  if (seen) return { density: Math.min(outsideAPerM2, insideAPerM2), lag: 1 };
  return { density: outsideAPerM2, lag };
}

/** Hours of both sides; the part is done when its slower side is. */
export type SideHours = {
  readonly outside: HoursRange;
  /** null where the inside is too small to decide */
  readonly inside: HoursRange | null;
  readonly worst: HoursRange;
};

/**
 * Hours of a part, outside and inside told apart.
 *
 * @param spread P90 over P50 of the current itself, ≥ 1
 * @throws RangeError if an argument is out of its range
 * @example sideHours(condition, 3, 0.2, { insideShare: 0.45, insideLag: 2 }, 1.2).worst.p50 // h
 */
export function sideHours(
  condition: Condition,
  currentA: number,
  areaM2: number,
  hollow: Hollow,
  spread = 1,
): SideHours {
  const { outsideAPerM2, insideAPerM2 } = densities(currentA, areaM2, hollow);
  const outside = faceHours(condition, outsideAPerM2, spread);
  if (insideAPerM2 === null) return { outside, inside: null, worst: outside };
  const inside = hollow.seen
    ? faceHours(condition, insideAPerM2, spread)
    : stretched(outside, hollow.insideLag);
  return { outside, inside, worst: later(outside, inside) };
}

export type Condition = {
  readonly rustGrade: RustGrade;
  readonly coatings: readonly Coating[];
  readonly goal: Goal;
};

/**
 * Hours until a face is clean.
 *
 *   rust:  t = q / min(j, j_sat);   paint:  t = t₁₀·√(10/j);   the later of the two when both must go
 *
 * @param density A/m², > 0
 * @param spread  P90 over P50 of the current itself, ≥ 1
 * @throws RangeError if an argument is out of its range
 * @example faceHours({ rustGrade: "C", coatings: [], goal: "RUST_ONLY" }, 13, 1).p50 // 3.8 h
 */
export function faceHours(condition: Condition, density: number, spread = 1): HoursRange {
  checkPositive("current density", density, "A/m²");
  checkRange("spread of the current", spread, 1, 10, "(ratio)");
  const rustP50 =
    RUST_CHARGE_AH_PER_M2[condition.rustGrade] / Math.min(density, SATURATION_A_PER_M2);
  const rust = range(rustP50, combined(RUST_SPREAD, spread));
  const coat = slowestCoat(condition);
  if (coat === null) return rust;
  const paintP50 = coat * Math.sqrt(PAINT_REFERENCE_A_PER_M2 / density);
  // Time goes with the root of the current here, so the current's spread counts half.
  return later(rust, range(paintP50, combined(PAINT_SPREAD, Math.sqrt(spread))));
}

/** Median hours of the slowest coat at 10 A/m², or null where no coat has to go. */
export function slowestCoat(condition: Condition): number | null {
  if (condition.goal !== "STRIP_TO_METAL") return null;
  const hours = condition.coatings.map((coating) => COAT_HOURS[coating] ?? 0);
  const slowest = Math.max(0, ...hours);
  return slowest > 0 ? slowest : null;
}

/** A range stretched by a factor: dips one after the other, or the lag of an inside. */
export function stretched(hours: HoursRange, factor: number): HoursRange {
  return { p10: hours.p10 * factor, p50: hours.p50 * factor, p90: hours.p90 * factor };
}

/** The later of two ranges, percentile by percentile. */
export function later(a: HoursRange, b: HoursRange): HoursRange {
  return {
    p10: Math.max(a.p10, b.p10),
    p50: Math.max(a.p50, b.p50),
    p90: Math.max(a.p90, b.p90),
  };
}

function range(p50: number, spread: number): HoursRange {
  return { p10: p50 / spread, p50, p90: p50 * spread };
}

/** Independent log-normal spreads: variances of the logarithms add. */
function combined(a: number, b: number): number {
  const sigma = Math.hypot(Math.log(a) / Z90, Math.log(b) / Z90);
  return Math.exp(Z90 * sigma);
}

/**
 * Hours of one side of the part, with their working.
 *
 * @param density A/m² outside
 * @param lag     1 for the outside, that of the hollow for an inside
 */
export function workedHours(
  name: string,
  condition: Condition,
  density: number,
  spread: number,
  lag = 1,
): Worked {
  const hours = stretched(faceHours(condition, density, spread), lag);
  const coat = slowestCoat(condition);
  const outside = coat === null ? "q / min(j, j_sat)" : "max(q / min(j, j_sat), t₁₀·√(10/j))";
  return {
    name,
    value: hours.p50,
    unit: "h",
    low: hours.p10,
    high: hours.p90,
    formula: lag === 1 ? `t = ${outside}` : `t = ${Number(lag.toPrecision(3))} × ${outside}`,
    inputs: hourInputs(condition, density, coat),
    standing: "assumption",
    source:
      "common practice, no source: a rusty casting 3 to 4 h, heavy rust overnight, paint 16 to 24 h, the inside of a deep hollow three times as long",
    note: "Half are done by the middle figure, nine in ten by the high one. This shop's own runs will narrow it.",
  };
}

function hourInputs(condition: Condition, density: number, coat: number | null): WorkedInput[] {
  const inputs: WorkedInput[] = [
    {
      name: `charge for rust grade ${condition.rustGrade}`,
      symbol: "q",
      value: RUST_CHARGE_AH_PER_M2[condition.rustGrade],
      unit: "A·h/m²",
      standing: "assumption",
    },
    { name: "current density", symbol: "j", value: density, unit: "A/m²", standing: "assumption" },
    {
      name: "current above which more only makes gas",
      symbol: "j_sat",
      value: SATURATION_A_PER_M2,
      unit: "A/m²",
      standing: "assumption",
    },
  ];
  if (coat !== null) {
    inputs.push({
      name: "hours for the coat at 10 A/m²",
      symbol: "t₁₀",
      value: coat,
      unit: "h",
      standing: "common practice",
    });
  }
  return inputs;
}
