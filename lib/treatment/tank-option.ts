import {
  anhydrousMass,
  bathConductivity,
  type BathContents,
  bathDissolvingShare,
  type CellWithoutBath,
  CLOSED_FORM_ORIGIN,
  closedFormShapeLength,
  FIELD_ORIGIN,
  layeredShapeLength,
  leadPairResistance,
  type LoadedTank,
  SALT_GRADE_FACTS,
  type SaltGrade,
  saltPerLitre,
  type ShapeLengthOrigin,
  strengthFromSaltPerLitre,
  strongestDose,
  type Supply,
  usualDose,
} from "@/lib/electrolysis";
import type { TankShape } from "@/lib/tanks";
import type { FieldFindings } from "./field-types";
import { celsius, grams, gramsPerLitre, litres, massPercent } from "@/lib/units";

/** A tank as the planner sees it: what it is and what is in it now. */
export type TankOption = {
  readonly id: string;
  readonly name: string;
  readonly shape: TankShape;
  readonly workingLevelMm: number;
  readonly clearanceMm: number;
  readonly anode: { readonly areaM2: number; readonly lossFactor: number } | null;
  readonly bath: {
    readonly carbonateG: number;
    readonly bicarbonateG: number;
    readonly volumeL: number;
  } | null;
  readonly supply: Supply | null;
  readonly supplyEfficiency: number;
  readonly leadLengthM: number;
  readonly leadAreaMm2: number;
  readonly contactOhm: number;
  /** What the readings of this tank's loads say; the entered and the closed-form figures where left out. */
  readonly measured?: TankMeasured | undefined;
  /** What a field solution of this part in this tank says; closed forms and shape defaults where left out. */
  readonly field?: FieldFindings | undefined;
};

/** Contacts and bath of a tank as learned from the readings of its loads. */
export type TankMeasured = {
  /** clamps and clips together, Ω */
  readonly contactOhm: number;
  /** κ·g as it is over what the model gives, above 0, and how far that may be off either way as a share */
  readonly bathFactor: number;
  readonly bathFactorErrorShare: number;
  readonly loads: number;
};

export type Workshop = {
  readonly temperatureC: number;
  readonly roomVolumeM3: number;
  /** Relative, %; 60 where left out. */
  readonly humidityPercent?: number;
  /** Grade that the shop mixes fresh baths from. */
  readonly saltGrade: SaltGrade;
};

/** A tank that could take the part: it has an anode and a supply. */
export type ReadyTank = TankOption & {
  readonly anode: NonNullable<TankOption["anode"]>;
  readonly supply: Supply;
  /**
   * Shape length of the cell by the field over that by the closed form, where the field was worked out. Other settings of
   * the same cell are taken to be off by as much.
   */
  readonly fieldTimes?: number | undefined;
};

/** A field solution's shape length is within this share, for what nobody knows of the layers: assumption. */
const FIELD_ERROR_SHARE = 0.2;

/** The cell of a part in a tank, all but the bath: as the tank's readings have it where there are any. */
export function cellOf(tank: ReadyTank, partAreaM2: number, volumeL: number): CellWithoutBath {
  const { measured, fieldTimes } = tank;
  const shapeLengthM = closedFormShapeLength(loadedTank(tank, partAreaM2, volumeL));
  const errorShare =
    measured?.bathFactorErrorShare ?? (fieldTimes === undefined ? undefined : FIELD_ERROR_SHARE);
  return {
    supply: tank.supply,
    shapeLengthM: shapeLengthM * (fieldTimes ?? 1) * (measured?.bathFactor ?? 1),
    ...(errorShare !== undefined && { shapeLengthErrorShare: errorShare }),
    partAreaM2,
    anodeAreaM2: tank.anode.areaM2,
    leadOhm: leadPairResistance({
      oneWayLengthM: tank.leadLengthM,
      areaMm2: tank.leadAreaMm2,
    }),
    contactOhm: measured?.contactOhm ?? tank.contactOhm,
    dissolvingShare: tank.anode.lossFactor,
  };
}

function loadedTank(tank: ReadyTank, partAreaM2: number, volumeL: number): LoadedTank {
  return {
    partAreaM2,
    volumeL,
    levelM: tank.workingLevelMm / 1000,
    anodeAreaM2: tank.anode.areaM2,
    arrangement: "RING",
    clearanceM: tank.clearanceMm / 1000,
  };
}

/** The tank with what its field says of the cell, and without the findings themselves. */
export function withField(
  { field, ...tank }: ReadyTank,
  partAreaM2: number,
  volumeL: number,
): ReadyTank {
  if (!field) return tank;
  const byField = layeredShapeLength(field.planned.shapeLengthM, partAreaM2, tank.anode.areaM2);
  const closed = closedFormShapeLength(loadedTank(tank, partAreaM2, volumeL));
  return { ...tank, fieldTimes: byField / closed };
}

