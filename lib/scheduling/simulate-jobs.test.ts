import { describe, expect, it } from "vitest";
import { wilson } from "./simulate-chance";
import { meanOfPlays, shareOfClusters } from "./simulate-jobs";

describe("shareOfClusters", () => {
  const repeated = (times: number, ...plays: { tries: number; hits: number }[]) =>
    Array.from({ length: times }, () => plays).flat();

  it("is Wilson's interval where jobs are as independent as can be", () => {
    const plays = repeated(20, { tries: 1, hits: 1 }, { tries: 1, hits: 0 });
    expect(shareOfClusters(plays)).toEqual(wilson(20, 40));
  });

  it("counts jobs that are late together as one", () => {
    const plays = repeated(10, { tries: 5, hits: 5 }, { tries: 5, hits: 0 });
    const { low, high } = wilson(10, 20);
    expect(shareOfClusters(plays)?.low).toBeCloseTo(low, 12);
    expect(shareOfClusters(plays)?.high).toBeCloseTo(high, 12);
  });

  it("counts each play once where all were kept, and says nothing of none", () => {
    expect(shareOfClusters(repeated(12, { tries: 9, hits: 9 }))).toEqual(wilson(12, 12));
    expect(shareOfClusters(repeated(3, { tries: 0, hits: 0 }))).toBeNull();
  });
});

describe("meanOfPlays", () => {
  it("has the interval of a mean", () => {
    const { mean, low, high } = meanOfPlays(Float64Array.of(1, 2, 3, 4)) ?? {};
    expect(mean).toBe(2.5);
    // Deviation 1.2910, of the mean 0.6455, times 1.96.
    expect(low).toBeCloseTo(2.5 - 1.2652, 4);
    expect(high).toBeCloseTo(2.5 + 1.2652, 4);
  });

  it("has none of a single play, and nothing where a play has no value", () => {
    expect(meanOfPlays(Float64Array.of(3))).toEqual({ mean: 3, low: 3, high: 3 });
    expect(meanOfPlays(Float64Array.of(3, Number.NaN))).toBeNull();
  });
});
