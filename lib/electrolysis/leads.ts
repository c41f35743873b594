import {
  type Amperes,
  celsius,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Metres,
  metres,
  type Millimetres,
  millimetres,
  type Ohms,
  ohms,
  type SquareMillimetres,
  squareMillimetres,
  type Volts,
  volts,
} from "@/lib/units";

/** Ω·m at 20 °C, annealed copper of 100 % IACS, and its gain a kelvin: IEC 60028 (from memory). */
const COPPER_RESISTIVITY = 1.7241e-8;
const COPPER_TEMPERATURE_FACTOR = 0.003_93;

/**
 * Diameter of a solid wire by American gauge.
 *   d = 0.127 mm · 92^((36 − n)/39)        ASTM B258 (from memory)
 * @param gauge −3 (4/0) to 40; 0 is 1/0, −1 is 2/0
 * @throws RangeError outside −3 to 40
 * @example wireDiameter(10) // 2.588 mm
 */
export function wireDiameter(gauge: number): Millimetres {
  checkRange("wire gauge", gauge, -3, 40, "AWG");
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
