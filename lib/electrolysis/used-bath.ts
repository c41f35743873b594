import {
  type AmpereHours,
  celsius,
  type Celsius,
  checkNonNegative,
  checkPositive,
  checkRange,
  type Grams,
  grams,
  type SiemensPerMetre,
  type Volts,
} from "@/lib/units";
import { bathConductivity, type BathContents, bathStrength, strongestBathMass } from "./bath";
import { FARADAY_CONSTANT } from "./faraday";
import { solveIncreasing } from "./interpolation";
import { ANODE, anodeBetween, type AnodeKinetics } from "./kinetics";
import { checkCell } from "./operating-point";
import { carbonateFromBicarbonate, MOLAR_MASS, type Salt } from "./salts";
import { CLOSED_FORM_ERROR_SHARE } from "./shape";
import { saturation } from "./solubility";
import { type CellWithoutBath, conductivityCarrying } from "./strongest-dose";

/**
 * Share of the anode's charge whose acid drives carbon dioxide out of a bicarbonate bath instead of being
 * taken up again by what the part makes: assumption, no measurement found.
 */
export const GASSING_SHARE = 0.05;

/** °C: carbonate dissolves best here; below it both salts dissolve the better the warmer it is. */
const SOLUBILITY_PEAK_C = 35.4;

/**
 * What a bath holds after a charge has passed: bicarbonate slowly turns to carbonate, and carbonate stays.
 *
 *   dm_b/dQ = −k · m_b/(m_b + m_c),   k = γ · 2·M_b·3600/F
 *
 * One proton of the anode frees one CO₂, and with it two bicarbonates turn to one carbonate. γ is
 * `GASSING_SHARE`. With the sodium kept, m_c = S − a·m_b, and the law integrates to
 *
 *   S·ln m_b + (1 − a)·m_b = const − k·Q,   a = M_c/(2·M_b)
 *
 * @param bath   masses in g, volume in L
 * @param charge A·h, ≥ 0
 * @returns the bath with less bicarbonate and more carbonate; sodium is kept
 * @throws RangeError if an argument is out of range
 * @example bathAfterCharge({ carbonateMassG: 0, bicarbonateMassG: 75, volumeL: 15, temperatureC: 20 },
 *   ampereHours(10)).bicarbonateMassG // about 71.9 g
 */
export function bathAfterCharge(bath: BathContents, charge: AmpereHours): BathContents {
  bathStrength(bath); // its checks
  checkNonNegative("charge", charge, "A·h");
  if (bath.bicarbonateMassG === 0 || charge === 0) return bath;
  const turnsTo = (bicarbonateG: number): number => carbonateFromBicarbonate(grams(bicarbonateG));
  const sodiumAsCarbonateG = bath.carbonateMassG + turnsTo(bath.bicarbonateMassG);
  const lost =
    (GASSING_SHARE * 2 * MOLAR_MASS.SODIUM_BICARBONATE * 3600 * charge) / FARADAY_CONSTANT;
  const law = (logarithm: number): number => {
    const bicarbonateG = Math.exp(logarithm);
    return sodiumAsCarbonateG * logarithm + bicarbonateG - turnsTo(bicarbonateG);
  };
  const before = Math.log(bath.bicarbonateMassG);
  const least = before - lost / sodiumAsCarbonateG;
  const left = Math.exp(solveIncreasing(law, law(before) - lost, least, before));
  return {
    ...bath,
    bicarbonateMassG: left,
    carbonateMassG: sodiumAsCarbonateG - turnsTo(left),
  };
}

/**
 * What a bath holds, by a conductivity measured in it: the books' two salts, both scaled by one factor.
 *
 * Drag-out and sludge take salt with them, evaporation brings it together; a meter cannot tell the salts apart, so
 * their proportion stays as the books have it.
 *
 * @param booked   what the books say; some salt must be in it
 * @param measured S/m at the bath's temperature, above 0, at most that of the strongest bath in the tables
 * @returns the bath as it is
 * @throws RangeError if the books know of no salt, or the figure is out of reach
 * @example bathFromConductivity({ carbonateMassG: 100, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 },
 *   siemensPerMetre(0.35)).carbonateMassG // about 50 g
 */
export function bathFromConductivity(
  booked: BathContents,
  measured: SiemensPerMetre,
): BathContents {
  const bookedG = booked.carbonateMassG + booked.bicarbonateMassG;
  checkPositive("salt in the books", bookedG, "g");
  const scaled = (massG: number): BathContents => ({
    ...booked,
    carbonateMassG: (booked.carbonateMassG * massG) / bookedG,
    bicarbonateMassG: (booked.bicarbonateMassG * massG) / bookedG,
  });
  const kappa = (massG: number): number => bathConductivity(scaled(massG));
  const mostG = strongestBathMass(booked);
  checkPositive("conductivity", measured, "S/m");
  checkRange("conductivity", measured, 0, kappa(mostG), "S/m");
  return scaled(solveIncreasing(kappa, measured, 0, mostG));
}

