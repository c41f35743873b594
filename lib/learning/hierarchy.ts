/**
 * The posterior of the hours' model (`learnHours` states it) summed over a grid of the shop's mean μ, the scale c and
 * each class's mean θ. Given μ and c the classes are independent, so that each is summed over its own θ alone.
 */
import { normalCdf } from "./normal";
import { spaced, type Weighted } from "./weighted";

/** Prior, all assumption: spreads over c between shops and between a shop's classes; shape and rate of c²'s gamma. */
const BETWEEN_SHOPS = 0.25;
export const BETWEEN_CLASSES = 0.2;
const SCALE_SHAPE = 4;
const SCALE_RATE = 2.4;

const STEP = 0.025;
/** Every second node of θ is one of μ, so that the kernel between them depends on the distance in nodes alone. */
const STRIDE = 2;
const THETA = spaced(-2, 2, 161);
export const MU = spaced(-1.5, 1.5, 61);
/** First node of μ, counted in nodes of θ. */
const MU_OFFSET = 20;
const LOG_C = spaced(Math.log(0.25), Math.log(2.5), 25);
const C = LOG_C.map(Math.exp);
/** Nodes of less weight are left out of predictions: together they weigh nothing that shows. */
const LEAST_WEIGHT = 1e-7;
const LEAST_PROBABILITY = 1e-300;

/** log(needed / model) lies from low to high. */
type Interval = { readonly low: number; readonly high: number; readonly spread: number };

/** Likelihood of one class's runs: for each c, each θ, over `scale`'s exponential. */
export type Likelihood = {
  readonly ofC: readonly Float64Array[];
  readonly logScale: readonly number[];
};

export type Posterior = {
  /** P(μ) */
  readonly ofMu: readonly number[];
  /** P(μ, c): for each c, each μ */
  readonly ofC: readonly Float64Array[];
};

/** One way the world may be for a class, and its probability. */
type Node = { readonly theta: number; readonly c: number; readonly weight: number };

const KERNELS = C.map(kernelOf);

/** N(θ − μ; 0, (d·c)²) by distance in nodes, normalised over an endless grid. */
function kernelOf(c: number): Float64Array {
  const deviation = BETWEEN_CLASSES * c;
  const kernel = new Float64Array(THETA.length);
  for (let distance = 0; distance < kernel.length; distance += 1) {
    const z = (distance * STEP) / deviation;
    kernel[distance] = (Math.exp(-0.5 * z * z) * STEP) / (deviation * Math.sqrt(2 * Math.PI));
  }
  return kernel;
}

export function classLikelihood(runs: readonly Interval[]): Likelihood {
  const logScale: number[] = [];
  const ofC = C.map((c) => {
    const logs = THETA.map((theta) =>
      runs.reduce((sum, run) => sum + logProbability(run, theta, c), 0),
    );
    const most = Math.max(...logs);
    logScale.push(most);
    return Float64Array.from(logs, (log) => Math.exp(log - most));
  });
  return { ofC, logScale };
}

/** Of a class that has no runs: every θ does as well. */
export function likelihoodOfNothing(): Likelihood {
  return classLikelihood([]);
}

function logProbability({ low, high, spread }: Interval, theta: number, c: number): number {
  const deviation = c * spread;
  if (low === high) {
    const z = (low - theta) / deviation;
    return -0.5 * z * z - Math.log(deviation);
  }
  // Seen from the side on which both ends are in the lower tail, where the difference keeps its digits.
  const [a, b] = [(low - theta) / deviation, (high - theta) / deviation];
  const mass = a > 0 ? normalCdf(-a) - normalCdf(-b) : normalCdf(b) - normalCdf(a);
  return Math.log(Math.max(mass, LEAST_PROBABILITY));
}

