import {
  celsius,
  checkNonNegative,
  checkPositive,
  massPercent,
  type SiemensPerMetre,
  siemensPerMetre,
} from "@/lib/units";
import { conductivity, strongestSolution, STRONGEST_KNOWN_CONDUCTIVITY } from "./conductivity";
import { solutionDensity, STRONGEST_KNOWN_DENSITY } from "./density";
import { type Salt } from "./salts";

/** One fill of a tank: both salts, anhydrous, in the finished solution. */
export type BathContents = {
  readonly carbonateMassG: number;
  readonly bicarbonateMassG: number;
  readonly volumeL: number;
  readonly temperatureC: number;
};

/** Share of the anode's charge that dissolves iron, φ, before this shop has weighed one: assumption. */
export const DISSOLVING_SHARE: Readonly<
  Record<Salt, { readonly mean: number; readonly error: number }>
> = {
  SODIUM_CARBONATE: { mean: 0.15, error: 0.15 },
  SODIUM_BICARBONATE: { mean: 0.5, error: 0.25 },
};

/**
 * Strength of a bath: both salts together, and each one's share of that.
 *
 * The density is each salt's own at the total strength, weighted by mass. w = 100·m / (1000·V·ρ(w)) is found
 * by repetition; ρ rises by about 1 % for 1 mass %, so each round cuts the error to a fifth or less.
 *
 * @returns `strength` in mass %, `carbonateShare` from 0 to 1 (1 for plain water, where it has no effect)
 * @throws RangeError if a mass is negative, the volume not above 0, or the bath stronger than the tables
 * @example bathStrength({ carbonateMassG: 100, bicarbonateMassG: 0, volumeL: 20, temperatureC: 18 }).strength // 0.50 %
 */
export function bathStrength(bath: BathContents): {
  readonly strength: number;
  readonly carbonateShare: number;
} {
  const { massG, carbonateShare } = saltsOf(bath);
  const most = strongest(carbonateShare, STRONGEST_KNOWN_DENSITY);
  const perLitre = massG / bath.volumeL;
  let strength = Math.min(perLitre / 10, most);
  for (let round = 0; round < 40; round += 1) {
    const next = perLitre / (10 * mixedDensity(strength, carbonateShare));
    if (next > most) {
      throw new RangeError(`strength must be from 0 to ${most} mass %, got ${next.toFixed(1)}`);
    }
    if (next === strength) break;
    strength = next;
  }
  return { strength, carbonateShare };
}

/**
 * Conductivity of a bath that may hold both salts.
 *
 * Mixing rule (assumption): each salt's κ as if all the salt were that one, weighted by its share of the mass.
 * It is exact for one salt alone, and lets the ions hold each other back as the total strength does.
 * Each salt must stay dissolved at the total strength.
 *
 * @param bath masses in g of anhydrous salt, volume in L, temperature in °C from 0 to 50
 * @returns S/m; 0 for plain water
 * @throws RangeError if an argument is out of range, or the bath stronger than the tables or saturation
 * @example bathConductivity({ carbonateMassG: 0, bicarbonateMassG: 75, volumeL: 15, temperatureC: 30 }) // 0.50 S/m
 */
export function bathConductivity(bath: BathContents): SiemensPerMetre {
  const { strength, carbonateShare } = bathStrength(bath);
  const most = strongest(carbonateShare, STRONGEST_KNOWN_CONDUCTIVITY);
  if (strength > most) {
    throw new RangeError(`strength must be from 0 to ${most} mass %, got ${strength.toFixed(1)}`);
  }
  const kappa = (salt: Salt): number =>
    conductivity(salt, massPercent(strength), celsius(bath.temperatureC));
  return siemensPerMetre(weigh(carbonateShare, kappa));
}

/**
 * Prior of the share of the anode's charge that dissolves iron in this bath, by the mass of each salt.
 * @returns mean and error, shares
 * @example bathDissolvingShare({ carbonateMassG: 0, bicarbonateMassG: 75, volumeL: 15, temperatureC: 20 }).mean // 0.5
 */
export function bathDissolvingShare(bath: BathContents): {
  readonly mean: number;
  readonly error: number;
} {
  const { carbonateShare } = bathStrength(bath);
  return {
    mean: weigh(carbonateShare, (salt) => DISSOLVING_SHARE[salt].mean),
    error: weigh(carbonateShare, (salt) => DISSOLVING_SHARE[salt].error),
  };
}

/**
 * The most salt that this bath could hold in its present proportion: to saturation, or to the end of the tables.
 *
 * @param bath its volume, temperature and proportion count; plain water is taken as carbonate
 * @returns g of anhydrous salt
 * @throws RangeError if a mass is negative, the volume not above 0 or the temperature outside 0 to 50 °C
 * @example strongestBathMass({ carbonateMassG: 1, bicarbonateMassG: 0, volumeL: 20, temperatureC: 0 }) // 1386 g: 6.5 %
 */
export function strongestBathMass(bath: BathContents): number {
  const { carbonateShare } = saltsOf(bath);
  const dissolves = (salt: Salt): number => strongestSolution(salt, celsius(bath.temperatureC));
  const limits = [
    carbonateShare > 0 ? dissolves("SODIUM_CARBONATE") : Number.POSITIVE_INFINITY,
    carbonateShare < 1 ? dissolves("SODIUM_BICARBONATE") : Number.POSITIVE_INFINITY,
  ];
  const strength = Math.min(...limits);
  return 10 * strength * mixedDensity(strength, carbonateShare) * bath.volumeL * (1 - 1e-12);
}

function saltsOf(bath: BathContents): { massG: number; carbonateShare: number } {
  checkNonNegative("mass of carbonate", bath.carbonateMassG, "g");
  checkNonNegative("mass of bicarbonate", bath.bicarbonateMassG, "g");
  checkPositive("volume of the bath", bath.volumeL, "L");
  const massG = bath.carbonateMassG + bath.bicarbonateMassG;
  return { massG, carbonateShare: massG === 0 ? 1 : bath.carbonateMassG / massG };
}

function mixedDensity(strength: number, carbonateShare: number): number {
  return weigh(carbonateShare, (salt) => solutionDensity(salt, massPercent(strength)));
}

/** Asks only for the salts that are there, so that one alone keeps its own limits. */
function weigh(carbonateShare: number, of: (salt: Salt) => number): number {
  if (carbonateShare === 1) return of("SODIUM_CARBONATE");
  if (carbonateShare === 0) return of("SODIUM_BICARBONATE");
  return carbonateShare * of("SODIUM_CARBONATE") + (1 - carbonateShare) * of("SODIUM_BICARBONATE");
}

function strongest(carbonateShare: number, limits: Readonly<Record<Salt, number>>): number {
  return carbonateShare === 1 ? limits.SODIUM_CARBONATE : limits.SODIUM_BICARBONATE;
}