/** Where the figures of a tank's cell come from. */
export function cellOrigin({
  measured,
  fieldTimes,
}: Pick<ReadyTank, "measured" | "fieldTimes">): ShapeLengthOrigin {
  const bare = fieldTimes === undefined ? CLOSED_FORM_ORIGIN : FIELD_ORIGIN;
  if (!measured) return bare;
  const origin = {
    standing: "measured here",
    source: `from the readings of ${measured.loads} loads in this tank`,
  } as const;
  return {
    ...origin,
    source: `${bare.source}, times ${Number(measured.bathFactor.toPrecision(3))} ${origin.source}`,
    contacts: origin,
  };
}

export type PlannedBath = {
  readonly contents: BathContents;
  readonly conductivitySPerM: number;
  readonly freshMix: boolean;
  /** Water to bring a bath that is in the tank up to the working level, L. */
  readonly waterToAddL: number;
  /** Salt as bought to put in: all of a fresh mix, or the top-up of a bath that is in the tank. */
  readonly saltToAddG: number;
  /** Strongest bath for this load, g/L of anhydrous salt. */
  readonly strongestGPerL: number;
};

const NO_BATH: NonNullable<TankOption["bath"]> = { carbonateG: 0, bicarbonateG: 0, volumeL: 0 };

/**
 * The bath for a load: the one in the tank, topped up when it is weaker than half the usual dose, or a fresh
 * mix at the usual dose; what is added never makes it stronger than supply and part can take. A bath that has
 * sunk is first filled up with plain water: what evaporates leaves its soda behind.
 *
 * @returns the bath, or in words why the one in the tank cannot be planned with
 */
export function planBath(
  tank: ReadyTank,
  cell: CellWithoutBath,
  volumeL: number,
  workshop: Workshop,
): PlannedBath | string {
  const { salt } = SALT_GRADE_FACTS[workshop.saltGrade];
  const strongest = strongestDose(cell, salt, celsius(workshop.temperatureC));
  const strongestGPerL = saltPerLitre(salt, massPercent(strongest.strength));
  const wantedGPerL = Math.min(usualGPerL(workshop.saltGrade, volumeL), strongestGPerL);
  const present = tank.bath;
  const { carbonateG, bicarbonateG, volumeL: presentL } = present ?? NO_BATH;
  const filledL = Math.max(volumeL, presentL);
  const presentGPerL = (carbonateG + bicarbonateG) / filledL;
  const lackingGPerL = presentGPerL < wantedGPerL / 2 ? Math.max(0, wantedGPerL - presentGPerL) : 0;
  const lackingG = lackingGPerL * filledL;
  const contents: BathContents = {
    carbonateMassG: carbonateG + (salt === "SODIUM_CARBONATE" ? lackingG : 0),
    bicarbonateMassG: bicarbonateG + (salt === "SODIUM_BICARBONATE" ? lackingG : 0),
    volumeL: filledL,
    temperatureC: workshop.temperatureC,
  };
  const conductivitySPerM = conductivityOrWhyNot(contents);
  if (typeof conductivitySPerM === "string") return conductivitySPerM;
  return {
    contents,
    conductivitySPerM,
    freshMix: present === null,
    waterToAddL: present ? filledL - presentL : 0,
    saltToAddG: lackingG / SALT_GRADE_FACTS[workshop.saltGrade].anhydrousFraction,
    strongestGPerL,
  };
}

/**
 * A bath outside the tables (too strong, or not all dissolved at this temperature) rules out its own tank, not
 * the plan: the refusal of the model becomes the reason.
 */
function conductivityOrWhyNot(contents: BathContents): number | string {
  try {
    return bathConductivity(contents);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return `Its bath cannot be planned with: ${error.message}. Dilute or renew it.`;
  }
}

/** Middle of the usual dose of powder, as anhydrous salt in a litre, g/L. */
function usualGPerL(grade: SaltGrade, volumeL: number): number {
  const dose = usualDose(litres(volumeL));
  const powderG = ((dose.lowMl + dose.highMl) / 2) * SALT_GRADE_FACTS[grade].bulkDensityGPerMl;
  return anhydrousMass(grade, grams(powderG)) / volumeL;
}

/** φ of the charge, mean and error, for the salts in the bath and this anode's own factor. */
export function lossShare(
  tank: ReadyTank,
  contents: BathContents,
): { mean: number; error: number } {
  const { error } = bathDissolvingShare(contents);
  return { mean: tank.anode.lossFactor, error };
}

/** Strength of the bath, mass % of the salt that there is more of; for people to read. */
export function strengthPercent(contents: BathContents): number {
  const carbonate = contents.carbonateMassG >= contents.bicarbonateMassG;
  return strengthFromSaltPerLitre(
    carbonate ? "SODIUM_CARBONATE" : "SODIUM_BICARBONATE",
    gramsPerLitre((contents.carbonateMassG + contents.bicarbonateMassG) / contents.volumeL),
  );
}
