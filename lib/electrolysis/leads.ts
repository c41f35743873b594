import {
  type Amperes,
  amperes,
  celsius,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Metres,
  metres,
  type Ohms,
  ohms,
  type SquareMillimetres,
  squareMillimetres,
  type Volts,
  volts,
  wireArea,
} from "@/lib/units";

/** Ω·m at 20 °C, annealed copper of 100 % IACS, and its gain a kelvin: IEC 60028 (from memory). */
const COPPER_RESISTIVITY = 1.7241e-8;
const COPPER_TEMPERATURE_FACTOR = 0.003_93;

/**
 * Resistance of a copper wire.
 *   R = ρ₂₀ · (1 + 0.00393·(T − 20)) · L/A
 * @param length      m of wire, ≥ 0: twice the distance for a pair of leads
 * @param area        mm², > 0
 * @param temperature °C of the copper, −40 to 150; 20 when left out
 * @throws RangeError if an argument is outside its range
 * @example copperResistance(metres(1), wireArea(10)) // 0.003277 Ω
 */
export function copperResistance(
  length: Metres,
  area: SquareMillimetres,
  temperature: Celsius = celsius(20),
): Ohms {
  checkNonNegative("wire length", length, "m");
  checkPositive("wire area", area, "mm²");
  checkRange("wire temperature", temperature, -40, 150, "°C");
  const resistivity = COPPER_RESISTIVITY * (1 + COPPER_TEMPERATURE_FACTOR * (temperature - 20));
  return ohms((resistivity * length) / (area * 1e-6));
}

/**
 * Resistance of both leads of a tank.
 * @param leads one-way length in m, section in mm², temperature in °C (20 when left out)
 * @example leadPairResistance({ oneWayLengthM: 2, areaMm2: 4 }) // 0.01724 Ω
 */
export function leadPairResistance(leads: {
  readonly oneWayLengthM: number;
  readonly areaMm2: number;
  readonly temperatureC?: number;
}): Ohms {
  return copperResistance(
    metres(2 * leads.oneWayLengthM),
    squareMillimetres(leads.areaMm2),
    celsius(leads.temperatureC ?? 20),
  );
}

/**
 * Voltage lost in a resistance.
 * @param current A, ≥ 0; @param resistance Ω, ≥ 0
 * @example voltageDrop(amperes(10), copperResistance(metres(4), wireArea(10))) // 0.131 V
 */
export function voltageDrop(current: Amperes, resistance: Ohms): Volts {
  checkNonNegative("current", current, "A");
  checkNonNegative("resistance", resistance, "Ω");
  return volts(current * resistance);
}

/**
 * Current that a copper lead carries without getting hot, A by AWG: NEC table 310.16, 60 °C column (from memory).
 * For reference only: local codes decide.
 */
const AMPACITY_60C: readonly (readonly [gauge: number, ampacityA: number])[] = [
  [14, 15],
  [12, 20],
  [10, 30],
  [8, 40],
  [6, 55],
  [4, 70],
];

/**
 * Current that a lead of this section may carry for hours: that of the next thinner gauge in the table.
 * @param area mm², > 0
 * @returns A; 0 for leads thinner than AWG 14, and that of AWG 4 for all that are thicker
 * @throws RangeError if the area is not above 0
 * @example leadAmpacity(squareMillimetres(4)) // 20 A, as AWG 12
 */
export function leadAmpacity(area: SquareMillimetres): Amperes {
  checkPositive("wire area", area, "mm²");
  const carried = AMPACITY_60C.filter(([gauge]) => area >= wireArea(gauge) * (1 - 1e-9));
  return amperes(carried.at(-1)?.[1] ?? 0);
}
