import { describe, expect, it } from "vitest";
import { workedIn } from "./measure-worked";
import type { Worked } from "./worked";

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
    ["hydrogen", 28.316846592, "L", 1, "ft³"],
    ["mass of the part", 907.18474, "g", 2, "lb"],
    ["soda", 28.349523125, "g", 1, "oz"],
    ["area of the part", 0.09290304, "m²", 1, "ft²"],
    ["opening", 6.4516, "cm²", 1, "in²"],
    ["thickness left", 25.4, "mm", 1, "in"],
    ["fresh air", 1.69901079552, "m³/h", 1, "ft³/min"],
    ["use", 28.349523125, "g/d", 1, "oz/d"],
    ["salt", 2, "kg", 2 / 0.45359237, "lb"],
    ["warming", 5, "K/h", 9, "°F/h"],
    ["draught", 0.1, "m/s", 19.68503937007874, "ft/min"],
    ["rate", 2, "EUR/kg", 2 * 0.45359237, "EUR/lb"],
    ["rate", 0.1, "USD/L", 0.3785411784, "USD/US gal"],
    ["rate", 1, "USD/m²", 0.09290304, "USD/ft²"],
  ])("says %s of %d %s as %d %s, its range too", (name, metric, unit, expected, customary) => {
    const worked = workedIn(figure(name, metric, unit), "US");
    expect(worked.unit).toBe(customary);
    expect(worked.value).toBeCloseTo(expected, 9);
    expect(worked.low).toBeCloseTo(0.9 * expected, 9);
    expect(worked.high).toBeCloseTo(1.1 * expected, 9);
    expect(worked.note).toContain(`Worked in metric units: `);
    expect(worked.note).toContain(` ${unit}.`);
  });

  it("converts a temperature by its scale", () => {
    expect(workedIn(figure("bath", 20, "°C"), "US")).toMatchObject({ value: 68, unit: "°F" });
  });

  it("keeps what is the same everywhere, but for its inputs", () => {
    const current: Worked = {
      ...figure("current", 5, "A"),
      inputs: [
        { name: "level", value: 300, unit: "mm", standing: "entered here" },
        { name: "leads", value: 4, unit: "mm²", standing: "entered here" },
        { name: "bath temperature", symbol: "T", value: 20, unit: "°C", standing: "entered here" },
        { name: "volts", value: 12, unit: "V", standing: "entered here" },
        { name: "dips", value: 2, standing: "entered here" },
        { name: "usual dose", value: "80 to 120 mL in 20 L", standing: "common practice" },
      ],
    };
    const worked = workedIn(current, "US");
    expect(worked).toMatchObject({ value: 5, unit: "A", low: 4.5, formula: "as measured" });
    expect(worked.note).toBeUndefined();
    expect(worked.inputs.map(({ value, unit }) => [value, unit])).toEqual([
      ["11 13/16 in (300 mm)", undefined],
      ["4 mm²", undefined],
      ["68 °F (20 °C)", undefined],
      [12, "V"],
      [2, undefined],
      ["80 to 120 mL in 20 L", undefined],
    ]);
    expect(worked.inputs[2]).toMatchObject({ symbol: "T", standing: "entered here" });
  });

  it("adds to a note that was there, and leaves out a range that was not", () => {
    const worked = workedIn(
      {
        name: "solution",
        value: 2,
        unit: "L",
        formula: "",
        inputs: [],
        standing: "standard",
        note: "Level.",
      },
      "US",
    );
    expect(worked.note).toBe("Level. Worked in metric units: 2 L.");
    expect("low" in worked || "high" in worked).toBe(false);
  });
});
