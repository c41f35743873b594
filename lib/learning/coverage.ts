import { checkPositive, checkRange } from "@/lib/units";
import type { Range } from "./hours";
import type { TimeNeeded } from "./outcome";

/** z of the 97.5th percentile of the normal distribution (from memory of the usual table): 95 % either way. */
const Z975 = 1.96;

/** A counted share and the interval in which the true one lies, 95 %. */
export type CountedShare = {
  readonly hits: number;
  readonly of: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
};

/**
 * A share with Wilson's score interval.
 *
 *   (p + z²/2n ± z·√(p(1 − p)/n + z²/4n²)) / (1 + z²/n)
 *
 * E. B. Wilson, J. Amer. Statist. Assoc. 22, 1927. It stays within 0 to 1 and behaves for few runs, unlike p ± z·√(p(1 − p)/n).
 *
 * @param hits 0 to `of`, whole
 * @param of   above 0
 * @throws RangeError if out of range
 * @example countedShare(81, 263) // 0.308, 0.255 to 0.366
 */
export function countedShare(hits: number, of: number): CountedShare {
  checkPositive("cases counted", of, "runs");
  checkRange("hits", hits, 0, of, "runs");
  const share = hits / of;
  const z2 = Z975 * Z975;
  const middle = share + z2 / (2 * of);
  const half = Z975 * Math.sqrt((share * (1 - share)) / of + z2 / (4 * of * of));
  const whole = 1 + z2 / of;
  return {
    hits,
    of,
    share,
    low: Math.max(0, (middle - half) / whole),
    high: Math.min(1, (middle + half) / whole),
  };
}

/** What was foretold of one part's hours and what it needed, both over the same hours. */
export type Forecast = { readonly foretold: Range; readonly needed: TimeNeeded };

export type Coverage = {
  /** done by the middle figure: half should be */
  readonly byP50: CountedShare;
  /** done by the high figure: nine in ten should be */
  readonly byP90: CountedShare;
  /** between the low and the high figure: eight in ten should be */
  readonly inside: CountedShare;
  /** times known by a bound alone, which are not counted */
  readonly bounds: number;
};

/**
 * How often the forecasts held. Only times known outright are counted: of a part pulled late or put back in it is not
 * known on which side of a figure it fell.
 *
 * @returns null where no time is known outright
 * @example coverageOf([{ foretold: { p10: 2, p50: 4, p90: 8 }, needed: { least: 5, most: 5 } }])?.byP50.hits // 0
 */
export function coverageOf(forecasts: readonly Forecast[]): Coverage | null {
  const known = forecasts.filter(({ needed }) => needed.least === needed.most);
  if (known.length === 0) return null;
  const share = (holds: (forecast: Range, time: number) => boolean): CountedShare =>
    countedShare(
      known.filter(({ foretold, needed }) => holds(foretold, needed.most)).length,
      known.length,
    );
  return {
    byP50: share(({ p50 }, time) => time <= p50),
    byP90: share(({ p90 }, time) => time <= p90),
    inside: share(({ p10, p90 }, time) => time >= p10 && time <= p90),
    bounds: forecasts.length - known.length,
  };
}
