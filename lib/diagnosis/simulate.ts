/**
 * Simulated tanks with one fault, to try the diagnosis against: seeded, and built on the operating point alone. Its
 * faults are physical (areas, resistances, strengths that change over time), not the diagnosis's families.
 */
import {
  anodeBetween,
  type AnodeKinetics,
  type Cell,
  closedFormShapeLength,
  operatingBand,
} from "@/lib/electrolysis";
import type { Expectation, RunReading } from "./expectation";
import { Dice } from "./simulate-dice";
import { drawHarm, type HarmByHour, type SimulatedFault } from "./simulate-faults";
import { drawTank, type Harm, meter, type SoundTank } from "./simulate-tank";
import { usualCurrent } from "./usual-current";

/** What the shop has at hand beside the meter. */
export type Records = {
  /** runs of this tank before; the plan alone when 0 */
  readonly earlierRuns: number;
  /** chance that the level is read with a reading */
  readonly levelRead: number;
  /** chance that the conductivity was measured */
  readonly conductivityMeasured: number;
};

export type SimulatedRun = {
  readonly fault: SimulatedFault;
  readonly readings: readonly RunReading[];
  readonly expected: Expectation;
  /** ln of the noise-free current over what it would be without the fault, at the last reading */
  readonly shift: number;
};

/** A run with a fault of random severity and onset, or with none. */
export function simulateRun(seed: number, fault: SimulatedFault, records: Records): SimulatedRun {
  const dice = new Dice(seed);
  const tank = drawTank(dice);
  const hours = drawHours(dice);
  const span = hours.at(-1) ?? 1;
  const harm = drawHarm(dice, fault, tank, span);
  const settled = dice.between(0, 1) * tank.dissolvingShare;
  const settlingHours = dice.about(0.3, 3);
  const anodeAt = (hour: number): AnodeKinetics =>
    anodeBetween(settled + (tank.dissolvingShare - settled) * Math.exp(-hour / settlingHours));
  const warming = dice.between(-0.1, 1.2);
  const startC = dice.between(8, 30);
  const levelWant = -6 * Math.log(1 - dice.between(0, 0.98));
  const show = (hour: number, hurt: Harm): { amps: number; volts: number } =>
    meter(tank, anodeAt(hour), 1 + 0.02 * warming * hour, hurt);
  const readings = hours.map((hour): RunReading => {
    const hurt = harm(hour);
    const { amps, volts } = show(hour, hurt);
    const sign = hurt.meter === "reversed" ? -1 : 1;
    const level = tank.loaded.levelM * 1000 * (hurt.level ?? 1) - levelWant;
    return {
      atMs: hour * 3_600_000,
      currentA: rounded(sign * dice.noisy(amps, 0.05), 100),
      voltsV: rounded(sign * dice.noisy(volts, 0.05), 10),
      temperatureC: dice.chance(0.6) ? Math.round(startC + warming * hour + dice.normal()) : null,
      levelMm: dice.chance(records.levelRead) ? Math.round(level + 2 * dice.normal()) : null,
    };
  });
  const withFault = show(span, harm(span)).amps;
  const without = show(span, {}).amps;
  return {
    fault,
    readings,
    expected: whatTheShopKnows(dice, tank, { fault, startC, records, harm }),
    shift: Math.log(Math.max(withFault, 0.01) / without),
  };
}

const rounded = (value: number, parts: number): number => Math.round(value * parts) / parts;

function drawHours(dice: Dice): number[] {
  const count = Math.floor(dice.between(4, 11));
  const gap = dice.about(0.4, 2.5);
  let hour = dice.between(0.1, 0.6);
  return Array.from({ length: count }, () => {
    const here = hour;
    hour += gap * dice.between(0.5, 1.5);
    return here;
  });
}

type Known = {
  readonly fault: SimulatedFault;
  readonly startC: number;
  readonly records: Records;
  readonly harm: HarmByHour;
};

/** The shop's side: its plan by the closed form, its earlier runs, and its records. */
function whatTheShopKnows(
  dice: Dice,
  tank: SoundTank,
  { fault, startC, records, harm }: Known,
): Expectation {
  const planned: Cell = {
    supply: tank.supply,
    conductivitySPerM: tank.conductivity,
    shapeLengthM: closedFormShapeLength(tank.loaded),
    partAreaM2: tank.loaded.partAreaM2,
    anodeAreaM2: tank.loaded.anodeAreaM2,
    leadOhm: tank.leadOhm,
    contactOhm: tank.contactOhm,
    dissolvingShare: tank.dissolvingShare,
  };
  const ratios = Array.from({ length: records.earlierRuns }, () =>
    dice.noisy(tank.shapeFactor, 0.1),
  );
  const usual = usualCurrent(ratios);
  const measured = dice.chance(records.conductivityMeasured);
  const band = operatingBand(planned);
  return {
    currentLowA: band.low.currentA,
    currentHighA: band.high.currentA,
    cell: { ...planned, shapeLengthM: planned.shapeLengthM * Math.exp(usual.lnRatio) },
    bathErrorLog: usual.errorLog,
    loadedMs: 0,
    bathTemperatureC: startC,
    workingLevelMm: tank.loaded.levelM * 1000,
    bathChargeAhPerL:
      fault === "BATH_SPENT" ? dice.between(15, 45) : -7 * Math.log(1 - dice.between(0, 0.95)),
    anodeWearShare: fault === "ANODE_WORN" ? dice.between(0.85, 1.6) : dice.between(0, 1),
    clampHours: fault === "LEAD_CORRODED" ? dice.about(20, 400) : dice.about(5, 200),
    brushedHours: fault === "ANODE_PASSIVE" ? dice.about(20, 400) : dice.about(5, 200),
    conductivity: measured
      ? { ratio: dice.noisy(harm(0).conductivity ?? 1, 0.08), errorShare: 0.1 }
      : null,
  };
}
