import {
  entered,
  SALT_GRADE_FACTS,
  toKitchen,
  workedAnodeLoss,
  workedBathHeat,
  workedConductivity,
  workedEnergyAtWall,
  workedHydrogen,
  workedOperatingPoint,
  workedVentilation,
} from "@/lib/electrolysis";
import {
  ampereHours,
  amperes,
  celsius,
  grams,
  kilowattHours,
  volts,
  type Worked,
} from "@/lib/units";
import { densities, type HoursRange, workedHours } from "./hours";
import { type HoursLearned, workedLearnedHours } from "./learned";
import type { PartDescription, PartSize } from "./part";
import { type Candidate, currentSpread } from "./candidate";
import { type RoomFigures, roomFigures, workedClosedRoom, workedOpening } from "./figures-room";
import { cellOf, cellOrigin, lossShare, strengthPercent, type Workshop } from "./tank-option";

/** Every figure of a plan, each with its working. */
export type PlanFigures = {
  readonly areaM2: Worked;
  readonly massG: Worked;
  readonly solutionL: Worked;
  readonly saltG: Worked;
  /** The salt in cups or spoons, in words, with its error. */
  readonly kitchen: string;
  readonly conductivitySPerM: Worked;
  readonly currentA: Worked;
  readonly densityAPerM2: Worked;
  readonly hoursOutside: Worked;
  readonly hoursInside: Worked | null;
  readonly hours: Worked;
  readonly chargeAh: Worked;
  readonly hydrogenL: Worked;
  readonly airM3PerH: Worked;
  readonly openingCm2: Worked;
  readonly closedRoomH: Worked;
  readonly heatW: Worked;
  readonly anodeLossG: Worked;
  readonly energyKwh: Worked;
} & Partial<RoomFigures>; // plans kept from before these were worked out lack them

type PlanContext = {
  readonly part: PartDescription;
  readonly size: PartSize;
  readonly chosen: Candidate;
  readonly workshop: Workshop;
  readonly hours: HoursRange;
  /** Hours before learning; the same where nothing is learned yet. */
  readonly modelHours: HoursRange;
  readonly learned: HoursLearned | undefined;
};

/** Works out every figure of the chosen tank. */
export function planFigures(context: PlanContext): PlanFigures {
  const { part, size, chosen, workshop, hours } = context;
  const { band, bath, tank, wetAreaM2, volumeL } = chosen;
  const { mid } = band;
  const charge = ampereHours(mid.currentA * hours.p50);
  const spread = currentSpread(band);
  const split = densities(mid.currentA, wetAreaM2, size);
  const outputKwh = (charge * mid.terminalVoltageV) / 1000;
  const air = workedVentilation(amperes(band.high.currentA));
  return {
    areaM2: size.areaM2,
    massG: size.steelMassG,
    solutionL: workedSolution(chosen),
    saltG: workedSalt(context),
    kitchen: kitchenWords(chosen, workshop),
    conductivitySPerM: workedConductivity(bath.contents),
    currentA: workedOperatingPoint(
      { ...cellOf(tank, wetAreaM2, volumeL), conductivitySPerM: bath.conductivitySPerM },
      cellOrigin(tank),
    ),
    densityAPerM2: workedDensity(mid.currentA, wetAreaM2),
    hoursOutside: workedHours("hours outside", part, split.outsideAPerM2, spread),
    hoursInside:
      split.insideAPerM2 === null
        ? null
        : size.seen
          ? workedHours("hours inside", part, split.insideAPerM2, spread)
          : workedHours("hours inside", part, split.outsideAPerM2, spread, size.insideLag),
    hours: workedWholeHours(context),
    chargeAh: workedCharge(mid.currentA, hours),
    hydrogenL: workedHydrogen(charge, celsius(workshop.temperatureC)),
    airM3PerH: air,
    openingCm2: workedOpening(air.value),
    closedRoomH: workedClosedRoom(band.high.currentA, workshop),
    heatW: workedBathHeat(amperes(mid.currentA), volts(mid.cellVoltageV)),
    anodeLossG: workedAnodeLoss(charge, lossShare(tank, bath.contents)),
    energyKwh: workedEnergyAtWall(kilowattHours(outputKwh), tank.supplyEfficiency),
    ...roomFigures(chosen, workshop, hours),
  };
}

