import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { supplyFull } from "./supply-full";

describe("a supply's full stretches", () => {
  it("are those in which what draws leaves no room for the load", () => {
    const draws = [
      { fromMs: 0, untilMs: 10, currentA: 3 },
      { fromMs: 5, untilMs: 20, currentA: 4 },
      { fromMs: 20, untilMs: 30, currentA: 4 },
    ];
    expect(supplyFull(draws, 8, 2)).toEqual([{ fromMs: 5, untilMs: 10 }]);
    expect(supplyFull(draws, 8, 5)).toEqual([{ fromMs: 5, untilMs: 30 }]);
    expect(supplyFull(draws, 8, 1)).toEqual([]);
  });

  it("are none on an idle supply, also for a load that is too much for it alone", () => {
    expect(supplyFull([], 8, 20)).toEqual([]);
  });

  it("agree, minute for minute, with a sum over the loads", () => {
    const draw = fc
      .tuple(
        fc.integer({ min: 0, max: 40 }),
        fc.integer({ min: 1, max: 20 }),
        fc.integer({ min: 1, max: 6 }),
      )
      .map(([fromMs, lasts, currentA]) => ({ fromMs, untilMs: fromMs + lasts, currentA }));
    fc.assert(
      fc.property(
        fc.array(draw, { maxLength: 8 }),
        fc.integer({ min: 1, max: 6 }),
        (draws, own) => {
          const full = supplyFull(draws, 10, own);
          for (let at = 0; at < 61; at += 1) {
            const drawn = draws
              .filter(({ fromMs, untilMs }) => fromMs <= at && at < untilMs)
              .reduce((sum, { currentA }) => sum + currentA, 0);
            const isFull = drawn > 0 && drawn + own > 10;
            expect(full.some(({ fromMs, untilMs }) => fromMs <= at && at < untilMs)).toBe(isFull);
          }
        },
      ),
    );
  });
});
