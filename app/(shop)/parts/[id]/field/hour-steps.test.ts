import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hourSteps, hoursWords, onScale, stepOf, stepWords, TONES } from "./hour-steps";

/** Relative luminance of a colour, 0 to 1 (WCAG 2.2). */
function luminance(rgb: readonly number[]): number {
  const [r = 0, g = 0, b = 0] = rgb.map((value) =>
    value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4,
  );
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
const channels = (hex: string): number[] =>
  [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);

/** Machado, Oliveira & Fernandes 2009, severity 1 (from memory). */
const SIGHT = {
  protanopia: [
    0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998,
  ],
  deuteranopia: [
    0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881,
  ],
  tritanopia: [
    1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039,
  ],
} as const;

const UNCHANGED = [1, 0, 0, 0, 1, 0, 0, 0, 1];

function seenAs(matrix: readonly number[], colour: string): number {
  const rgb = channels(colour);
  return luminance(
    [0, 1, 2].map((row) =>
      Math.min(
        1,
        Math.max(
          0,
          rgb.reduce((sum, value, at) => sum + (matrix[3 * row + at] ?? 0) * value, 0),
        ),
      ),
    ),
  );
}

describe("the tones of the hours", () => {
  it.each(Object.entries({ usual: UNCHANGED, ...SIGHT }))(
    "grow darker step by step, with room between, to %s sight",
    (_, matrix) => {
      const seen = TONES.map((colour) => seenAs(matrix, colour));
      seen.slice(1).forEach((dark, index) => {
        expect(((seen[index] ?? 0) + 0.05) / (dark + 0.05)).toBeGreaterThan(1.3);
      });
    },
  );
});

describe("the steps of the hours", () => {
  const hours = fc.double({ min: 0.3, max: 500, noNaN: true });

  it("are round numbers within what there is, and as many tones", () => {
    expect(hourSteps(3.4, 26).limits).toEqual([4, 6, 10, 15, 24]);
    expect(hourSteps(3.4, 26).tones).toEqual(TONES);
    expect(hourSteps(3.4, Infinity).limits).toHaveLength(5);
    fc.assert(
      fc.property(hours, hours, (one, other) => {
        const { limits, tones } = hourSteps(Math.min(one, other), Math.max(one, other));
        expect(limits.length).toBeGreaterThanOrEqual(1);
        expect(limits.length).toBeLessThanOrEqual(5);
        expect([...limits].sort((a, b) => a - b)).toEqual(limits);
        expect(new Set(limits).size).toBe(limits.length);
        expect(new Set(tones).size).toBe(limits.length + 1);
      }),
    );
  });

  it("are one where all takes as long", () => {
    expect(hourSteps(3.4, 3.4).limits).toEqual([4]);
    expect(hourSteps(900, 900).limits).toEqual([900]);
  });

  it.each([
    [0, 0],
    [3.99, 0],
    [4, 1],
    [9, 2],
    [Infinity, 2],
  ])("put %d h in step %d", (value, step) => {
    expect(stepOf([4, 8], value)).toBe(step);
  });

  it("take up equal lengths of the scale, and hours stay in their order on it", () => {
    expect(onScale([4, 9], 6)).toBeCloseTo(0.5, 9);
    expect(onScale([4, 9], Infinity)).toBeLessThan(1);
    expect(onScale([4, 9], 0)).toBeGreaterThan(0);
    const limits = [4, 6, 10, 15, 24];
    fc.assert(
      fc.property(hours, hours, (one, other) => {
        const [short, long] = [Math.min(one, other), Math.max(one, other)];
        expect(onScale(limits, short)).toBeLessThanOrEqual(onScale(limits, long));
        expect(Math.floor(onScale(limits, one) * 6)).toBe(stepOf(limits, one));
      }),
    );
  });

  it("are said in words", () => {
    expect([0, 1, 2].map((step) => stepWords([4, 8], step))).toEqual([
      "under 4 h",
      "4 to 8 h",
      "longer than 8 h",
    ]);
    expect(hoursWords(14.23)).toBe("14 h");
    expect(hoursWords(3.46)).toBe("3.5 h");
    expect(hoursWords(Infinity)).toBe("never");
  });
});