/** Joins the classes with the prior. */
export function posterior(classes: readonly Likelihood[]): Posterior {
  const logs = C.map((c, index) =>
    Float64Array.from(MU, (mu, at) => {
      const own = classes.map(
        (one) => Math.log(evidence(one, index, at)) + (one.logScale[index] ?? 0),
      );
      return logPrior(mu, c) + own.reduce((sum, value) => sum + value, 0);
    }),
  );
  const most = Math.max(...logs.map((row) => Math.max(...row)));
  const raw = logs.map((row) => row.map((value) => Math.exp(value - most)));
  const total = raw.reduce((sum, row) => sum + row.reduce((part, value) => part + value, 0), 0);
  const ofC = raw.map((row) => row.map((value) => value / total));
  const ofMu = MU.map((_, at) => ofC.reduce((sum, row) => sum + (row[at] ?? 0), 0));
  return { ofMu, ofC };
}

/** Of μ and log c: the inverse gamma of c², turned to the logarithm that the grid steps in. */
function logPrior(mu: number, c: number): number {
  const z = mu / (BETWEEN_SHOPS * c);
  return -0.5 * z * z - Math.log(c) - 2 * SCALE_SHAPE * Math.log(c) - SCALE_RATE / (c * c);
}

/** Σ over θ of likelihood × kernel, never below the smallest number a logarithm takes. */
function evidence(one: Likelihood, cIndex: number, muIndex: number): number {
  const likelihood = one.ofC[cIndex];
  const kernel = KERNELS[cIndex];
  if (!likelihood || !kernel) return LEAST_PROBABILITY;
  const centre = MU_OFFSET + STRIDE * muIndex;
  let sum = 0;
  for (let at = 0; at < likelihood.length; at += 1) {
    sum += (likelihood[at] ?? 0) * (kernel[Math.abs(at - centre)] ?? 0);
  }
  return Math.max(sum, LEAST_PROBABILITY);
}

/** What the posterior says of one class: its nodes, its θ, and how much of it is the shop's mean's. */
export function drawnFrom(
  joint: Posterior,
  one: Likelihood,
): { readonly nodes: readonly Node[]; readonly ofTheta: Weighted; readonly pooled: number } {
  const nodes: Node[] = [];
  const ofTheta = new Float64Array(THETA.length);
  let pooled = 0;
  for (const [cIndex, c] of C.entries()) {
    const { weights, left } = mixedOverMu(joint, one, cIndex);
    pooled += left / (BETWEEN_CLASSES * c) ** 2;
    for (const [at, theta] of THETA.entries()) {
      const weight = weights[at] ?? 0;
      ofTheta[at] = (ofTheta[at] ?? 0) + weight;
      if (weight > LEAST_WEIGHT) nodes.push({ theta, c, weight });
    }
  }
  const kept = nodes.reduce((sum, { weight }) => sum + weight, 0);
  return {
    nodes: nodes.map((node) => ({ ...node, weight: node.weight / kept })),
    ofTheta: { nodes: THETA, weights: [...ofTheta] },
    pooled: Math.min(1, pooled),
  };
}

/** P(θ, c) for one c, and the variance of θ given μ, weighted by P(μ, c). */
function mixedOverMu(
  joint: Posterior,
  one: Likelihood,
  cIndex: number,
): { readonly weights: Float64Array; readonly left: number } {
  const weights = new Float64Array(THETA.length);
  let left = 0;
  const [ofMu, likelihood, kernel] = [joint.ofC[cIndex], one.ofC[cIndex], KERNELS[cIndex]];
  if (!ofMu || !likelihood || !kernel) return { weights, left };
  for (const [muIndex, probability] of ofMu.entries()) {
    if (probability < LEAST_WEIGHT / 100) continue;
    const scale = probability / evidence(one, cIndex, muIndex);
    const centre = MU_OFFSET + STRIDE * muIndex;
    let [sum, first, second] = [0, 0, 0];
    for (let at = 0; at < THETA.length; at += 1) {
      const theta = THETA[at] ?? 0;
      const weight = scale * (likelihood[at] ?? 0) * (kernel[Math.abs(at - centre)] ?? 0);
      weights[at] = (weights[at] ?? 0) + weight;
      sum += weight;
      first += weight * theta;
      second += weight * theta * theta;
    }
    if (sum > 0) left += second - (first * first) / sum;
  }
  return { weights, left };
}
