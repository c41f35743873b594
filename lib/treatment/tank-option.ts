import {
  anhydrousMass,
  bathConductivity,
  type BathContents,
  bathDissolvingShare,
  type CellWithoutBath,
  closedFormShapeLength,
  leadPairResistance,
  SALT_GRADE_FACTS,
  type SaltGrade,
  saltPerLitre,
  strengthFromSaltPerLitre,
  strongestDose,
  type Supply,
  usualDose,
} from "@/lib/electrolysis";
import type { TankShape } from "@/lib/tanks";
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
};

export type Workshop = {
  readonly temperatureC: number;
  readonly roomVolumeM3: number;
  /** Grade that the shop mixes fresh baths from. */
  readonly saltGrade: SaltGrade;
};

/** A tank that could take the part: it has an anode and a supply. */
export type ReadyTank = TankOption & {
  readonly anode: NonNullable<TankOption["anode"]>;
  readonly supply: Supply;
};

/** The cell of a part in a tank, all but the bath. */
export function cellOf(tank: ReadyTank, partAreaM2: number, volumeL: number): CellWithoutBath {
  return {
    supply: tank.supply,
    shapeLengthM: closedFormShapeLength({
      partAreaM2,
      volumeL,
      levelM: tank.workingLevelMm / 1000,
      anodeAreaM2: tank.anode.areaM2,
      arrangement: "RING",
      clearanceM: tank.clearanceMm / 1000,
    }),
    partAreaM2,
    anodeAreaM2: tank.anode.areaM2,
    leadOhm: leadPairResistance({
      oneWayLengthM: tank.leadLengthM,
      areaMm2: tank.leadAreaMm2,
    }),
    contactOhm: tank.contactOhm,
    dissolvingShare: tank.anode.lossFactor,
  };
}

export type PlannedBath = {
  readonly contents: BathContents;
  readonly conductivitySPerM: number;
  readonly freshMix: boolean;
  /** Salt as bought to put in: all of a fresh mix, or the top-up of a bath that is in the tank. */
  readonly saltToAddG: number;
  /** Strongest bath for this load, g/L of anhydrous salt. */
  readonly strongestGPerL: number;
};

/**
 * The bath for a load: the one in the tank, topped up when it is weaker than half the usual dose, or a fresh
 * mix at the usual dose; never stronger than supply and part can take.
 */
export function planBath(
  tank: ReadyTank,
  cell: CellWithoutBath,
  volumeL: number,
  workshop: Workshop,
): PlannedBath {
  const { salt } = SALT_GRADE_FACTS[workshop.saltGrade];
  const strongest = strongestDose(cell, salt, celsius(workshop.temperatureC));
  const strongestGPerL = saltPerLitre(salt, massPercent(strongest.strength));
  const wantedGPerL = Math.min(usualGPerL(workshop.saltGrade, volumeL), strongestGPerL);
  const present = tank.bath;
  const presentGPerL = present ? (present.carbonateG + present.bicarbonateG) / present.volumeL : 0;
  const lackingGPerL = presentGPerL < wantedGPerL / 2 ? Math.max(0, wantedGPerL - presentGPerL) : 0;
  const lackingG = lackingGPerL * volumeL;
  const contents: BathContents = {
    carbonateMassG: (present?.carbonateG ?? 0) + (salt === "SODIUM_CARBONATE" ? lackingG : 0),
    bicarbonateMassG: (present?.bicarbonateG ?? 0) + (salt === "SODIUM_BICARBONATE" ? lackingG : 0),
    volumeL: present?.volumeL ?? volumeL,
    temperatureC: workshop.temperatureC,
  };
  return {
    contents,
    conductivitySPerM: bathConductivity(contents),
    freshMix: present === null,
    saltToAddG: lackingG / SALT_GRADE_FACTS[workshop.saltGrade].anhydrousFraction,
    strongestGPerL,
  };
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
