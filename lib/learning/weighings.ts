import { checkNonNegative, checkPositive, checkRange } from "@/lib/units";
import { deviationOf, meanOf, quantileOf, spaced, weighted } from "./weighted";

/** What the scale said of one anode, and how much it could have lost since it was hung. */
export type AnodeScale = {
  readonly massG: number;
  /** standard error of the scale, g, above 0 */
  readonly errorG: number;
  /** g that the charge since it was hung dissolves at φ = 1 (Faraday's law), 0 and up */
  readonly mostLossG: number;
};

export type LossFactor = {
  /** φ, share of the charge that dissolves iron, 0 to 1 */
  readonly mean: number;
  readonly error: number;
};

export type LearnedLossFactor = LossFactor & {
  /** φ below which it lies with probability p */
  readonly quantile: (p: number) => number;
  /** weighings since it was hung */
  readonly weighings: number;
};

/** Nodes of φ, and how many standard deviations of the untruncated normal they reach either way. */
const NODES = 241;
const REACH = 6;

/**
 * φ of an anode from all of its weighings at once, the first included.
 *
 *   m_i = M − φ·L_i + ε_i,  ε_i ~ N(0, e_i²),  φ ~ N(prior), within 0 to 1,  M unknown
 *
 * The true mass M when it was hung is eliminated by weighted least squares, so that an error of one weighing is not
 * counted once for the span before it and once for the span after. The posterior of φ is then a normal cut off at 0
 * and 1; its mean, error and percentiles are summed over a grid.
 *
 * Left out: φ that changes while the anode hangs, and the error of the charge. What is learned is therefore φ over the
 * charge as this shop's readings count it, which is what its forecasts use.
 *
 * @param scales the weighing when it was hung (`mostLossG` 0) and those since, at least one
 * @throws RangeError naming the figure that is out of range
 * @example learnLossFactor({ mean: 0.15, error: 0.15 }, [{ massG: 2000, errorG: 5, mostLossG: 0 },
 *   { massG: 1800, errorG: 5, mostLossG: 1000 }]).mean // 0.20
 */
export function learnLossFactor(
  prior: LossFactor,
  scales: readonly AnodeScale[],
): LearnedLossFactor {
  checkRange("prior loss factor", prior.mean, 0, 1, "(share)");
  checkPositive("error of the prior loss factor", prior.error, "(share)");
  for (const scale of scales) checkScale(scale);
  const { slope, precision } = slopeOf(scales);
  const priorPrecision = 1 / prior.error ** 2;
  const total = priorPrecision + precision;
  const middle = (prior.mean * priorPrecision + slope) / total;
  const deviation = 1 / Math.sqrt(total);
  const inside = Math.min(1, Math.max(0, middle));
  const nodes = spaced(
    Math.max(0, inside - REACH * deviation),
    Math.min(1, inside + REACH * deviation),
    NODES,
  );
  const posterior = weighted(
    nodes,
    nodes.map((phi) => -0.5 * ((phi - middle) / deviation) ** 2),
  );
  return {
    mean: meanOf(posterior),
    error: deviationOf(posterior),
    quantile: (p) => quantileOf(posterior, p),
    weighings: Math.max(0, scales.length - 1),
  };
}

/** Weighted least squares of loss on L with the mass when new free: precision of φ, and φ times it. */
function slopeOf(scales: readonly AnodeScale[]): { slope: number; precision: number } {
  const weights = scales.map(({ errorG }) => 1 / errorG ** 2);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  if (total === 0) return { slope: 0, precision: 0 };
  const mean = (value: (scale: AnodeScale) => number): number =>
    scales.reduce((sum, scale, at) => sum + (weights[at] ?? 0) * value(scale), 0) / total;
  const meanMass = mean(({ massG }) => massG);
  const meanLoss = mean(({ mostLossG }) => mostLossG);
  const precision = total * mean(({ mostLossG }) => (mostLossG - meanLoss) ** 2);
  const slope =
    -total * mean(({ massG, mostLossG }) => (massG - meanMass) * (mostLossG - meanLoss));
  return { slope, precision };
}

function checkScale({ massG, errorG, mostLossG }: AnodeScale): void {
  checkPositive("mass of the anode", massG, "g");
  checkPositive("error of the scale", errorG, "g");
  checkNonNegative("loss at a loss factor of 1", mostLossG, "g");
}
