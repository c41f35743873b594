import { checkPositive, checkRange } from "@/lib/units";
import {
  BETWEEN_CLASSES,
  classLikelihood,
  drawnFrom,
  type Likelihood,
  likelihoodOfNothing,
  MU,
  posterior,
  type Posterior,
} from "./hierarchy";
import { normalCdf, Z90 } from "./normal";
import type { TimeNeeded } from "./outcome";
import { quantileOf, type Weighted } from "./weighted";

/** What one part of a class of parts needed, over what the model gave. */
export type HoursObservation = {
  readonly classKey: string;
  readonly needed: TimeNeeded;
  /** standard deviation of the logarithm that the model itself gave this part's hours, above 0 */
  readonly spread: number;
};

/** A time as a range: one in ten is done by P10, half by P50, nine in ten by P90; h, or a factor on hours. */
export type Range = { readonly p10: number; readonly p50: number; readonly p90: number };

/** What the shop's runs say of one class of parts. */
export type ClassHours = {
  /** runs of this class, and how many of them gave a bound instead of a time */
  readonly runs: number;
  readonly bounds: number;
  /** times known outright that would tell as much, 0 and up */
  readonly effectiveRuns: number;
  /** 0: rests on its own runs alone; 1: rests on the shop's mean alone */
  readonly pooled: number;
  /** the typical factor of this class, as P10, P50, P90 of what is known of it */
  readonly typical: Range;
  /** probability that the next part needs at most exp(logRatio) times the model's hours */
  readonly cdf: (logRatio: number, spread: number) => number;
  /** log of the factor that the share p of next parts stays below */
  readonly quantile: (p: number, spread: number) => number;
};

/** What the shop's runs say of its hours. */
export type LearnedHours = {
  readonly runs: number;
  /** classes that have runs of their own, in the order they first came */
  readonly classKeys: readonly string[];
  /** the mean factor of the whole shop */
  readonly shop: Range;
  /** any class: one without runs of its own rests on the shop's mean */
  readonly of: (classKey: string) => ClassHours;
};

/** Spread that the model gives rust hours before anything is learned: P90 over P50 of 1.8. */
export const USUAL_SPREAD = Math.log(1.8) / Z90;
/** Logs beyond e^±2 are taken as e^±2: a run forgotten over a holiday must not decide the shop's spread. */
const MOST_LOG = 2;

/**
 * Learns how this shop's hours differ from the model's.
 *
 *   log(needed / model) ~ N(θ_class, (c·s)²),  θ_class ~ N(μ, (0.2·c)²),  μ ~ N(0, (0.25·c)²),  c² ~ inverse gamma(4, 2.4)
 *
 * s is the spread that the model gave that part, c how much wider or narrower this shop is: everything is scaled by
 * c, so that without censored runs this is the normal-inverse-gamma model and its predictions are Student's t.
 * A run known only by a bound enters with the probability of what is known. The posterior is summed over a grid of μ, c
 * and θ: exact up to the grid, with nothing drawn at random.
 *
 * Prior (assumption): shops differ by a quarter, classes within a shop by a fifth, and the whole spreads about as
 * wide as the model itself says.
 *
 * @throws RangeError naming the figure of an observation that is out of range
 * @example learnHours(runs).of("HOLLOW HEAVY_RUST").quantile(0.5, USUAL_SPREAD) // log of the median factor
 */
export function learnHours(observations: readonly HoursObservation[]): LearnedHours {
  for (const observation of observations) checkObservation(observation);
  const byClass = new Map<string, HoursObservation[]>();
  for (const observation of observations) {
    const own = byClass.get(observation.classKey);
    if (own) own.push(observation);
    else byClass.set(observation.classKey, [observation]);
  }
  const likelihoods = new Map<string, Likelihood>();
  for (const [key, own] of byClass) likelihoods.set(key, classLikelihood(own.map(inLogs)));
  const joint = posterior([...likelihoods.values()]);
  const known = new Map<string, ClassHours>();
  const of = (key: string): ClassHours => {
    const found =
      known.get(key) ??
      classHours(joint, likelihoods.get(key) ?? likelihoodOfNothing(), byClass.get(key) ?? []);
    known.set(key, found);
    return found;
  };
  return {
    runs: observations.length,
    classKeys: [...byClass.keys()],
    shop: factorRange({ nodes: MU, weights: joint.ofMu }),
    of,
  };
}

