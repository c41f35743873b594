/** A tub on a charger, as the tests of the diagnosis know it. */
import { type Cell, operatingBand } from "@/lib/electrolysis";
import type { Expectation, RunReading } from "./expectation";

export const HOUR_MS = 3_600_000;

export const TUB: Cell = {
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.8,
    innerResistanceOhm: 0.15,
    ratedCurrentA: 10,
    dutyFactor: 0.8,
  },
  conductivitySPerM: 0.5,
  shapeLengthM: 0.8,
  partAreaM2: 0.1,
  anodeAreaM2: 0.2,
  leadOhm: 0.02,
  contactOhm: 0.03,
  dissolvingShare: 0.2,
};

const band = operatingBand(TUB);

/** The middle operating point of the tub. */
export const MIDDLE = band.mid;

export const EXPECTED: Expectation = {
  cell: TUB,
  currentLowA: band.low.currentA,
  currentHighA: band.high.currentA,
  bathErrorLog: 0.12,
  loadedMs: 0,
  bathTemperatureC: 18,
  workingLevelMm: 300,
  bathChargeAhPerL: 2,
  anodeWearShare: 0.2,
  clampHours: 30,
  brushedHours: 30,
  conductivity: null,
};

/** A reading at an hour, of so much of the middle current; all else as it should be unless said. */
export function readingAt(
  hour: number,
  currentShare = 1,
  change: Partial<RunReading> = {},
): RunReading {
  const currentA = currentShare * MIDDLE.currentA;
  return {
    atMs: hour * HOUR_MS,
    currentA,
    // The charger sags along its inner resistance.
    voltsV: 13.8 - 0.15 * currentA,
    temperatureC: null,
    levelMm: null,
    ...change,
  };
}
