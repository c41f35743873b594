import { roundHalfEven } from "@/lib/money";

/** What an anode cost, and what runs took of it so far. */
export type AnodeCost = {
  /** whole minor units, 0 or more */
  readonly costMinor: number;
  /** g that may be lost before it is replaced, above 0: that much carries all of the cost */
  readonly usableG: number;
  /** g lost to runs so far, 0 or more */
  readonly lostG: number;
  /** whole minor units written to runs so far */
  readonly writtenMinor: number;
};

/**
 * What a run that takes so much of an anode bears of its cost. Rounded on the sum and not on each run, so that the runs
 * together bear the cost to the cent; what an anode does beyond its usable mass is free.
 *
 * @param lossG g that this run took, 0 or more
 * @returns whole minor units, 0 or more
 * @example wearCost({ costMinor: 100, usableG: 300, lostG: 100, writtenMinor: 33 }, 100) // 34
 */
export function wearCost(
  { costMinor, usableG, lostG, writtenMinor }: AnodeCost,
  lossG: number,
): number {
  const borne = roundHalfEven(costMinor * Math.min(1, (lostG + lossG) / usableG));
  return Math.max(0, borne - writtenMinor);
}

/**
 * What no run has borne of an anode that is out: the shop bears it.
 * @example writtenOff({ costMinor: 500, usableG: 300, lostG: 100, writtenMinor: 167 }) // 333
 */
export function writtenOff({
  costMinor,
  writtenMinor,
}: Pick<AnodeCost, "costMinor" | "writtenMinor">): number {
  return Math.max(0, costMinor - writtenMinor);
}
