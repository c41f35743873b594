/**
 * Rounding to whole numbers by name. The five names are the rounding-direction attributes of IEEE 754-2019
 * (section 4.3), which every table of roundings can be held against.
 */
export const ROUNDINGS = [
  "TIES_TO_EVEN",
  "TIES_TO_AWAY",
  "TOWARD_ZERO",
  "TOWARD_POSITIVE",
  "TOWARD_NEGATIVE",
] as const;
export type Rounding = (typeof ROUNDINGS)[number];

/** How each is said to somebody who chooses one. */
export const ROUNDING_WORDS: Readonly<Record<Rounding, string>> = {
  TIES_TO_EVEN: "to the nearest; halves to the even one",
  TIES_TO_AWAY: "to the nearest; halves away from zero",
  TOWARD_ZERO: "down, towards zero",
  TOWARD_POSITIVE: "up",
  TOWARD_NEGATIVE: "down, credits included",
};

/**
 * A fraction of whole numbers, rounded exactly to a whole number, however large they are.
 *
 * @param denominator above 0
 * @throws RangeError if it is not
 * @example roundRatio(-5n, 2n, "TIES_TO_AWAY") // -3n
 */
export function roundRatio(numerator: bigint, denominator: bigint, rounding: Rounding): bigint {
  if (denominator <= 0n) throw new RangeError(`denominator must be above 0, got ${denominator}`);
  const remainder = ((numerator % denominator) + denominator) % denominator;
  const floor = (numerator - remainder) / denominator;
  if (remainder === 0n) return floor;
  return goesUp(rounding, floor, 2n * remainder - denominator) ? floor + 1n : floor;
}

/** Whether what lies between `floor` and the next whole number goes to the next; `pastHalf` is above 0 past the half. */
function goesUp(rounding: Rounding, floor: bigint, pastHalf: bigint): boolean {
  switch (rounding) {
    case "TOWARD_POSITIVE":
      return true;
    case "TOWARD_NEGATIVE":
      return false;
    case "TOWARD_ZERO":
      return floor < 0n;
    case "TIES_TO_EVEN":
      return pastHalf > 0n || (pastHalf === 0n && floor % 2n !== 0n);
    case "TIES_TO_AWAY":
      return pastHalf > 0n || (pastHalf === 0n && floor >= 0n);
  }
}
