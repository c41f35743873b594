import {
  type AmpereHours,
  ampereHours,
  type Amperes,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Grams,
  grams,
  type Hours,
  type KilowattHours,
  kilowattHours,
  type Litres,
  litres,
  type Volts,
  type Watts,
  watts,
} from "@/lib/units";

/** C/mol: exact since the 2019 SI (e × N_A), written to ten digits. */
export const FARADAY_CONSTANT = 96_485.332_12;

/** J/(mol·K): CODATA 2018, exact (k × N_A), written to ten digits. */
export const GAS_CONSTANT = 8.314_462_618;

/** Pa. */
export const STANDARD_ATMOSPHERE = 101_325;

/** V. Splitting water at 25 °C: ΔG = 237.129 kJ/mol and ΔH = 285.83 kJ/mol over 2F (CODATA key values). */
export const WATER_REVERSIBLE_V = 237_129 / (2 * FARADAY_CONSTANT);
export const WATER_THERMONEUTRAL_V = 285_830 / (2 * FARADAY_CONSTANT);

const SECONDS_PER_HOUR = 3600;
const ZERO_CELSIUS_K = 273.15;
const WATER_MOLAR_MASS = 18.015;
const HYDROGEN_MOLAR_MASS = 2.016;
const OXYGEN_MOLAR_MASS = 31.998;

/** kJ/(kg·K), the same as kJ/(L·K) for a thin soda bath. */
const WATER_HEAT_CAPACITY = 4.18;

export type Metal = {
  /** Standard atomic weight, g/mol. */
  readonly molarMass: number;
  /** Electrons given up per atom when the metal dissolves. */
  readonly electronsPerAtom: number;
};

/** Iron dissolving to Fe²⁺. Atomic weight: IUPAC abridged value. */
export const IRON: Metal = { molarMass: 55.845, electronsPerAtom: 2 };

/**
 * Charge passed by a steady current.
 * @param current A, ≥ 0; @param duration h, ≥ 0
 * @example chargePassed(amperes(2), hours(3)) // 6 A·h
 */
export function chargePassed(current: Amperes, duration: Hours): AmpereHours {
  checkNonNegative("current", current, "A");
  checkNonNegative("duration", duration, "h");
  return ampereHours(current * duration);
}

/**
 * Mass of anode metal dissolved by a charge.
 *
 *   m = φ · Q · M / (n · F)        Faraday's first law
 *
 * @param charge A·h through this anode, ≥ 0
 * @param dissolvingShare φ, share of the charge that dissolves metal rather than evolving gas, 0 to 1.
 *                        Defaults to 1: the most metal that can be lost.
 * @param metal  what the anode is made of
 * @throws RangeError if an argument is outside its range or not finite
 * @example anodeMassDissolved(ampereHours(1)) // 1.0418 g
 */
export function anodeMassDissolved(
  charge: AmpereHours,
  dissolvingShare = 1,
  metal: Metal = IRON,
): Grams {
  checkRange("dissolving share", dissolvingShare, 0, 1, "(share)");
  return grams((dissolvingShare * electrons(charge) * metal.molarMass) / metal.electronsPerAtom);
}

/**
 * Hydrogen set free at the part, dry ideal gas. Two electrons a molecule.
 *
 *   V = Q/(2F) · R·T/p
 *
 * @param charge A·h, ≥ 0; @param temperature °C, above −273.15; @param pressurePa Pa, > 0
 * @throws RangeError if an argument is outside its range
 * @example hydrogenVolume(ampereHours(1), celsius(20)) // 0.44876 L
 */
export function hydrogenVolume(
  charge: AmpereHours,
  temperature: Celsius,
  pressurePa = STANDARD_ATMOSPHERE,
): Litres {
  return gasVolume(electrons(charge) / 2, temperature, pressurePa);
}

/**
 * Oxygen set free at the anode, dry ideal gas. Four electrons a molecule.
 * @param oxygenShare share of the charge that makes oxygen, 0 to 1; 1 − φ for an iron anode
 * @example oxygenVolume(ampereHours(1), celsius(25)) // 0.22821 L
 */
