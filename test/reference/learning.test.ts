/** The learning's arithmetic against outside figures and closed forms. */
import { describe, expect, it } from "vitest";
import { countedShare, learnHours } from "@/lib/learning";
import { normalCdf } from "@/lib/learning/normal";

describe("the normal distribution", () => {
  // Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1 (from memory).
  it.each([
    [0, 0.5],
    [0.5, 0.6914624613],
    [1, 0.8413447461],
    [1.96, 0.9750021049],
    [-1, 0.1586552539],
    [-3, 0.001349898],
    [-5, 2.866515719e-7],
  ])("P(%d) is %d", (z, probability) => {
    expect(normalCdf(z) / probability).toBeCloseTo(1, 6);
  });

  it("ends at 0 and 1", () => {
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
  });
});

/**
 * The normal-inverse-gamma update and its Student t prediction in closed form: K. P. Murphy, Conjugate Bayesian
 * analysis of the Gaussian distribution, 2007 (from memory).
 *
 *   κₙ = κ₀ + n, mₙ = n·ȳ/κₙ, aₙ = a₀ + n/2, bₙ = b₀ + ½Σ(y − ȳ)² + κ₀·n·ȳ²/2κₙ,  t_{2aₙ}(mₙ, bₙ(κₙ + 1)/(aₙκₙ))
 *
 * One class alone: shop's and class's spread join to the prior of its mean. Its t quantiles are of the usual table.
 */
describe("hours learned without bounds are Student's t", () => {
  const [shape, rate, between] = [4, 2.4, 0.25 ** 2 + 0.2 ** 2];

  function closedForm(logs: readonly number[], spread: number) {
    const n = logs.length;
    const prior = spread ** 2 / between;
    const mean = n === 0 ? 0 : logs.reduce((sum, y) => sum + y, 0) / n;
    const squares = logs.reduce((sum, y) => sum + ((y - mean) / spread) ** 2, 0);
    const kappa = prior + n;
    const a = shape + n / 2;
    const b = rate + squares / 2 + (prior * n * (mean / spread) ** 2) / (2 * kappa);
    return {
      centre: (n * mean) / kappa,
      scale: spread * Math.sqrt((b * (kappa + 1)) / (a * kappa)),
      freedom: 2 * a,
    };
  }

  // Degrees of freedom, t at 0.90, 0.95, 0.975: any table of Student's t, e.g. NIST/SEMATECH e-Handbook 1.3.6.7.2.
  it.each([
    ["nothing", [], 8, [1.397, 1.86, 2.306]],
    ["four runs", [0.1, 0.5, -0.2, 0.3], 12, [1.356, 1.782, 2.179]],
    [
      "twelve runs",
      [0.3, 0.4, 0.1, 0.6, 0.2, 0.3, 0.5, 0.1, 0.4, 0.2, 0.3, 0.9],
      20,
      [1.325, 1.725, 2.086],
    ],
  ] as const)("after %s", (_name, logs, freedom, [t90, t95, t975]) => {
    const spread = 0.45;
    const { centre, scale, freedom: own } = closedForm(logs, spread);
    expect(own).toBe(freedom);
    const { quantile } = learnHours(
      logs.map((y) => ({
        classKey: "A",
        needed: { least: Math.exp(y), most: Math.exp(y) },
        spread,
      })),
    ).of("A");
    expect((quantile(0.5, spread) - centre) / scale).toBeCloseTo(0, 3);
    expect((quantile(0.9, spread) - centre) / scale).toBeCloseTo(t90, 2);
    expect((quantile(0.95, spread) - centre) / scale).toBeCloseTo(t95, 2);
    expect((quantile(0.975, spread) - centre) / scale).toBeCloseTo(t975, 2);
    expect((quantile(0.1, spread) - centre) / scale).toBeCloseTo(-t90, 2);
  });
});

describe("Wilson's score interval", () => {
  // R. G. Newcombe, Statistics in Medicine 17, 857 (1998), table I (from memory).
  it.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])("of %i in %i", (hits, of, low, high) => {
    const share = countedShare(hits, of);
    expect(share.low).toBeCloseTo(low, 4);
    expect(share.high).toBeCloseTo(high, 4);
  });
});
