/** American wire gauge: diameter, section, and the gauge of a section. */
import { checkPositive, checkRange } from "./checks";
import {
  type Millimetres,
  millimetres,
  type SquareMillimetres,
  squareMillimetres,
} from "./quantities";

/** Gauges run from 4/0, counted as −3, to 40. */
export const THICKEST_GAUGE = -3;
export const THINNEST_GAUGE = 40;

/**
 * Diameter of a solid wire by American gauge.
 *   d = 0.127 mm · 92^((36 − n)/39)        ASTM B258 (from memory)
 * @param gauge −3 (4/0) to 40; 0 is 1/0, −1 is 2/0
 * @throws RangeError outside −3 to 40
 * @example wireDiameter(10) // 2.588 mm
 */
export function wireDiameter(gauge: number): Millimetres {
  checkRange("wire gauge", gauge, THICKEST_GAUGE, THINNEST_GAUGE, "AWG");
  return millimetres(0.127 * 92 ** ((36 - gauge) / 39));
}

/**
 * Copper section by American gauge.
 * @throws RangeError outside −3 (4/0) to 40
 * @example wireArea(10) // 5.261 mm²
 */
export function wireArea(gauge: number): SquareMillimetres {
  return squareMillimetres((Math.PI / 4) * wireDiameter(gauge) ** 2);
}

/**
 * The gauge of a section, the inverse of `wireArea`: a whole number where the section is that of a gauge.
 *   n = 36 − 39·log₉₂(d / 0.127 mm),  d = √(4A/π)
 * @param area mm², > 0
 * @throws RangeError if the area is not above 0
 * @example wireGauge(squareMillimetres(5.261)) // 10.000
 */
export function wireGauge(area: SquareMillimetres): number {
  checkPositive("wire area", area, "mm²");
  const diameter = Math.sqrt((4 * area) / Math.PI);
  return 36 - (39 * Math.log(diameter / 0.127)) / Math.log(92);
}

/** A gauge as it is written: 0 is 1/0, −3 is 4/0. @example gaugeText(-1) // "2/0" */
export const gaugeText = (gauge: number): string => (gauge > 0 ? String(gauge) : `${1 - gauge}/0`);