/**
 * Anhydrous salt to add so that a bath conducts as wanted: the inverse dose.
 *
 * @param bath   as it is now, plain water too
 * @param salt   what will be put in
 * @param wanted S/m at the bath's temperature
 * @returns g of anhydrous salt; 0 where it conducts so well already
 * @throws RangeError if no amount that dissolves gets there
 * @example saltForConductivity({ carbonateMassG: 0, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 },
 *   "SODIUM_CARBONATE", siemensPerMetre(1.31)) // 201.7 g: 1 %
 */
export function saltForConductivity(
  bath: BathContents,
  salt: Salt,
  wanted: SiemensPerMetre,
): Grams {
  const present = bathConductivity(bath);
  checkNonNegative("wanted conductivity", wanted, "S/m");
  if (wanted <= present) return grams(0);
  const kappa = (addedG: number): number => bathConductivity(withSalt(bath, salt, addedG));
  const mostG = mostToAdd(bath, salt);
  checkRange("wanted conductivity", wanted, 0, kappa(mostG), "S/m");
  return grams(solveIncreasing(kappa, wanted, 0, mostG));
}

/**
 * The most of a salt that still dissolves and is in the tables, g. The limit hangs on the mixture, and the mixture
 * on what is added; each round brings the two together a hundredfold, since only the density differs.
 */
function mostToAdd(bath: BathContents, salt: Salt): number {
  const presentG = bath.carbonateMassG + bath.bicarbonateMassG;
  let addedG = 1e-9;
  for (let round = 0; round < 12; round += 1) {
    addedG = Math.max(1e-9, strongestBathMass(withSalt(bath, salt, addedG)) - presentG);
  }
  return addedG <= 1e-9 ? 0 : addedG * (1 - 1e-9);
}

function withSalt(bath: BathContents, salt: Salt, addedG: number): BathContents {
  return salt === "SODIUM_CARBONATE"
    ? { ...bath, carbonateMassG: bath.carbonateMassG + addedG }
    : { ...bath, bicarbonateMassG: bath.bicarbonateMassG + addedG };
}

/** A conductivity worked back from a meter: the middle, and how far it may be off. */
export type ConductivityBand = {
  readonly low: number;
  readonly mid: number;
  readonly high: number;
};

/**
 * Conductivity of a bath, worked back from what a load draws.
 *
 *   κ = 1 / (g · ((V − E_rev − η_c − η_a)/I − R_leads − R_contacts))
 *
 * A passive anode leaves the bath fewer volts, so κ comes out higher; so does a smaller g.
 *
 * @param cell    the tank and its load
 * @param voltage V at the supply's terminals while the current flows
 * @param current A, > 0
 * @returns S/m: low with an active anode and a large g, high with a passive one and a small g; `high` is Infinity
 *   where a passive anode alone would take up all the volts
 * @throws RangeError if the volts do not carry that current through this tank, or a figure is out of range
 * @example conductivityFromCurrent(cell, volts(12), amperes(3)).mid // S/m
 */
export function conductivityFromCurrent(
  cell: CellWithoutBath,
  voltage: Volts,
  current: number,
): ConductivityBand {
  checkCell({ ...cell, conductivitySPerM: 1 });
  checkPositive("voltage", voltage, "V");
  checkPositive("current", current, "A");
  const widening = 1 + (cell.shapeLengthErrorShare ?? CLOSED_FORM_ERROR_SHARE);
  const kappa = (anode: AnodeKinetics, shapeLengthM: number): number =>
    conductivityCarrying({ ...cell, shapeLengthM }, anode, voltage, current);
  const mid = kappa(anodeBetween(cell.dissolvingShare), cell.shapeLengthM);
  if (!Number.isFinite(mid)) {
    throw new RangeError(
      `voltage must carry ${current.toFixed(2)} A through reactions, leads and clamps, got ${voltage.toFixed(2)} V`,
    );
  }
  return {
    low: kappa(ANODE.ACTIVE, cell.shapeLengthM * widening),
    mid,
    high: kappa(ANODE.PASSIVE, cell.shapeLengthM / widening),
  };
}

/**
 * The temperature below which a bath drops crystals, if it gets so cold.
 * @returns °C; null where everything stays dissolved down to freezing
 * @throws RangeError if a mass is negative, or the bath stronger than the tables
 * @example coldestDissolved({ carbonateMassG: 2206, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 })
 *   // about 8 °C: a 10 % bath in an unheated shop
 */
export function coldestDissolved(bath: BathContents): Celsius | null {
  const { strength, carbonateShare } = bathStrength(bath);
  // Each salt is asked to stay dissolved at the total strength, as the conductivity does.
  const holds = (temperature: number): number =>
    Math.min(
      carbonateShare > 0 ? saturation("SODIUM_CARBONATE", celsius(temperature)) : Infinity,
      carbonateShare < 1 ? saturation("SODIUM_BICARBONATE", celsius(temperature)) : Infinity,
    );
  if (holds(0) >= strength) return null;
  return celsius(solveIncreasing(holds, strength, 0, SOLUBILITY_PEAK_C));
}
