import {
  type AmpereHours,
  celsius,
  type Celsius,
  checkNonNegative,
  checkRange,
  type Hours,
  type Worked,
  type WorkedInput,
} from "@/lib/units";
import { waterSplit } from "./faraday";

/** Magnus formula over water as the WMO gives it (from memory): e = 6.112 hPa · exp(17.62·T/(243.12 + T)). */
const MAGNUS = { atFreezingKpa: 0.6112, slope: 17.62, offsetC: 243.12 } as const;

/** kJ/kg: latent heat of water near room temperature, handbook. */
const LATENT_HEAT = 2430;

/** Air over a bath in a still workshop, m/s: assumption. */
export const STILL_AIR_M_PER_S = 0.1;

/** The formula for pools is taken to hold within this share on a small tank: assumption. */
const EVAPORATION_ERROR_SHARE = 0.5;

/**
 * Pressure of water vapour in saturated air.
 * @param temperature °C, −40 to 100
 * @returns kPa
 * @throws RangeError outside that range
 * @example vapourPressure(celsius(20)) // 2.33 kPa
 */
export function vapourPressure(temperature: Celsius): number {
  checkRange("temperature", temperature, -40, 100, "°C");
  return (
    MAGNUS.atFreezingKpa * Math.exp((MAGNUS.slope * temperature) / (MAGNUS.offsetC + temperature))
  );
}

/**
 * Temperature at which air of a given humidity wets cold metal: the inverse of `vapourPressure`.
 * @param air      °C, −40 to 100
 * @param humidity relative, %, above 0 to 100
 * @returns °C
 * @throws RangeError outside those ranges
 * @example dewPoint(celsius(20), 50) // 9.26 °C
 */
export function dewPoint(air: Celsius, humidity: number): Celsius {
  checkRange("humidity", humidity, Number.MIN_VALUE, 100, "%");
  const logarithm = Math.log((vapourPressure(air) * humidity) / 100 / MAGNUS.atFreezingKpa);
  return celsius((MAGNUS.offsetC * logarithm) / (MAGNUS.slope - logarithm));
}

/** The open water and the air over it. */
export type OpenWater = {
  readonly surfaceM2: number;
  readonly bathC: number;
  readonly airC: number;
  /** relative, % */
  readonly humidityPercent: number;
};

/**
 * Water that leaves an open bath for the air of a still room.
 *
 *   W = A · (p_bath − p_air) · (0.089 + 0.0782·v) / r
 *
 * kg/s with pressures in kPa, r in kJ/kg: W. H. Carrier (1918), as ASHRAE's handbook gives it for pools (from
 * memory). v is `STILL_AIR_M_PER_S`. The soda holds the vapour back by less than 2 %, left out.
 *
 * @returns L/h; 0 where the air is the moister
 * @throws RangeError naming the figure that is out of range
 * @example evaporation({ surfaceM2: 0.3, bathC: 25, airC: 18, humidityPercent: 60 }) // 0.083 L/h
 */
export function evaporation(water: OpenWater): number {
  checkNonNegative("surface of the bath", water.surfaceM2, "m²");
  checkRange("bath temperature", water.bathC, 0, 100, "°C");
  checkRange("humidity", water.humidityPercent, 0, 100, "%");
  const inAir = (vapourPressure(celsius(water.airC)) * water.humidityPercent) / 100;
  const drop = Math.max(0, vapourPressure(celsius(water.bathC)) - inAir);
  const kgPerSecond = (water.surfaceM2 * drop * (0.089 + 0.0782 * STILL_AIR_M_PER_S)) / LATENT_HEAT;
  return kgPerSecond * 3600;
}

/**
 * Plain water to make good after a run: what evaporates and what the current splits.
 * @param duration h, ≥ 0
 * @param dissolvingShare φ, 0 to 1
 * @returns L with its working
 * @throws RangeError naming the figure that is out of range
 * @example workedTopUp({ surfaceM2: 0.3, bathC: 25, airC: 18, humidityPercent: 60 }, hours(10), ampereHours(30), 0.15).value
 *   // 0.84 L
 */
export function workedTopUp(
  water: OpenWater,
  duration: Hours,
  charge: AmpereHours,
  dissolvingShare: number,
): Worked {
  checkNonNegative("duration", duration, "h");
  const evaporated = evaporation(water) * duration;
  const split = waterSplit(charge, dissolvingShare) / 1000;
  return {
    name: "plain water to top up afterwards",
    value: evaporated + split,
    unit: "L",
    low: evaporated * (1 - EVAPORATION_ERROR_SHARE) + split,
    high: evaporated * (1 + EVAPORATION_ERROR_SHARE) + split,
    formula: "A·(p_bath − p_air)·(0.089 + 0.0782·v)/r · t + Q/(2F)·(1 + φ)·M",
    inputs: [
      ...openWaterInputs(water),
      { name: "hours", symbol: "t", value: duration, unit: "h", standing: "assumption" },
      { name: "evaporated", value: evaporated, unit: "L", standing: "assumption" },
      { name: "split by the current", value: split, unit: "L", standing: "standard" },
    ],
    standing: "assumption",
    source: "Carrier's formula for still open water (ASHRAE, from memory); Faraday's law",
    note: "An open tank in still air. Soda stays behind: top up with plain water only.",
  };
}

function openWaterInputs(water: OpenWater): WorkedInput[] {
  return [
    {
      name: "open surface",
      symbol: "A",
      value: water.surfaceM2,
      unit: "m²",
      standing: "entered here",
    },
    { name: "bath", value: water.bathC, unit: "°C", standing: "assumption" },
    { name: "air", value: water.airC, unit: "°C", standing: "entered here" },
    {
      name: "relative humidity",
      value: water.humidityPercent,
      unit: "%",
      standing: "entered here",
    },
    {
      name: "vapour pressure, bath less air",
      symbol: "p_bath − p_air",
      value:
        vapourPressure(celsius(water.bathC)) -
        (vapourPressure(celsius(water.airC)) * water.humidityPercent) / 100,
      unit: "kPa",
      standing: "handbook",
      source: "Magnus formula, WMO (from memory)",
    },
    {
      name: "air speed",
      symbol: "v",
      value: STILL_AIR_M_PER_S,
      unit: "m/s",
      standing: "assumption",
    },
  ];
}

/**
 * Dew point of the workshop with the least temperature of the metal before it is coated: 3 °C above.
 * @throws RangeError as `dewPoint`
 * @example workedDewPoint(celsius(18), 60).value // 10.1 °C
 */
export function workedDewPoint(air: Celsius, humidity: number): Worked {
  return {
    name: "dew point",
    value: dewPoint(air, humidity),
    unit: "°C",
    formula: "T_d = 243.12·γ/(17.62 − γ), γ = ln(RH/100) + 17.62·T/(243.12 + T)",
    inputs: [
      { name: "air", symbol: "T", value: air, unit: "°C", standing: "entered here" },
      {
        name: "relative humidity",
        symbol: "RH",
        value: humidity,
        unit: "%",
        standing: "entered here",
      },
    ],
    standing: "handbook",
    source: "Magnus formula, WMO; 3 °C above it before coating: ISO 8502-4 (both from memory)",
  };
}
