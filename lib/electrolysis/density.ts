import {
  checkPositive,
  checkRange,
  type Grams,
  grams,
  type GramsPerLitre,
  gramsPerLitre,
  type Litres,
  type MassPercent,
  massPercent,
} from "@/lib/units";
import { monotoneCurve, solveIncreasing, type TablePoint } from "./interpolation";
import type { Salt } from "./salts";

/** g/cm³ of water at 20 °C. */
const WATER_DENSITY = 0.9982;

/**
 * g/cm³ at 20 °C, by mass %. CRC Handbook of Chemistry and Physics, 102nd ed., "Concentrative Properties of
 * Aqueous Solutions". Warmer water is lighter: by 0.4 % at 30 °C and 1.2 % at 50 °C, left out here.
 */
const DENSITY_TABLE: Readonly<Record<Salt, readonly TablePoint[]>> = {
  SODIUM_CARBONATE: [
    [0, WATER_DENSITY],
    [0.5, 1.0034],
    [1, 1.0086],
    [2, 1.019],
    [3, 1.0294],
    [5, 1.0502],
    [10, 1.1029],
    [15, 1.1574],
  ],
  SODIUM_BICARBONATE: [
    [0, WATER_DENSITY],
    [0.5, 1.0018],
    [1, 1.0054],
    [2, 1.0125],
    [3, 1.0196],
    [5, 1.0337],
    [6, 1.0408],
  ],
};

const CURVES: Readonly<Record<Salt, (strength: number) => number>> = {
  SODIUM_CARBONATE: monotoneCurve(DENSITY_TABLE.SODIUM_CARBONATE),
  SODIUM_BICARBONATE: monotoneCurve(DENSITY_TABLE.SODIUM_BICARBONATE),
};

/** Strongest solution in the density table, mass %. */
export const STRONGEST_KNOWN_DENSITY: Readonly<Record<Salt, number>> = {
  SODIUM_CARBONATE: 15,
  SODIUM_BICARBONATE: 6,
};

/**
 * Density of a solution at 20 °C.
 * @param strength mass %, 0 to 15 (carbonate) or 6 (bicarbonate)
 * @returns g/cm³, the same number as kg/L
 * @throws RangeError outside the table
 * @example solutionDensity("SODIUM_CARBONATE", massPercent(5)) // 1.0502
 */
export function solutionDensity(salt: Salt, strength: MassPercent): number {
  checkRange("strength", strength, 0, STRONGEST_KNOWN_DENSITY[salt], "mass %");
  return CURVES[salt](strength);
}

/**
 * Grams of salt in a litre of solution.
 *   c = 10·w·ρ
 * @throws RangeError outside the density table
 * @example saltPerLitre("SODIUM_CARBONATE", massPercent(1)) // 10.09 g/L
 */
export function saltPerLitre(salt: Salt, strength: MassPercent): GramsPerLitre {
  return gramsPerLitre(10 * strength * solutionDensity(salt, strength));
}

/**
 * Strength of a solution that holds so many grams a litre: the inverse of `saltPerLitre`.
 * @throws RangeError if it is stronger than the density table reaches
 * @example strengthFromSaltPerLitre("SODIUM_CARBONATE", gramsPerLitre(52.51)) // 5.0 %
 */
export function strengthFromSaltPerLitre(salt: Salt, concentration: GramsPerLitre): MassPercent {
  const strongest = STRONGEST_KNOWN_DENSITY[salt];
  const most = saltPerLitre(salt, massPercent(strongest));
  checkRange("salt in a litre", concentration, 0, most, "g/L");
  return massPercent(
    solveIncreasing((w) => saltPerLitre(salt, massPercent(w)), concentration, 0, strongest),
  );
}

/**
 * Anhydrous salt for a bath of a wanted strength.
 * @param volume L of finished solution, > 0
 * @throws RangeError if the volume is not above 0 or the strength outside the density table
 * @example saltForBath("SODIUM_CARBONATE", litres(20), massPercent(0.5)) // 100.3 g
 */
export function saltForBath(salt: Salt, volume: Litres, strength: MassPercent): Grams {
  checkPositive("volume of the bath", volume, "L");
  return grams(volume * saltPerLitre(salt, strength));
}
