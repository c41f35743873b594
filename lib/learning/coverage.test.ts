import { describe, expect, it } from "vitest";
import { countedShare, coverageOf, type Forecast } from "./coverage";

const foretold = { p10: 2, p50: 4, p90: 8 };
const took = (time: number): Forecast => ({ foretold, needed: { least: time, most: time } });

describe("coverage", () => {
  it("counts the bounds of a forecast as within it", () => {
    const coverage = coverageOf([1.9, 2, 3.9, 4, 4.1, 8, 8.1].map(took));
    expect(coverage?.inside).toMatchObject({ hits: 5, of: 7 });
    expect(coverage?.byP50).toMatchObject({ hits: 4, of: 7 });
    expect(coverage?.byP90).toMatchObject({ hits: 6, of: 7 });
    expect(coverage?.bounds).toBe(0);
  });

  it("leaves out what is known by a bound, and says how many", () => {
    const late: Forecast = { foretold, needed: { least: 0, most: 3 } };
    const again: Forecast = { foretold, needed: { least: 9, most: Number.POSITIVE_INFINITY } };
    const coverage = coverageOf([took(3), late, again]);
    expect(coverage?.byP90.of).toBe(1);
    expect(coverage?.bounds).toBe(2);
    expect(coverageOf([late, again])).toBeNull();
    expect(coverageOf([])).toBeNull();
  });
});

describe("a counted share", () => {
  it("stays within 0 and 1, also where all or none hit", () => {
    expect(countedShare(0, 5).low).toBe(0);
    expect(countedShare(0, 5).high).toBeGreaterThan(0.4);
    expect(countedShare(5, 5).high).toBe(1);
    expect(countedShare(5, 5).share).toBe(1);
  });

  it("refuses counts that cannot be", () => {
    expect(() => countedShare(0, 0)).toThrow(/cases counted/);
    expect(() => countedShare(6, 5)).toThrow(/hits/);
    expect(() => countedShare(-1, 5)).toThrow(/hits/);
  });
});
