/**
 * Exact conversions to and from units outside the SI.
 * Factors: NIST SP 811 (2008) appendix B.8 and NIST Handbook 44 appendix C; all exact by definition.
 */
import {
  type Celsius,
  celsius,
  type Grams,
  grams,
  type Litres,
  litres,
  type Millimetres,
  millimetres,
  type SquareMetres,
  squareMetres,
} from "./quantities";

export const MILLIMETRES_PER_INCH = 25.4;
export const SQUARE_METRES_PER_SQUARE_FOOT = 0.09290304;
export const CUBIC_METRES_PER_CUBIC_FOOT = 0.028316846592;
export const GRAMS_PER_POUND = 453.59237;
export const GRAMS_PER_OUNCE = 28.349523125;
export const LITRES_PER_US_GALLON = 3.785411784;
export const LITRES_PER_US_FLUID_OUNCE = 0.0295735295625;
export const LITRES_PER_US_CUP = 0.2365882365;
export const LITRES_PER_US_TABLESPOON = 0.01478676478125;
export const LITRES_PER_US_TEASPOON = 0.00492892159375;
/** A pound-force, 4.448 221 615 260 5 N, on a square inch, 645.16 mm²; a thousand of them. */
export const MEGAPASCALS_PER_KSI = 4448.2216152605 / 645.16;

/** @example millimetresFromInches(1) // 25.4 mm */
export const millimetresFromInches = (inches: number): Millimetres =>
  millimetres(inches * MILLIMETRES_PER_INCH);
export const inchesFromMillimetres = (length: Millimetres): number => length / MILLIMETRES_PER_INCH;

export const squareMetresFromSquareFeet = (squareFeet: number): SquareMetres =>
  squareMetres(squareFeet * SQUARE_METRES_PER_SQUARE_FOOT);
export const squareFeetFromSquareMetres = (area: SquareMetres): number =>
  area / SQUARE_METRES_PER_SQUARE_FOOT;

export const gramsFromPounds = (pounds: number): Grams => grams(pounds * GRAMS_PER_POUND);
export const poundsFromGrams = (mass: Grams): number => mass / GRAMS_PER_POUND;
export const gramsFromOunces = (ounces: number): Grams => grams(ounces * GRAMS_PER_OUNCE);
export const ouncesFromGrams = (mass: Grams): number => mass / GRAMS_PER_OUNCE;

export const litresFromGallons = (gallons: number): Litres =>
  litres(gallons * LITRES_PER_US_GALLON);
export const gallonsFromLitres = (volume: Litres): number => volume / LITRES_PER_US_GALLON;
export const litresFromCups = (cups: number): Litres => litres(cups * LITRES_PER_US_CUP);
export const cupsFromLitres = (volume: Litres): number => volume / LITRES_PER_US_CUP;
export const litresFromTablespoons = (spoons: number): Litres =>
  litres(spoons * LITRES_PER_US_TABLESPOON);
export const tablespoonsFromLitres = (volume: Litres): number => volume / LITRES_PER_US_TABLESPOON;
export const litresFromTeaspoons = (spoons: number): Litres =>
  litres(spoons * LITRES_PER_US_TEASPOON);
export const teaspoonsFromLitres = (volume: Litres): number => volume / LITRES_PER_US_TEASPOON;

/** @example celsiusFromFahrenheit(68) // 20 °C */
export const celsiusFromFahrenheit = (fahrenheit: number): Celsius =>
  celsius(((fahrenheit - 32) * 5) / 9);
export const fahrenheitFromCelsius = (temperature: Celsius): number => (temperature * 9) / 5 + 32;
