import { describe, expect, it } from "vitest";
import { type AnodeScale, learnLossFactor } from "./weighings";

const PRIOR = { mean: 0.15, error: 0.15 };
const scale = (massG: number, mostLossG: number, errorG = 5): AnodeScale => ({
  massG,
  errorG,
  mostLossG,
});
const NEW = scale(2000, 0);

describe("the loss factor from weighings", () => {
  it("is the prior, cut off at 0 and 1, while nothing was weighed again", () => {
    const learned = learnLossFactor({ mean: 0.5, error: 0.05 }, [NEW]);
    expect(learned.mean).toBeCloseTo(0.5, 6);
    expect(learned.error).toBeCloseTo(0.05, 4);
    expect(learned.weighings).toBe(0);
    expect(learnLossFactor({ mean: 0.5, error: 0.05 }, []).mean).toBeCloseTo(0.5, 6);
    expect(learnLossFactor(PRIOR, [NEW]).mean).toBeGreaterThan(0.18);
  });

  it("is loss over what the charge could have taken, where the scale is fine", () => {
    const { mean, error, quantile, weighings } = learnLossFactor(PRIOR, [NEW, scale(1800, 1000)]);
    expect(mean).toBeCloseTo(0.2, 3);
    // Two readings of a scale off by 5 g, over 1000 g.
    expect(error).toBeCloseTo(Math.hypot(5, 5) / 1000, 4);
    expect(quantile(0.9) - quantile(0.5)).toBeCloseTo(1.2816 * error, 4);
    expect(weighings).toBe(1);
  });

  it("weighs the prior against a coarse scale by the inverse squares of their errors", () => {
    const { mean, error } = learnLossFactor({ mean: 0.6, error: 0.05 }, [
      scale(2000, 0, 6),
      scale(1960, 100, 8),
    ]);
    // By hand: 0.4 ± 0.1 from the scale, 0.6 ± 0.05 before.
    expect(mean).toBeCloseTo((0.4 * 100 + 0.6 * 400) / 500, 4);
    expect(error).toBeCloseTo(1 / Math.sqrt(500), 4);
  });

  it("takes all weighings together: a slip in the middle one hardly shows", () => {
    const straight = [NEW, scale(1900, 500), scale(1800, 1000)];
    const slipped = [NEW, scale(1915, 500), scale(1800, 1000)];
    expect(learnLossFactor(PRIOR, straight).mean).toBeCloseTo(0.2, 3);
    expect(learnLossFactor(PRIOR, slipped).mean).toBeCloseTo(0.2, 3);
    expect(learnLossFactor(PRIOR, straight).error).toBeCloseTo(
      learnLossFactor(PRIOR, [NEW, scale(1800, 1000)]).error,
      4,
    );
  });

  it("heeds the better scale more", () => {
    const mixed = [scale(2000, 0, 1), scale(1700, 500, 100), scale(1800, 1000, 1)];
    expect(learnLossFactor(PRIOR, mixed).mean).toBeCloseTo(0.2, 2);
  });

  it("stays within 0 and 1, whatever the scale says", () => {
    const heavier = learnLossFactor(PRIOR, [NEW, scale(2100, 500)]);
    expect(heavier.quantile(0.01)).toBeGreaterThanOrEqual(0);
    expect(heavier.mean).toBeGreaterThan(0);
    expect(heavier.mean).toBeLessThan(0.01);
    const flaked = learnLossFactor(PRIOR, [NEW, scale(1000, 500)]);
    expect(flaked.quantile(0.99)).toBeLessThanOrEqual(1);
    expect(flaked.mean).toBeGreaterThan(0.99);
  });

  it("learns nothing where no charge passed", () => {
    const idle = learnLossFactor(PRIOR, [NEW, scale(1990, 0)]);
    expect(idle.mean).toBeCloseTo(learnLossFactor(PRIOR, [NEW]).mean, 9);
  });

  it("refuses what is out of range, naming it", () => {
    expect(() => learnLossFactor({ mean: 1.1, error: 0.1 }, [NEW])).toThrow(/prior loss factor/);
    expect(() => learnLossFactor({ mean: 0.1, error: 0 }, [NEW])).toThrow(/error of the prior/);
    expect(() => learnLossFactor(PRIOR, [scale(0, 0)])).toThrow(/mass of the anode/);
    expect(() => learnLossFactor(PRIOR, [scale(1, 0, 0)])).toThrow(/error of the scale/);
    expect(() => learnLossFactor(PRIOR, [scale(1, -1)])).toThrow(/loss at a loss factor of 1/);
  });
});
