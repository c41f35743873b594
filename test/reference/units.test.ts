import {
  celsiusFromFahrenheit,
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
