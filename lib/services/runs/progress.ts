import type { ReadingRow, RunRow, TankHistory, TankRow } from "@/lib/data";
import {
  type Answers,
  diagnose,
  type Diagnosis,
  type Finding,
  type RunReading,
  type RunSpan,
  safetyFindings,
  workedCharge,
  workedEnergy,
  workedHoursLeft,
} from "@/lib/diagnosis";
import { openVoltage } from "@/lib/electrolysis";
import type { Worked } from "@/lib/units";
import { electricSupply } from "../tanks";
import { expectationOf } from "./expectation";

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
/** The first look at the meter after loading, and the usual time between two: common practice, no source. */
const FIRST_LOOK_MS = 15 * MINUTE_MS;
const LOOK_EVERY_MS = 2 * HOUR_MS;

/** How a loaded run stands. */
export type RunProgress = {
  /** A·h that did work */
  readonly charge: Worked;
  readonly targetAh: number;
  /** charge passed over charge wanted, 0 and up */
  readonly share: number;
  /** rests on readings, or on the plan's current while there is none */
  readonly from: "readings" | "plan";
  /** h until the wanted charge has passed; null when no current flows */
  readonly left: Worked | null;
  /** when the charge will have passed at the present current; null when no current flows */
  readonly pullAt: Date | null;
  readonly due: boolean;
  /** what is likely wrong; null while no reading was taken, or where the tank's model lacks something */
  readonly diagnosis: Diagnosis | null;
  /** what to see to, in a line each; "look now" before "watch" */
  readonly findings: readonly Finding[];
  readonly latest: RunReading | null;
  readonly nextLookAt: Date;
};

/** Readings as the diagnosis takes them. Negative ones stay: they show leads the wrong way round. */
function asRunReadings(readings: readonly ReadingRow[]): readonly RunReading[] {
  return readings.map(({ at, voltsV, currentA, temperatureC, levelMm }) => ({
    atMs: at.getTime(),
    voltsV,
    currentA,
    temperatureC,
    levelMm,
  }));
}

/** What a run's charge and energy rest on, until `now` or until it was pulled. */
export function spanOf(run: RunRow, rows: readonly ReadingRow[], now: Date): RunSpan {
  const loadedMs = run.loadedAt?.getTime() ?? now.getTime();
  return {
    readings: asRunReadings(rows),
    plannedCurrentA: run.expectedCurrentA,
    loadedMs,
    untilMs: Math.max(loadedMs, (run.pulledAt ?? now).getTime()),
  };
}

/** Energy that a run has drawn from the wall. */
export function energyOf(run: RunRow, rows: readonly ReadingRow[], now: Date): Worked {
  return workedEnergy(spanOf(run, rows, now), {
    efficiency: run.supply?.efficiency ?? 1,
    openVoltageV: run.supply ? openVoltage(electricSupply(run.supply)) : 0,
  });
}

/** The tank of a run and what is known of it. */
export type RunTank = {
  readonly tank: TankRow;
  readonly history?: TankHistory | undefined;
  /** outcomes of checks that somebody made on the bench */
  readonly answers?: Answers | undefined;
};

/** Charge so far, when to pull, what the readings say, and when to look again. */
export function runProgress(
  run: RunRow,
  rows: readonly ReadingRow[],
  runTank: RunTank,
  now: Date,
): RunProgress {
  const span = spanOf(run, rows, now);
  const { readings, loadedMs, untilMs } = span;
  const latest = readings.at(-1) ?? null;
  const charge = workedCharge(span);
  const left = workedHoursLeft(span, run.targetChargeAh);
  const lookFromMs = latest ? latest.atMs + LOOK_EVERY_MS : loadedMs + FIRST_LOOK_MS;
  return {
    charge,
    targetAh: run.targetChargeAh,
    share: charge.value / run.targetChargeAh,
    from: latest ? "readings" : "plan",
    left,
    pullAt: left && new Date(untilMs + left.value * HOUR_MS),
    due: charge.value >= run.targetChargeAh,
    ...whatIsWrong(run, readings, runTank, now),
    latest,
    nextLookAt: new Date(lookFromMs),
  };
}

/** Where the tank's model lacks something, the safety rules alone still look at the latest reading. */
function whatIsWrong(
  run: RunRow,
  readings: readonly RunReading[],
  { tank, history, answers }: RunTank,
  now: Date,
): Pick<RunProgress, "diagnosis" | "findings"> {
  const latest = readings.at(-1);
  if (run.state !== "RUNNING" || !run.supply || !latest) return { diagnosis: null, findings: [] };
  const expected = expectationOf(run, tank, history, now);
  const diagnosis = expected && diagnose(readings, expected, answers);
  if (diagnosis) return { diagnosis, findings: diagnosis.findings };
  const limits = { ...run, ...tank, supply: electricSupply(run.supply) };
  return { diagnosis: null, findings: safetyFindings(latest, limits) };
}
