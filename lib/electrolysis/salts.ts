import { checkNonNegative, type Grams, grams, type Litres, type Standing } from "@/lib/units";

/** What conducts in a bath. A bath may hold both: bicarbonate turns to carbonate in use and by heat. */
export const SALTS = ["SODIUM_CARBONATE", "SODIUM_BICARBONATE"] as const;
export type Salt = (typeof SALTS)[number];

/** What is bought in a bag. */
export const SALT_GRADES = [
  "SODA_ASH_LIGHT",
  "SODA_ASH_DENSE",
  "SODA_MONOHYDRATE",
  "WASHING_SODA_CRYSTALS",
  "BAKING_SODA",
] as const;
export type SaltGrade = (typeof SALT_GRADES)[number];

/** g/mol from the IUPAC abridged atomic weights: Na 22.990, H 1.008, C 12.011, O 15.999. */
export const MOLAR_MASS = {
  SODIUM_CARBONATE: 105.988,
  SODIUM_BICARBONATE: 84.006,
  WATER: 18.015,
} as const;

export type SaltGradeFacts = {
  readonly name: string;
  readonly salt: Salt;
  /** g of anhydrous salt in 1 g of the grade, by molar mass. */
  readonly anhydrousFraction: number;
  /** g/mL as poured. */
  readonly bulkDensityGPerMl: number;
  /** Bulk density is this share either way. */
  readonly bulkDensityErrorShare: number;
  readonly bulkDensityStanding: Standing;
  readonly bulkDensitySource: string;
};

const hydrateFraction = (waters: number): number =>
  MOLAR_MASS.SODIUM_CARBONATE / (MOLAR_MASS.SODIUM_CARBONATE + waters * MOLAR_MASS.WATER);

export const SALT_GRADE_FACTS: Readonly<Record<SaltGrade, SaltGradeFacts>> = {
  SODA_ASH_LIGHT: {
    name: "Soda ash, light",
    salt: "SODIUM_CARBONATE",
    anhydrousFraction: 1,
    bulkDensityGPerMl: 0.61,
    bulkDensityErrorShare: 0.07,
    bulkDensityStanding: "handbook",
    bulkDensitySource: "maker's data: light soda ash 0.57 to 0.65 g/mL",
  },
  SODA_ASH_DENSE: {
    name: "Soda ash, dense",
    salt: "SODIUM_CARBONATE",
    anhydrousFraction: 1,
    bulkDensityGPerMl: 1.025,
    bulkDensityErrorShare: 0.03,
    bulkDensityStanding: "handbook",
    bulkDensitySource: "maker's data: dense soda ash 1.00 to 1.05 g/mL",
  },
  SODA_MONOHYDRATE: {
    name: "Sodium carbonate monohydrate",
    salt: "SODIUM_CARBONATE",
    anhydrousFraction: hydrateFraction(1),
    bulkDensityGPerMl: 0.9,
    bulkDensityErrorShare: 0.35,
    bulkDensityStanding: "assumption",
    bulkDensitySource: "between light and dense soda ash",
  },
  WASHING_SODA_CRYSTALS: {
    name: "Washing soda crystals (decahydrate)",
    salt: "SODIUM_CARBONATE",
    anhydrousFraction: hydrateFraction(10),
    bulkDensityGPerMl: 0.86,
    bulkDensityErrorShare: 0.35,
    bulkDensityStanding: "assumption",
    bulkDensitySource: "crystal density 1.44 g/mL, six tenths of the heap solid",
  },
  BAKING_SODA: {
    name: "Baking soda",
    salt: "SODIUM_BICARBONATE",
    anhydrousFraction: 1,
    bulkDensityGPerMl: 0.933,
    bulkDensityErrorShare: 0.27,
    bulkDensityStanding: "handbook",
    bulkDensitySource: "USDA FoodData Central: 1 tsp = 4.6 g (from memory)",
  },
};

/**
 * Anhydrous salt in a weighed amount of a grade.
 * @param mass g of the grade as weighed, ≥ 0
 * @throws RangeError if the mass is negative or not finite
 * @example anhydrousMass("WASHING_SODA_CRYSTALS", grams(270)) // 100.0 g
 */
export function anhydrousMass(grade: SaltGrade, mass: Grams): Grams {
  checkNonNegative("mass of salt", mass, "g");
  return grams(mass * SALT_GRADE_FACTS[grade].anhydrousFraction);
}

