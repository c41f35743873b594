import { describe, expect, it } from "vitest";
import { Chance, checkSpread, hoursAt, wilson } from "./simulate-chance";

const draws = (chance: Chance, count: number, draw: (chance: Chance) => number): number[] =>
  Array.from({ length: count }, () => draw(chance));
const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

describe("Chance", () => {
  it("draws the same for the same numbers and something else for any other", () => {
    const uniform = (...numbers: number[]): number[] =>
      draws(new Chance(...numbers), 5, (chance) => chance.uniform());
    expect(uniform(7, 12)).toEqual(uniform(7, 12));
    const others = [uniform(7, 12), uniform(7, 13), uniform(12, 7), uniform(8, 12), uniform(7)];
    expect(new Set(others.flat()).size).toBe(25);
  });

  it("is even, also over the first draws of many streams", () => {
    const firsts = Array.from({ length: 20_000 }, (_, play) => new Chance(1, play).uniform());
    for (const tenth of [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]) {
      const inside = firsts.filter((value) => Math.floor(10 * value) === tenth).length;
      expect(Math.abs(inside - 2000)).toBeLessThan(170); // 4 standard deviations of a binomial
    }
  });

  it("has a normal with mean 0 and deviation 1, and an exponential with mean 1", () => {
    const normal = draws(new Chance(3), 40_000, (chance) => chance.normal());
    expect(mean(normal)).toBeCloseTo(0, 1);
    expect(mean(normal.map((z) => z * z))).toBeCloseTo(1, 1);
    expect(mean(draws(new Chance(4), 40_000, (chance) => chance.exponential()))).toBeCloseTo(1, 1);
  });
});

describe("checkSpread", () => {
  it.each([
    [0, 4],
    [Number.NaN, 4],
    [5, 4],
    [4, Number.POSITIVE_INFINITY],
  ])("refuses P50 %d with P90 %d", (p50Hours, p90Hours) => {
    expect(() => checkSpread("load a", { p50Hours, p90Hours })).toThrow(/load a/);
  });

  it("takes hours that are certain", () => {
    const spread = { p50Hours: 4, p90Hours: 4 };
    checkSpread("load a", spread);
    expect(hoursAt(spread, 3)).toBe(4);
  });
});

describe("wilson", () => {
  it("refuses more hits than tries, and no tries", () => {
    expect(() => wilson(3, 2)).toThrow(RangeError);
    expect(() => wilson(0, 0)).toThrow(RangeError);
  });

  it("stays within 0 to 1", () => {
    expect(wilson(0, 20).low).toBeCloseTo(0, 12);
    expect(wilson(20, 20).high).toBeCloseTo(1, 12);
    expect(wilson(20, 20).low).toBeLessThan(0.9);
  });
});
