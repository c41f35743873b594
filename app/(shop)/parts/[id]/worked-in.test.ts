import { describe, expect, it } from "vitest";
import type { Worked } from "@/lib/units";
import { workedIn } from "./worked-in";

const figure = (name: string, value: number, unit: string): Worked => ({
  name,
  value,
  unit,
  low: value * 0.9,
  high: value * 1.1,
  formula: "as measured",
  inputs: [],
  standing: "entered here",
});

describe("workedIn", () => {
  it("leaves a metric shop's figure as it is", () => {
    const solution = figure("solution", 62, "L");
    expect(workedIn(solution, "METRIC")).toBe(solution);
  });

  // NIST Handbook 44, Appendix C: 1 US gallon = 3.785 411 784 L; 1 lb = 453.592 37 g; 1 ft² = 0.092 903 04 m².
  it.each([
    ["solution", 3.785411784, "L", 1, "US gal"],
    ["mass of the part", 907.18474, "g", 2, "lb"],
    ["soda", 28.349523125, "g", 1, "oz"],
    ["area of the part", 0.09290304, "m²", 1, "sq ft"],
  ])("says %s of %d %s as %d %s, its range too", (name, metric, unit, expected, customary) => {
    const worked = workedIn(figure(name, metric, unit), "US");
    expect(worked.unit).toBe(customary);
    expect(worked.value).toBeCloseTo(expected, 9);
    expect(worked.low).toBeCloseTo(0.9 * expected, 9);
    expect(worked.high).toBeCloseTo(1.1 * expected, 9);
    expect(worked.note).toContain(unit);
  });

  it("keeps what has no other unit in a workshop", () => {
    for (const [name, unit] of [
      ["current", "A"],
      ["hydrogen", "L"],
    ] as const) {
      const worked = figure(name, 5, unit);
      expect(workedIn(worked, "US")).toBe(worked);
    }
  });
});