/**
 * How much of a grade to weigh out for an amount of anhydrous salt: the inverse of `anhydrousMass`.
 * @param anhydrous g, ≥ 0
 * @throws RangeError if the mass is negative or not finite
 * @example gradeMass("SODA_MONOHYDRATE", grams(100)) // 117.0 g
 */
export function gradeMass(grade: SaltGrade, anhydrous: Grams): Grams {
  checkNonNegative("mass of anhydrous salt", anhydrous, "g");
  return grams(anhydrous / SALT_GRADE_FACTS[grade].anhydrousFraction);
}

/**
 * Carbonate left when bicarbonate has turned wholly: 2 NaHCO₃ → Na₂CO₃ + H₂O + CO₂.
 * @param bicarbonate g, ≥ 0
 * @example carbonateFromBicarbonate(grams(100)) // 63.08 g
 */
export function carbonateFromBicarbonate(bicarbonate: Grams): Grams {
  checkNonNegative("mass of bicarbonate", bicarbonate, "g");
  return grams((bicarbonate * MOLAR_MASS.SODIUM_CARBONATE) / (2 * MOLAR_MASS.SODIUM_BICARBONATE));
}

/** Level measures and their exact size: NIST Handbook 44 appendix C (US customary). */
export const KITCHEN_MEASURES = {
  TEASPOON: { name: "tsp", millilitres: 4.92892159375 },
  TABLESPOON: { name: "tbsp", millilitres: 14.78676478125 },
  CUP: { name: "US cup", millilitres: 236.5882365 },
  MILLILITRE: { name: "mL", millilitres: 1 },
} as const;
export type KitchenMeasure = keyof typeof KITCHEN_MEASURES;

/** Grades look alike in the bag and pack differently in the cup: common practice, no source. */
export const KITCHEN_ERROR_SHARE = 0.35;

/** An amount told by volume, with how far it may be off. */
export type KitchenAmount = {
  readonly count: number;
  readonly measure: KitchenMeasure;
  readonly massG: number;
  readonly lowG: number;
  readonly highG: number;
  readonly advice: string;
};

const WEIGH_IT = "Weigh it: a spoon or cup of soda can be a third off either way.";

/**
 * Mass of the grade in a kitchen measure, level.
 * @param count how many, ≥ 0
 * @throws RangeError if `count` is negative or not finite
 * @example fromKitchen("BAKING_SODA", 1, "TEASPOON").massG // 4.6 g, 3.0 to 6.2
 */
export function fromKitchen(
  grade: SaltGrade,
  count: number,
  measure: KitchenMeasure,
): KitchenAmount {
  checkNonNegative("count of measures", count, KITCHEN_MEASURES[measure].name);
  const facts = SALT_GRADE_FACTS[grade];
  const massG = count * KITCHEN_MEASURES[measure].millilitres * facts.bulkDensityGPerMl;
  const error = Math.max(facts.bulkDensityErrorShare, KITCHEN_ERROR_SHARE);
  return {
    count,
    measure,
    massG,
    lowG: massG * (1 - error),
    highG: massG * (1 + error),
    advice: WEIGH_IT,
  };
}

/**
 * How many of a measure hold a mass of the grade: the inverse of `fromKitchen`.
 * @param mass g of the grade, ≥ 0
 * @throws RangeError if the mass is negative or not finite
 * @example toKitchen("SODA_ASH_LIGHT", grams(144.3), "CUP").count // 1.0
 */
export function toKitchen(grade: SaltGrade, mass: Grams, measure: KitchenMeasure): KitchenAmount {
  checkNonNegative("mass of salt", mass, "g");
  const one = fromKitchen(grade, 1, measure);
  return fromKitchen(grade, mass / one.massG, measure);
}

/**
 * The usual dose: 80 to 120 mL of soda powder in 20 L. Common practice, no source.
 * @param volume L of bath, ≥ 0
 * @returns mL of powder, low and high
 * @example usualDose(litres(20)) // { lowMl: 80, highMl: 120 }
 */
export function usualDose(volume: Litres): { readonly lowMl: number; readonly highMl: number } {
  checkNonNegative("volume of the bath", volume, "L");
  return { lowMl: 4 * volume, highMl: 6 * volume };
}
