import { describe, expect, it } from "vitest";
import { usualCurrent } from "./usual-current";

describe("usualCurrent", () => {
  it("is the plan with the closed form's error in a new tank", () => {
    const { lnRatio, errorLog } = usualCurrent([]);
    expect(lnRatio).toBe(0);
    expect(errorLog).toBeCloseTo(Math.hypot(0.25, 0.1), 9);
  });

  it("weighs one run against the plan by their variances", () => {
    // 0.25² against 0.1²: the run has 0.0625/0.0725 of the weight.
    const { lnRatio, errorLog } = usualCurrent([1.4]);
    expect(lnRatio).toBeCloseTo((0.0625 / 0.0725) * Math.log(1.4), 9);
    expect(errorLog).toBeCloseTo(Math.sqrt((0.0625 * 0.01) / 0.0725 + 0.01), 9);
  });

  it("averages two, and takes the middle of more, so that one bad run does not count", () => {
    const two = usualCurrent([1, 4]);
    expect(two.lnRatio).toBeCloseTo((0.0625 / (0.0625 + 0.005)) * Math.log(2), 9);
    const weight = 0.0625 / (0.0625 + (0.01 * Math.PI) / 6);
    expect(usualCurrent([1.2, 0.1, 1.3]).lnRatio).toBeCloseTo(weight * Math.log(1.2), 9);
    const four = usualCurrent([1.2, 0.1, 1.3, 1.2]);
    expect(four.lnRatio).toBeCloseTo((0.0625 / (0.0625 + (0.01 * Math.PI) / 8)) * Math.log(1.2), 9);
  });

  it("never gets surer than runs differ from each other", () => {
    const many = usualCurrent(Array.from({ length: 500 }, () => 1));
    expect(many.errorLog).toBeGreaterThan(0.1);
    expect(many.errorLog).toBeLessThan(0.101);
  });

  it.each([[0], [-1], [Number.NaN], [Number.POSITIVE_INFINITY]])(
    "refuses a ratio of %d",
    (ratio) => {
      expect(() => usualCurrent([1, ratio])).toThrow(
        "measured over planned current must be above 0",
      );
    },
  );
});