function workedSolution({ tank, volumeL, levelMm }: Candidate): Worked {
  return {
    name: "solution",
    value: volumeL,
    unit: "L",
    formula: "V = h/6·(A_bottom + 4·A_middle + A_level), or the measured marks",
    inputs: [
      entered("working level", "h", tank.workingLevelMm, "mm"),
      {
        name: "level with the part in",
        value: Math.round(levelMm),
        unit: "mm",
        standing: "handbook",
      },
    ],
    standing: "entered here",
    source: "prismoid rule, exact for these shapes; steel displaces its mass / 7.85 kg/L",
  };
}

function workedSalt({ chosen, workshop }: PlanContext): Worked {
  const { bath, volumeL } = chosen;
  const facts = SALT_GRADE_FACTS[workshop.saltGrade];
  return {
    name: bath.freshMix ? `${facts.name} for a fresh mix` : `${facts.name} to add`,
    value: bath.saltToAddG,
    unit: "g",
    formula:
      "m = V · min(usual dose, strongest the supply and part can take), less what is in the bath",
    inputs: [
      { name: "solution", symbol: "V", value: volumeL, unit: "L", standing: "entered here" },
      {
        name: "usual dose of powder",
        value: "{80 to 120 mL} in {20 L}",
        standing: "common practice",
      },
      {
        name: "strongest for this supply and part",
        value: bath.strongestGPerL,
        unit: "g/L",
        standing: "assumption",
        source: "operating point at the supply's continuous rating, 50 A/m² at most",
      },
      {
        name: "strength of the bath planned with",
        value: strengthPercent(bath.contents),
        unit: "mass %",
        standing: "handbook",
      },
    ],
    standing: "common practice",
    source: "common practice, no source, capped by the operating point",
    note: "Stronger is not better: it overloads a small charger.",
  };
}

function kitchenWords({ bath }: Candidate, workshop: Workshop): string {
  if (bath.saltToAddG < 1) return "No salt to add: the bath in the tank will do.";
  const measure = bath.saltToAddG > 100 ? "CUP" : "TABLESPOON";
  const amount = toKitchen(workshop.saltGrade, grams(bath.saltToAddG), measure);
  const error = Math.round(((amount.highG - amount.massG) / amount.massG) * 100);
  const name = measure === "CUP" ? "US cups" : "US tablespoons";
  return `about ${amount.count.toFixed(1)} ${name}, level, ± ${error} %. ${amount.advice}`;
}

/** Mean current density on the part, with its working. */
export function workedDensity(currentA: number, areaM2: number): Worked {
  return {
    name: "current density on the part",
    value: currentA / areaM2,
    unit: "A/m²",
    formula: "j = I / A",
    inputs: [
      { name: "current", symbol: "I", value: currentA, unit: "A", standing: "assumption" },
      {
        name: "area under the bath",
        symbol: "A",
        value: areaM2,
        unit: "m²",
        standing: "assumption",
      },
    ],
    standing: "assumption",
    note: "Shops work between 1 and 50 A/m² (common practice, no source).",
  };
}

function workedWholeHours({ chosen, hours, modelHours, learned }: PlanContext): Worked {
  const model: Worked = {
    name: "hours in the bath",
    value: modelHours.p50,
    unit: "h",
    low: modelHours.p10,
    high: modelHours.p90,
    formula:
      chosen.dips > 1
        ? "dips × the slower of outside and inside"
        : "the slower of outside and inside",
    inputs: [{ name: "dips", value: chosen.dips, standing: "entered here" }],
    standing: "assumption",
    note: "Half are done by the middle figure, nine in ten by the high one.",
  };
  return learned ? workedLearnedHours(model, modelHours, hours, learned) : model;
}

function workedCharge(currentA: number, hours: HoursRange): Worked {
  return {
    name: "charge",
    value: currentA * hours.p50,
    unit: "A·h",
    low: currentA * hours.p10,
    high: currentA * hours.p90,
    formula: "Q = I · t",
    inputs: [
      { name: "current", symbol: "I", value: currentA, unit: "A", standing: "assumption" },
      {
        name: "hours in the bath",
        symbol: "t",
        value: hours.p50,
        unit: "h",
        standing: "assumption",
      },
    ],
    standing: "assumption",
  };
}
