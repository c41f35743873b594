import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fieldText,
  formatMeasure,
  formatMeasures,
  inchText,
  roughFieldText,
  shownUnit,
} from "./measure-format";
import { parseMeasure } from "./measure-parse";
import { wireArea } from "./wire";

describe("inches on a tape measure", () => {
  it.each([
    [11.811, 16, "11 13/16"],
    [12, 16, "12"],
    [0.5, 16, "1/2"],
    [0, 16, "0"],
    [0.02, 16, "0"],
    [11.99, 16, "12"],
    [2.25, 64, "2 1/4"],
    [0.015625, 64, "1/64"],
    [-1.5, 16, "−1 1/2"],
    [-0.01, 16, "0"],
  ])("%d in sixteenths or finer (%d) is %s", (inches, parts, text) => {
    expect(inchText(inches, parts)).toBe(text);
  });

  it("are never further off than half a mark", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1000, noNaN: true }), (inches) => {
        const read = Number(parseMeasure("length", `${inchText(inches, 16)} in`, "US")) / 25.4;
        expect(Math.abs(read - inches)).toBeLessThanOrEqual(1 / 32 + 1e-9);
      }),
    );
  });
});

describe("formatMeasure", () => {
  it.each([
    ["length", 300, "METRIC", "300 mm"],
    ["length", 300, "US", "11 13/16 in"],
    ["length", 45.25, "METRIC", "45.3 mm"],
    ["length", 12.7, "US", "1/2 in"],
    ["length", 10, "US", "0.394 in"],
    ["thickness", 1.5, "US", "0.0591 in"],
    ["distance", 2, "US", "6.56 ft"],
    ["area", 0.2, "US", "2.15 ft²"],
    ["salt", 200, "US", "7.05 oz"],
    ["salt", 453.59237, "US", "1 lb"],
    ["salt", 450, "US", "15.9 oz"],
    ["steelMass", 5000, "METRIC", "5000 g"],
    ["partMass", 1250, "METRIC", "1.25 kg"],
    ["partMass", 1250, "US", "2.76 lb"],
    ["volume", 62, "METRIC", "62 L"],
    ["volume", 62, "US", "16.4 US gal"],
    ["volume", 3.5, "US", "3.7 qt"],
    ["volume", 0.5, "US", "16.9 fl oz"],
    ["temperature", 20, "US", "68 °F"],
    ["section", 4, "US", "4 mm²"],
    ["section", wireArea(10), "US", "10 AWG"],
    ["section", 5.26, "US", "10 AWG"],
    ["section", wireArea(0), "US", "1/0 AWG"],
    ["section", 250, "US", "250 mm²"],
    ["section", wireArea(10), "METRIC", "5.26 mm²"],
    ["airflow", 17, "US", "10 ft³/min"],
    ["currentDensity", 10, "US", "0.929 A/ft²"],
    ["strength", 5, "US", "0.668 oz/US gal"],
  ] as const)("%s %d for a %s reader is %s", (kind, si, system, text) => {
    expect(formatMeasure(kind, si, system)).toBe(text);
  });

  it("keeps to so many decimals where that is asked for", () => {
    expect(formatMeasure("volume", 62.34, "METRIC", { decimals: 0 })).toBe("62 L");
    expect(formatMeasure("length", 300, "US", { decimals: 1 })).toBe("11.8 in");
    expect(formatMeasure("length", 304.8, "US", { decimals: 1 })).toBe("12 in");
  });

  it("gives several one unit: that of the largest", () => {
    expect(formatMeasures("length", [250, 65, 45], "METRIC", " × ")).toBe("250 × 65 × 45 mm");
    expect(formatMeasures("length", [254, 63.5], "US", " × ")).toBe("10 × 2 1/2 in");
    expect(formatMeasures("salt", [900, 4], "US", " ± ")).toBe("1.98 ± 0.0088 lb");
    expect(formatMeasures("temperature", [190, 220], "US", " to ")).toBe("374 to 428 °F");
  });

  it("says a large amount in a large unit, from one of it on", () => {
    expect(shownUnit("salt", 453.59237, "US").sign).toBe("lb");
    expect(shownUnit("salt", 453.5, "US").sign).toBe("oz");
    expect(shownUnit("salt", 1e6, "METRIC").sign).toBe("g");
  });
});

describe("a field", () => {
  it.each([
    ["length", 38.1, "US", "1 1/2"],
    ["length", 298.45, "US", "11 3/4"],
    ["length", 0.396875, "US", "1/64"],
    ["length", 30.48, "US", "1.2"],
    ["length", 300, "US", "300 mm"],
    ["length", 300, "METRIC", "300"],
    ["length", 38.125, "METRIC", "38.125"],
    ["temperature", 18, "US", "64.4"],
    ["temperature", -20, "US", "-4"],
    ["partMass", 2381.3599425, "US", "5.25"],
    ["partMass", 1200, "US", "1.2 kg"],
    ["section", wireArea(10), "US", "10"],
    ["section", wireArea(-1), "US", "2/0"],
    ["section", wireArea(10), "METRIC", "10 AWG"],
    ["section", 4, "US", "4 mm²"],
    ["volume", 7.570823568, "US", "2"],
    ["volume", 7.570823568, "METRIC", "2 US gal"],
  ] as const)("%s %d in a %s shop is filled as %j", (kind, si, system, text) => {
    expect(fieldText(kind, si, system)).toBe(text);
  });

  it("is empty where nothing is stored", () => {
    expect(fieldText("length", null, "US")).toBe("");
    expect(fieldText("length", undefined, "US")).toBe("");
  });

  it("shows an estimate no finer than it deserves", () => {
    expect(roughFieldText("length", 299.6, "METRIC")).toBe("300");
    expect(roughFieldText("length", 299.6, "US")).toBe("11 13/16");
    expect(roughFieldText("temperature", 19.96, "US")).toBe("67.9");
    expect(roughFieldText("section", wireArea(8), "US")).toBe("8");
  });
});