export function oxygenVolume(
  charge: AmpereHours,
  temperature: Celsius,
  oxygenShare = 1,
  pressurePa = STANDARD_ATMOSPHERE,
): Litres {
  checkRange("oxygen share", oxygenShare, 0, 1, "(share)");
  return gasVolume((oxygenShare * electrons(charge)) / 4, temperature, pressurePa);
}

/** @example hydrogenMass(ampereHours(1)) // 0.03761 g */
export function hydrogenMass(charge: AmpereHours): Grams {
  return grams((electrons(charge) / 2) * HYDROGEN_MOLAR_MASS);
}

/** @example oxygenMass(ampereHours(1)) // 0.29847 g, if all the charge makes oxygen */
export function oxygenMass(charge: AmpereHours, oxygenShare = 1): Grams {
  checkRange("oxygen share", oxygenShare, 0, 1, "(share)");
  return grams(((oxygenShare * electrons(charge)) / 4) * OXYGEN_MOLAR_MASS);
}

/**
 * Water used up. Oxygen at the anode: one molecule for two electrons (2 H₂O → 2 H₂ + O₂). Iron dissolving:
 * two (Fe + 2 H₂O → Fe(OH)₂ + H₂).
 * @param dissolvingShare φ, 0 to 1
 * @example waterSplit(ampereHours(1)) // 0.336 g; 0.672 g when all the charge dissolves iron
 */
export function waterSplit(charge: AmpereHours, dissolvingShare = 0): Grams {
  checkRange("dissolving share", dissolvingShare, 0, 1, "(share)");
  return grams((electrons(charge) / 2) * (1 + dissolvingShare) * WATER_MOLAR_MASS);
}

/**
 * Heat left in the bath by a passive anode.
 *
 *   P = I · (V − 1.48)
 *
 * An active anode keeps back almost nothing, so it heats by up to I·1.48 more.
 * @param current A, ≥ 0; @param cellVoltage V between part and anode, ≥ 0
 * @returns W; below 0 the bath would cool
 * @example bathHeat(amperes(5), volts(12)) // 52.6 W
 */
export function bathHeat(current: Amperes, cellVoltage: Volts): Watts {
  checkNonNegative("current", current, "A");
  checkNonNegative("cell voltage", cellVoltage, "V");
  return watts(current * (cellVoltage - WATER_THERMONEUTRAL_V));
}

/**
 * How fast a bath warms before it loses heat to the room.
 * @param heat W; @param volume L, > 0
 * @returns K/h
 * @example heatingRate(watts(100), litres(100)) // 0.86 K/h
 */
export function heatingRate(heat: Watts, volume: Litres): number {
  checkPositive("volume of the bath", volume, "L");
  return (heat * SECONDS_PER_HOUR) / 1000 / (volume * WATER_HEAT_CAPACITY);
}

/**
 * Energy given to the cell.
 * @example electricalEnergy(ampereHours(10), volts(12)) // 0.12 kW·h
 */
export function electricalEnergy(charge: AmpereHours, voltage: Volts): KilowattHours {
  checkNonNegative("charge", charge, "A·h");
  checkNonNegative("voltage", voltage, "V");
  return kilowattHours((charge * voltage) / 1000);
}

/** mol of electrons in a charge. */
function electrons(charge: AmpereHours): number {
  checkNonNegative("charge", charge, "A·h");
  return (charge * SECONDS_PER_HOUR) / FARADAY_CONSTANT;
}

function gasVolume(moles: number, temperature: Celsius, pressurePa: number): Litres {
  checkPositive("absolute temperature", temperature + ZERO_CELSIUS_K, "K");
  checkPositive("pressure", pressurePa, "Pa");
  return litres((1000 * moles * GAS_CONSTANT * (temperature + ZERO_CELSIUS_K)) / pressurePa);
}
