import {
  celsiusFromFahrenheit,
  parseMeasure,
  cupsFromLitres,
  fahrenheitFromCelsius,
  gallonsFromLitres,
  gramsFromOunces,
  gramsFromPounds,
  inchesFromMillimetres,
  litres,
  litresFromCups,
  litresFromGallons,
  litresFromTablespoons,
  litresFromTeaspoons,
  millimetresFromInches,
  ouncesFromGrams,
  poundsFromGrams,
  squareFeetFromSquareMetres,
  squareMetresFromSquareFeet,
  tablespoonsFromLitres,
  teaspoonsFromLitres,
} from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("units: NIST SP 811 (2008) appendix B, Handbook 44 appendix C; exact by definition", () => {
  it("an inch is 25.4 mm, a square foot 144 square inches", () => {
    expect(millimetresFromInches(1)).toBe(25.4);
    expect(squareMetresFromSquareFeet(1)).toBeCloseTo(144 * 0.0254 ** 2, 15);
  });

  it("a pound is 453.59237 g, an ounce a sixteenth of it", () => {
    expect(gramsFromPounds(1)).toBe(453.59237);
    expect(gramsFromOunces(16)).toBeCloseTo(453.59237, 12);
  });

  it("a US gallon is 231 cubic inches: 16 cups, 256 tablespoons, 768 teaspoons", () => {
    expect(litresFromGallons(1)).toBeCloseTo(231 * 0.254 ** 3, 12);
    expect(litresFromCups(16)).toBeCloseTo(3.785411784, 12);
    expect(litresFromTablespoons(256)).toBeCloseTo(3.785411784, 12);
    expect(litresFromTeaspoons(768)).toBeCloseTo(3.785411784, 12);
  });

  it("water freezes at 32 °F and boils at 212 °F; the scales meet at −40", () => {
    expect(celsiusFromFahrenheit(32)).toBe(0);
    expect(celsiusFromFahrenheit(212)).toBe(100);
    expect(celsiusFromFahrenheit(-40)).toBe(-40);
  });

  it("every conversion is undone by its inverse", () => {
    const pairs: readonly ((value: number) => number)[] = [
      (x) => inchesFromMillimetres(millimetresFromInches(x)),
      (x) => squareFeetFromSquareMetres(squareMetresFromSquareFeet(x)),
      (x) => poundsFromGrams(gramsFromPounds(x)),
      (x) => ouncesFromGrams(gramsFromOunces(x)),
      (x) => gallonsFromLitres(litresFromGallons(x)),
      (x) => cupsFromLitres(litresFromCups(x)),
      (x) => tablespoonsFromLitres(litresFromTablespoons(x)),
      (x) => teaspoonsFromLitres(litresFromTeaspoons(x)),
      (x) => fahrenheitFromCelsius(celsiusFromFahrenheit(x)),
    ];
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), (value) => {
        for (const pair of pairs) expect(pair(value)).toBeCloseTo(value, 8);
      }),
    );
    expect(gallonsFromLitres(litres(0))).toBe(0);
  });
});

describe("what people type: NIST SP 811 (2008) appendix B.8, rounded there to seven digits", () => {
  it.each([
    ["length", "1 in", 25.4],
    ["length", "1 ft", 304.8],
    ["area", "1 ft²", 0.09290304],
    ["area", "1 in²", 6.4516e-4],
    ["roomVolume", "1 ft³", 0.02831685],
    ["salt", "1 oz", 28.34952],
    ["salt", "1 lb", 453.5924],
    ["volume", "1 gal", 3.785412],
    ["volume", "1 qt", 0.9463529],
    ["volume", "1 pt", 0.4731765],
    ["volume", "1 cup", 0.2365882],
    ["volume", "1 fl oz", 0.02957353],
    ["volume", "1 tbsp", 0.01478676],
    ["volume", "1 tsp", 0.004928922],
    // 4.719 474 E−04 m³/s for a cubic foot a minute
    ["airflow", "1 cfm", 4.719474e-4 * 3600],
    // 6.894 757 E+00 MPa for a kip a square inch
    ["stress", "1 ksi", 6.894757],
    // 7.489 152 E+00 kg/m³ for an ounce (avoirdupois) a US gallon, 1.488 164 E+00 kg/m for a pound a foot
    ["strength", "1 oz/gal", 7.489152],
    ["lineMass", "1 lb/ft", 1.488164],
    // 1.076 391 E+01 A/m² for an ampere a square foot
    ["currentDensity", "1 A/ft²", 10.76391],
  ] as const)("%s: %s", (kind, typed, value) => {
    expect(Number(parseMeasure(kind, typed, "METRIC"))).toBeCloseTo(value, decimals(value));
  });

  it("measures of a kitchen make each other up exactly: NIST Handbook 44 appendix C", () => {
    for (const [whole, parts] of [
      ["1 gal", "4 qt"],
      ["1 qt", "2 pt"],
      ["1 pt", "2 cups"],
      ["1 cup", "8 fl oz"],
      ["1 fl oz", "2 tbsp"],
      ["1 tbsp", "3 tsp"],
    ] as const) {
      expect(parseMeasure("volume", whole, "US")).toBe(parseMeasure("volume", parts, "US"));
    }
    expect(parseMeasure("salt", "1 lb", "US")).toBe(parseMeasure("salt", "16 oz", "US"));
  });
});

/** Places after the point to which seven significant digits of a value go. */
const decimals = (value: number): number => 6 - Math.floor(Math.log10(value));
