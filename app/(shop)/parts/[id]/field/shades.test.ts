import { describe, expect, it } from "vitest";
import { ratioWords, shadeOf, SHADES } from "./shades";

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

describe("the shades of the current", () => {
  it("grow lighter step by step, with room between, in grey and to eyes that mix colours up", () => {
    const sights = [[1, 0, 0, 0, 1, 0, 0, 0, 1], ...Object.values(SIGHT)];
    for (const matrix of sights) {
      const seen = SHADES.map(({ colour }) => {
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
      });
      seen.slice(1).forEach((light, index) => {
        const dark = seen[index] ?? 0;
        expect((light + 0.05) / (dark + 0.05)).toBeGreaterThan(1.3);
      });
    }
  });

  it.each([
    [0, 0],
    [0.03, 1],
    [0.2, 2],
    [0.999, 3],
    [1, 4],
    [3, 5],
    [40, 5],
  ])("of %d is step %d", (ratio, step) => {
    expect(shadeOf(ratio)).toBe(step);
  });

  it("are said in words", () => {
    expect(ratioWords(0.046)).toBe("5 % of the mean");
    expect(ratioWords(0.004)).toBe("0.4 % of the mean");
    expect(ratioWords(2.24)).toBe("2.2 times the mean");
  });
});