/**
 * The model's range of hours as this shop's runs have it.
 *
 * @param model P10 < P50 < P90, h, above 0
 * @throws RangeError if the range is out of order
 * @example learnedRange(hours, { p10: 2, p50: 4, p90: 8 }).p50 // 4.6 h in a slow shop
 */
export function learnedRange(hours: ClassHours, model: Range): Range {
  const spread = spreadOf(model);
  const at = (p: number): number => model.p50 * Math.exp(hours.quantile(p, spread));
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
}

/**
 * Standard deviation of the logarithm of a log-normal range.
 * @throws RangeError unless 0 < P10 < P90
 * @example spreadOf({ p10: 1 / 1.8, p50: 1, p90: 1.8 }) // 0.459
 */
export function spreadOf({ p10, p90 }: Range): number {
  checkPositive("P10 of the hours", p10, "h");
  const spread = Math.log(p90 / p10) / (2 * Z90);
  checkPositive("spread of the hours", spread, "(log)");
  return spread;
}

function checkObservation({ needed: { least, most }, spread }: HoursObservation): void {
  checkPositive("most time needed", Math.min(most, Number.MAX_VALUE), "of the model's");
  checkRange("least time needed", least, 0, Math.min(most, Number.MAX_VALUE), "of the model's");
  checkPositive("spread of the hours", spread, "(log)");
}

function inLogs({ needed: { least, most }, spread }: HoursObservation) {
  const clipped = (value: number): number => Math.max(-MOST_LOG, Math.min(MOST_LOG, value));
  return {
    low: least > 0 ? clipped(Math.log(least)) : Number.NEGATIVE_INFINITY,
    high: Number.isFinite(most) ? clipped(Math.log(most)) : Number.POSITIVE_INFINITY,
    spread,
  };
}

function classHours(
  joint: Posterior,
  likelihood: Likelihood,
  own: readonly HoursObservation[],
): ClassHours {
  const { nodes, ofTheta, pooled } = drawnFrom(joint, likelihood);
  const cdf = (logRatio: number, spread: number): number => {
    checkPositive("spread of the hours", spread, "(log)");
    let share = 0;
    for (const { theta, c, weight } of nodes) {
      share += weight * normalCdf((logRatio - theta) / (c * spread));
    }
    return share;
  };
  return {
    runs: own.length,
    bounds: own.filter(({ needed }) => needed.least < needed.most).length,
    effectiveRuns: effectiveRuns(pooled, own),
    pooled,
    typical: factorRange(ofTheta),
    cdf,
    quantile: (p, spread) => inverse((x) => cdf(x, spread), p),
  };
}

/**
 * In the conjugate model n times known outright leave (s²/n) / (s²/n + d²) to the shop's mean; solved for n.
 * d is the spread between classes.
 */
function effectiveRuns(pooled: number, own: readonly HoursObservation[]): number {
  if (own.length === 0) return 0;
  const precision = own.reduce((sum, { spread }) => sum + 1 / spread ** 2, 0) / own.length;
  return (1 / pooled - 1) / (precision * BETWEEN_CLASSES ** 2);
}

function factorRange(logFactor: Weighted): Range {
  const at = (p: number): number => Math.exp(quantileOf(logFactor, p));
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
}

/** Far enough out that no quantile asked for lies beyond. */
const FARTHEST = 8;
const HALVINGS = 30;

/** x at which a rising function reaches p. */
function inverse(rising: (x: number) => number, p: number): number {
  checkRange("share", p, 1e-4, 1 - 1e-4, "(share)");
  let low = -FARTHEST;
  let high = FARTHEST;
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (low + high) / 2;
    if (rising(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
