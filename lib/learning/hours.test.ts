import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type HoursObservation, learnedRange, learnHours, spreadOf, USUAL_SPREAD } from "./hours";

const S = USUAL_SPREAD;
/** A part of class `classKey` that needed from `least` to `most` times the model's hours. */
const run = (
  classKey: string,
  least: number,
  most = least,
  spread: number = S,
): HoursObservation => ({ classKey, needed: { least, most }, spread });
const times = (count: number, make: (index: number) => HoursObservation) =>
  Array.from({ length: count }, (_, index) => make(index));
const median = (runs: readonly HoursObservation[], key = "A") =>
  Math.exp(learnHours(runs).of(key).quantile(0.5, S));

describe("hours learned from nothing", () => {
  it("are the model's, about as wide as it says itself", () => {
    const empty = learnHours([]);
    const range = learnedRange(empty.of("A"), { p10: 4 / 1.8, p50: 4, p90: 4 * 1.8 });
    expect(range.p50).toBeCloseTo(4, 3);
    expect(range.p90 / range.p50).toBeGreaterThan(1.75);
    expect(range.p90 / range.p50).toBeLessThan(1.95);
    expect(range.p50 / range.p10).toBeCloseTo(range.p90 / range.p50, 3);
    expect(empty.of("A")).toMatchObject({ runs: 0, bounds: 0, effectiveRuns: 0 });
    expect(empty.of("A").pooled).toBeCloseTo(1, 3);
    expect(empty).toMatchObject({ runs: 0, classKeys: [] });
  });
});

describe("hours learned from runs", () => {
  it("move to where the runs are, and narrow where they agree", () => {
    const slow = learnHours(times(30, (index) => run("A", 1.5 + 0.1 * Math.sin(index))));
    const range = learnedRange(slow.of("A"), { p10: 4 / 1.8, p50: 4, p90: 4 * 1.8 });
    expect(range.p50 / 4).toBeGreaterThan(1.4);
    expect(range.p50 / 4).toBeLessThan(1.52);
    expect(range.p90 / range.p50).toBeLessThan(1.4);
    expect(slow.shop.p50).toBeGreaterThan(1.2);
    expect(slow.classKeys).toEqual(["A"]);
  });

  it("widen where the runs scatter more than the model says", () => {
    const wild = learnHours(times(40, (index) => run("A", index % 2 ? 3 : 1 / 3)));
    expect(Math.exp(wild.of("A").quantile(0.9, S))).toBeGreaterThan(3);
    expect(Math.exp(wild.of("A").quantile(0.5, S))).toBeCloseTo(1, 2);
  });

  it("lend the shop's mean to a class without runs, and less of it to one with its own", () => {
    const runs = ["A", "B", "C", "D"].flatMap((key) => times(10, () => run(key, 1.5)));
    const learned = learnHours([...runs, run("E", 0.8)]);
    const fresh = Math.exp(learned.of("F").quantile(0.5, S));
    const own = Math.exp(learned.of("E").quantile(0.5, S));
    expect(fresh).toBeGreaterThan(1.2);
    expect(fresh).toBeLessThan(1.45);
    expect(own).toBeLessThan(fresh);
    expect(own).toBeGreaterThan(1);
    const { pooled } = learned.of("A");
    expect(pooled).toBeLessThan(learned.of("E").pooled);
    expect(learned.of("E").pooled).toBeLessThan(learned.of("F").pooled);
  });

  it("trust a part whose hours the model knows well more than one it knows badly", () => {
    const known = [run("A", 2, 2, 0.3), run("A", 0.5, 0.5, 0.9)];
    expect(median(known)).toBeGreaterThan(1.1);
    const swapped = [run("A", 2, 2, 0.9), run("A", 0.5, 0.5, 0.3)];
    expect(median(swapped)).toBeLessThan(0.9);
  });

  it("give one spread range its own width", () => {
    const { quantile } = learnHours(times(20, () => run("A", 1))).of("A");
    expect(quantile(0.9, 0.8)).toBeGreaterThan(1.5 * quantile(0.9, 0.4));
  });

  it("let a run forgotten over a holiday count as no more than e² times the model", () => {
    const runs = times(5, () => run("A", 1));
    expect(median([...runs, run("A", 400)])).toBeCloseTo(
      median([...runs, run("A", Math.E ** 2)]),
      9,
    );
    expect(median([...runs, run("A", 0.001)])).toBeCloseTo(
      median([...runs, run("A", Math.E ** -2)]),
      9,
    );
  });
});

