/** Runs of one tank differ from each other by this, as a standard deviation of ln: assumption. */
const BETWEEN_RUNS = 0.1;
/** The closed form's own error, ± 35 % for eight in ten: assumption. */
const NEW_TANK = 0.25;

/**
 * What a tank's earlier runs say of its next one: ln of measured over planned current, and how sure that is.
 *
 * Normal prior about 0 with the closed form's error; each run a measurement of the tank, ± 10 %. The middle one of the
 * runs counts, so that a run with something amiss does not move it.
 *
 * @param ratios measured over planned current of earlier runs, each > 0
 * @returns `lnRatio` for the middle and `errorLog` for a new run
 * @throws RangeError if a ratio is not above 0
 * @example usualCurrent([]) // { lnRatio: 0, errorLog: 0.27 }: the plan alone
 */
export function usualCurrent(ratios: readonly number[]): {
  readonly lnRatio: number;
  readonly errorLog: number;
} {
  if (ratios.some((ratio) => !(ratio > 0 && Number.isFinite(ratio)))) {
    throw new RangeError(`measured over planned current must be above 0, got ${ratios.join(", ")}`);
  }
  const logs = ratios.map(Math.log).sort((one, other) => one - other);
  const middle = logs.length === 0 ? 0 : medianOf(logs);
  // The median of a bell is less sure than its mean: π/2 times the variance.
  const seen =
    logs.length === 0 ? Infinity : (BETWEEN_RUNS ** 2 * medianCost(logs.length)) / logs.length;
  const weight = NEW_TANK ** 2 / (NEW_TANK ** 2 + seen);
  const left = logs.length === 0 ? NEW_TANK ** 2 : (1 - weight) * NEW_TANK ** 2;
  return {
    lnRatio: logs.length === 0 ? 0 : weight * middle,
    errorLog: Math.sqrt(left + BETWEEN_RUNS ** 2),
  };
}

const medianCost = (count: number): number => (count > 2 ? Math.PI / 2 : 1);

function medianOf(sorted: readonly number[]): number {
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? upper) + upper) / 2;
}
