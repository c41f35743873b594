import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CARE_EVERY_AH, CARES, careDue } from "./care";
import { meanWeek, weeksBand, weeksUntil, type WeeklyUse } from "./forecast";

const steady: WeeklyUse = { past: [20, 20, 20, 20], booked: [] };
const weeks = fc.array(fc.double({ min: 0, max: 200, noNaN: true }), { maxLength: 8 });

describe("weeks until an amount is used up", () => {
  it("go by what is usual where nothing is booked", () => {
    expect(weeksUntil(100, steady)).toBe(5);
    expect(weeksUntil(0, steady)).toBe(0);
    expect(weeksUntil(0, { past: [], booked: [] })).toBe(0);
  });

  it("go by the bookings where they are more, and by what is usual where they are less", () => {
    expect(weeksUntil(100, { past: [20, 20], booked: [60] })).toBe(3);
    expect(weeksUntil(100, { past: [20, 20], booked: [5, 60] })).toBe(3);
    expect(weeksUntil(30, { past: [20, 20], booked: [60] })).toBe(0.5);
    expect(weeksUntil(60, { past: [20, 20], booked: [60] })).toBe(1);
    expect(weeksUntil(60, { past: [], booked: [30, 30] })).toBe(2);
  });

  it("never come where nothing is usual and the bookings do not reach it", () => {
    expect(weeksUntil(61, { past: [0, 0], booked: [30, 30] })).toBe(Number.POSITIVE_INFINITY);
    expect(weeksUntil(1, { past: [], booked: [] })).toBe(Number.POSITIVE_INFINITY);
    expect(weeksUntil(1, { past: [], booked: [0, 0] })).toBe(Number.POSITIVE_INFINITY);
  });

  it("are more for more, and fewer with more booked", () => {
    fc.assert(
      fc.property(
        weeks,
        weeks,
        fc.double({ min: 0, max: 500, noNaN: true }),
        (past, booked, amount) => {
          const now = weeksUntil(amount, { past, booked });
          expect(weeksUntil(amount + 1, { past, booked })).toBeGreaterThanOrEqual(now);
          const more = booked.map((week) => week + 10);
          expect(weeksUntil(amount, { past, booked: more })).toBeLessThanOrEqual(now + 1e-9);
        },
      ),
    );
  });

  it("refuse what cannot be", () => {
    expect(() => weeksUntil(-1, steady)).toThrow(/amount left/);
    expect(() => weeksUntil(1, { past: [-1], booked: [] })).toThrow(/weekly use/);
    expect(() => weeksUntil(1, { past: [], booked: [Number.NaN] })).toThrow(/weekly use/);
    expect(() => weeksBand(1, steady, -0.1)).toThrow(/error of the amount left/);
  });
});

describe("the mean week", () => {
  it("has the error of a mean: s/√n, and a single week may be all wrong", () => {
    expect(meanWeek([10, 20, 30])).toEqual({ mean: 20, errorOfMean: 10 / Math.sqrt(3) });
    expect(meanWeek([10])).toEqual({ mean: 10, errorOfMean: 10 });
    expect(meanWeek([])).toEqual({ mean: 0, errorOfMean: 0 });
  });
});

describe("the band of weeks", () => {
  it("is one number where nothing is uncertain", () => {
    expect(weeksBand(100, steady, 0)).toEqual({ p10: 5, p50: 5, p90: 5 });
    expect(weeksBand(100, { past: [0], booked: [] }, 0)).toBeNull();
  });

  it("widens by both errors, as independent ones do", () => {
    const band = weeksBand(100, { past: [10, 20, 30], booked: [] }, 0.3);
    const spread = Math.exp(1.2816 * Math.hypot(0.3, 10 / Math.sqrt(3) / 20));
    expect(band?.p90).toBeCloseTo(5 * spread, 9);
    expect(band?.p10).toBeCloseTo(5 / spread, 9);
  });

  it("rests on the amount's own error where all is booked and nothing usual", () => {
    const band = weeksBand(40, { past: [], booked: [30, 30, 30] }, 0.1);
    const spread = Math.exp(0.12816);
    expect(band?.p10).toBeCloseTo(1 + (40 / spread - 30) / 30, 9);
    expect(band?.p50).toBeCloseTo(1 + 10 / 30, 9);
    expect(band?.p90).toBeCloseTo(1 + (40 * spread - 30) / 30, 9);
  });
});

describe("looking after a tank", () => {
  it.each(CARES)("%s is due when its charge has passed", (care) => {
    const every = CARE_EVERY_AH[care];
    expect(careDue(care, every, steady).weeks?.value).toBe(0);
    expect(careDue(care, every + 50, steady).weeks?.value).toBe(0);
    expect(careDue(care, every - 40, steady).weeks?.value).toBe(2);
    expect(careDue(care, 0, steady).weeks?.value).toBe(every / 20);
    expect(careDue(care, 7, steady).sinceAh).toBe(7);
  });

  it("has no date while no charge is usual or booked, and shows what it rests on", () => {
    expect(careDue("CLAMPS", 10, { past: [0, 0], booked: [] }).weeks).toBeNull();
    const { weeks: due } = careDue("CLAMPS", 10, { past: [20, 40], booked: [5, 6, 7] });
    expect(due?.inputs.map(({ value }) => value)).toEqual([CARE_EVERY_AH.CLAMPS, 10, 30, 18]);
    expect(due?.low).toBeLessThan(due?.value ?? 0);
    expect(due?.high).toBeGreaterThan(due?.value ?? 0);
    expect(() => careDue("CLAMPS", -1, steady)).toThrow(/charge since it was last done.*A·h/);
  });
});