describe("runs known by a bound", () => {
  it("put back in: move the hours up, the more so the longer it was in", () => {
    const none = median([]);
    const short = median(times(3, () => run("A", 0.5, Number.POSITIVE_INFINITY)));
    const long = median(times(3, () => run("A", 2, Number.POSITIVE_INFINITY)));
    expect(short).toBeGreaterThan(none);
    expect(long).toBeGreaterThan(short);
    // Longer than twice the model each time: more than a time known outright of less than that would say.
    expect(long).toBeGreaterThan(median(times(3, () => run("A", 1.5))));
  });

  it("pulled late: move the hours down, and hardly when it was very late", () => {
    const early = median(times(3, () => run("A", 0, 0.7)));
    const late = median(times(3, () => run("A", 0, 4)));
    expect(early).toBeLessThan(late);
    expect(late).toBeGreaterThan(0.97);
    expect(late).toBeLessThan(1);
  });

  it("count, and tell less than a time known outright", () => {
    const bound = learnHours(times(6, () => run("A", 0, 1.2))).of("A");
    const outright = learnHours(times(6, () => run("A", 1))).of("A");
    expect(bound).toMatchObject({ runs: 6, bounds: 6 });
    expect(outright).toMatchObject({ runs: 6, bounds: 0 });
    expect(outright.effectiveRuns).toBeCloseTo(6, 2);
    expect(bound.effectiveRuns).toBeLessThan(4);
    expect(bound.effectiveRuns).toBeGreaterThan(0.5);
  });

  it("in a narrow interval are as good as known", () => {
    const near = learnHours(times(6, () => run("A", 1.29, 1.31))).of("A");
    const known = learnHours(times(6, () => run("A", 1.3))).of("A");
    expect(near.quantile(0.9, S)).toBeCloseTo(known.quantile(0.9, S), 3);
    expect(near.quantile(0.1, S)).toBeCloseTo(known.quantile(0.1, S), 3);
  });

  it("mirror each other: a bound from below and the same from above differ in sign alone", () => {
    const above = learnHours([run("A", 1.7, Number.POSITIVE_INFINITY)]).of("A");
    const below = learnHours([run("A", 0, 1 / 1.7)]).of("A");
    expect(above.quantile(0.9, S)).toBeCloseTo(-below.quantile(0.1, S), 5);
    expect(above.quantile(0.5, S)).toBeCloseTo(-below.quantile(0.5, S), 5);
  });

  it("far from everything else still give a finite answer", () => {
    const torn = [run("A", 0, 0.05), run("A", 20, Number.POSITIVE_INFINITY), run("A", 1)];
    const { quantile } = learnHours(torn).of("A");
    expect(quantile(0.1, S)).toBeGreaterThan(-4);
    expect(quantile(0.9, S)).toBeLessThan(4);
  });
});

describe("a prediction", () => {
  const anyRun = fc
    .record({
      classKey: fc.constantFrom("A", "B", "C"),
      a: fc.double({ min: 0.2, max: 5, noNaN: true }),
      b: fc.double({ min: 0.2, max: 5, noNaN: true }),
      spread: fc.double({ min: 0.2, max: 1, noNaN: true }),
    })
    .map(({ classKey, a, b, spread }) => run(classKey, Math.min(a, b), Math.max(a, b), spread));

  it("is a distribution, and its quantiles invert it, whatever the runs", () => {
    fc.assert(
      fc.property(fc.array(anyRun, { maxLength: 8 }), (runs) => {
        const { cdf, quantile } = learnHours(runs).of("A");
        const shares = [-6, -1, -0.2, 0, 0.3, 1, 6].map((x) => cdf(x, S));
        expect(shares).toEqual([...shares].sort((a, b) => a - b));
        expect(shares[0]).toBeLessThan(1e-3);
        expect(shares.at(-1)).toBeGreaterThan(0.999);
        expect(cdf(quantile(0.9, S), S)).toBeCloseTo(0.9, 6);
      }),
      { numRuns: 15 },
    );
  });

  it("does not hang on the order of the runs", () => {
    const runs = [run("A", 1.2), run("B", 0.7), run("A", 0, 2), run("C", 1, Infinity)];
    expect(median([...runs].reverse())).toBeCloseTo(median(runs), 9);
  });

  it("refuses what is out of range, naming it", () => {
    expect(() => learnHours([run("A", 2, 1)])).toThrow(/least time needed/);
    expect(() => learnHours([run("A", -0.1, 1)])).toThrow(/least time needed/);
    expect(() => learnHours([run("A", 0, 0)])).toThrow(/most time needed/);
    expect(() => learnHours([run("A", Infinity, Infinity)])).toThrow(/least time needed/);
    expect(() => learnHours([run("A", 1, 1, 0)])).toThrow(/spread of the hours/);
    expect(() => learnHours([]).of("A").quantile(0, S)).toThrow(/share/);
    expect(() => learnHours([]).of("A").quantile(1, S)).toThrow(/share/);
    expect(() => learnHours([]).of("A").cdf(0, 0)).toThrow(/spread of the hours/);
  });
});

describe("the spread of a range", () => {
  it("is that of the log-normal with these percentiles", () => {
    expect(spreadOf({ p10: 1 / 1.8, p50: 1, p90: 1.8 })).toBeCloseTo(0.4586, 4);
    expect(spreadOf({ p10: 1, p50: 3, p90: 4 })).toBeCloseTo(Math.log(4) / 2.5632, 6);
  });

  it("needs one", () => {
    expect(() => spreadOf({ p10: 0, p50: 1, p90: 2 })).toThrow(/P10 of the hours/);
    expect(() => spreadOf({ p10: 2, p50: 2, p90: 2 })).toThrow(/spread of the hours/);
  });
});
