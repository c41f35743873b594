import type { ReadingRow, RunRow, TankHistory, TankRow } from "@/lib/data";
import {
  type Answers,
  diagnose,
  type Diagnosis,
  type Finding,
  passedSoFar,
  pullTime,
  type RunReading,
  safetyFindings,
} from "@/lib/diagnosis";
import { electricSupply } from "../tanks";
import { expectationOf } from "./expectation";

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
/** The first look at the meter after loading, and the usual time between two: common practice, no source. */
const FIRST_LOOK_MS = 15 * MINUTE_MS;
const LOOK_EVERY_MS = 2 * HOUR_MS;

/** How a loaded run stands. */
export type RunProgress = {
  readonly chargeAh: number;
  readonly targetAh: number;
  /** charge passed over charge wanted, 0 and up */
  readonly share: number;
  /** rests on readings, or on the plan's current while there is none */
  readonly from: "readings" | "plan";
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
export function asRunReadings(readings: readonly ReadingRow[]): readonly RunReading[] {
  return readings.map(({ at, voltsV, currentA, temperatureC, levelMm }) => ({
    atMs: at.getTime(),
    voltsV,
    currentA,
    temperatureC,
    levelMm,
  }));
}

/** Charge and energy that did the work: what flowed the wrong way round did none. */
export function usefulCharge(
  readings: readonly RunReading[],
  loadedMs: number,
  untilMs: number,
): { readonly chargeAh: number; readonly energyKwh: number } {
  const forward = readings.map((reading) => ({
    ...reading,
    currentA: Math.max(0, reading.currentA),
    voltsV: Math.max(0, reading.voltsV),
  }));
  return passedSoFar(forward, loadedMs, untilMs);
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
  const readings = asRunReadings(rows);
  const loadedMs = run.loadedAt?.getTime() ?? now.getTime();
  const untilMs = Math.max(loadedMs, (run.pulledAt ?? now).getTime());
  const latest = readings.at(-1) ?? null;
  const currentA = Math.max(0, latest?.currentA ?? run.expectedCurrentA);
  const chargeAh = latest
    ? usefulCharge(readings, loadedMs, untilMs).chargeAh
    : (run.expectedCurrentA * (untilMs - loadedMs)) / HOUR_MS;
  const pull = pullTime({
    chargeSoFarAh: chargeAh,
    targetChargeAh: run.targetChargeAh,
    currentA,
    atMs: untilMs,
  });
  const lookFromMs = latest ? latest.atMs + LOOK_EVERY_MS : loadedMs + FIRST_LOOK_MS;
  return {
    chargeAh,
    targetAh: run.targetChargeAh,
    share: chargeAh / run.targetChargeAh,
    from: latest ? "readings" : "plan",
    pullAt: pull.kind === "at" ? new Date(pull.atMs) : pull.kind === "due" ? now : null,
    due: pull.kind === "due",
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
