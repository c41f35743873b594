import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hourSteps, stepOf } from "./hour-steps";

describe("the legend of hours", () => {
  it("cuts between what a tenth of the area is under and over, in equal ratios", () => {
    const hours = Array.from({ length: 101 }, (_, place) => 2 ** (place / 10));
    const { breaks, words } = hourSteps(
      hours,
      hours.map(() => 1),
    );
    expect(breaks).toEqual([2, 13, 81, 510]);
    expect(words).toEqual([
      "clean within 2 h",
      "2 to 13 h",
      "13 to 81 h",
      "81 to 510 h",
      "over 510 h",
    ]);
  });

  it("counts area, not places, and does not stretch for what never comes clean", () => {
    const { breaks } = hourSteps([1, 4, 8, Infinity], [0.001, 1, 1, 0.001]);
    expect(breaks[0]).toBe(4);
    expect(breaks.at(-1)).toBe(8);
    expect(stepOf(Infinity, breaks)).toBe(breaks.length);
  });

  it("has fewer steps where all is nearly alike, and says so where nothing is known", () => {
    expect(hourSteps([3, 3], [1, 1])).toEqual({
      breaks: [3],
      words: ["clean within 3 h", "over 3 h"],
    });
    expect(hourSteps([3.3, 3.4, 3.5], [1, 1, 1]).breaks).toEqual([3.3]);
    expect(hourSteps([Infinity], [1]).words).toEqual(["not worked out"]);
  });

  it("gives every place a step that its words hold", () => {
    const places = fc.array(fc.double({ min: 0.01, max: 1e5, noNaN: true }), { minLength: 1 });
    fc.assert(
      fc.property(places, (hours) => {
        const { breaks, words } = hourSteps(
          hours,
          hours.map(() => 1),
        );
        expect(words).toHaveLength(breaks.length + 1);
        expect([...breaks].sort((a, b) => a - b)).toEqual(breaks);
        for (const value of hours) {
          const step = stepOf(value, breaks);
          expect(value).toBeLessThanOrEqual(breaks[step] ?? Infinity);
          expect(value).toBeGreaterThan(breaks[step - 1] ?? 0);
        }
      }),
    );
  });
});
