import {
  type Amperes,
  ampereHours,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type CubicMetresPerHour,
  cubicMetresPerHour,
  type Hours,
  hours,
} from "@/lib/units";
import { hydrogenVolume } from "./faraday";

/** Said wherever a ventilation figure is shown. */
export const VENTILATION_NOTE =
  "Engineering transfer of the rule for battery rooms (IEC 62485-2, EN 50272-2), not a scope statement of " +
  "that standard. Local codes and licensed practice come first. Right over a bath the gas is flammable " +
  "whatever the airflow: no flame, no spark, supply off before a clip is moved.";

/** Hydrogen in air starts to burn at 4 % by volume; 1 % is a quarter of that, the usual alarm point. */
export const HYDROGEN_LIMITS = { alarm: 0.01, flammable: 0.04 } as const;

/**
 * m³/h of air per A: v·q·s = 24 · 0.42e-3 · 5, rounded to 0.05 by the standard. v dilutes to 4 %, q is the
 * hydrogen of one A·h at 0 °C, s is a fivefold safety.
 */
const AIR_PER_AMPERE = 0.05;

/**
 * Air a tank needs while it gasses.
 *
 *   Q = 0.05 · n · I        IEC 62485-2:2010 clause 7.2 (clause number from memory)
 *
 * @param current     A, ≥ 0: the sum for tanks side by side on one supply
 * @param seriesCells n, tanks one after another on the same current, ≥ 1
 * @returns m³/h of outside air
 * @throws RangeError if an argument is outside its range
 * @example airflowNeeded(amperes(10)) // 0.5 m³/h
 */
export function airflowNeeded(current: Amperes, seriesCells = 1): CubicMetresPerHour {
  checkNonNegative("current", current, "A");
  checkRange("tanks in series", seriesCells, 1, 100, "tanks");
  return cubicMetresPerHour(AIR_PER_AMPERE * seriesCells * current);
}

/**
 * Free area of the inlet, and of the outlet, when air moves by itself at 0.1 m/s.
 *   A = 28 · Q
 * @returns cm², each of the two
 * @example openingNeeded(cubicMetresPerHour(0.5)) // 14 cm²
 */
export function openingNeeded(airflow: CubicMetresPerHour): number {
  checkNonNegative("airflow", airflow, "m³/h");
  return 28 * airflow;
}

/**
 * Hours until hydrogen reaches a share of a closed room, well mixed, no air let in.
 *
 *   t = V · x / (volume of hydrogen per hour)
 *
 * Holds for a lid's headspace too, but foam and lids break the mixing, so never rely on it under a lid.
 *
 * @param roomM3 free air, m³, > 0
 * @param share  x, in (0, 1): `HYDROGEN_LIMITS.alarm` or `.flammable`
 * @returns h; Infinity when no current flows
 * @throws RangeError if an argument is outside its range
 * @example closedRoomHours(30, amperes(10), 0.01, celsius(25)) // 65.7 h
 */
export function closedRoomHours(
  roomM3: number,
  current: Amperes,
  share: number,
  temperature: Celsius,
): Hours {
  checkPositive("room volume", roomM3, "m³");
  checkRange("share of hydrogen", share, Number.MIN_VALUE, 1, "(share)");
  checkNonNegative("current", current, "A");
  const litresPerHour = hydrogenVolume(ampereHours(current), temperature);
  return hours((1000 * roomM3 * share) / litresPerHour);
}
