import { type Actor, requirePermission } from "@/lib/access";
import {
  findReadingByKey,
  findTank,
  insertReading,
  inTransaction,
  type NewReading,
  type RunRow,
  setBathTemperature,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { requireRun } from "./require-run";

export type ReadingToTake = Omit<NewReading, "takenById">;

/** A phone's clock may be off by this. */
const CLOCK_ERROR_MS = 5 * 60_000;

/** What a meter, thermometer or rule can show here; beyond it, it is a slip of the finger. */
export const READING_RANGES = {
  voltsV: { least: -60, most: 60, unit: "V" },
  currentA: { least: -200, most: 200, unit: "A" },
  temperatureC: { least: -10, most: 105, unit: "°C" },
} as const;

/**
 * Writes one reading of a running load. It may arrive late from a phone without signal, and more than once: under the
 * same key the first one stands.
 *
 * @returns id of the reading
 * @throws Refusal not-allowed | not-found | invalid | conflict (not loaded, or pulled)
 */
export async function takeReading(actor: Actor, taken: ReadingToTake, now: Date): Promise<string> {
  requirePermission(actor, "work-runs");
  return inTransaction(async (db) => {
    // The run's row lock lines this up with its pulling: what is integrated then is complete.
    const run = await requireRun(db, taken.runId);
    const first = await findReadingByKey(db, taken.idempotencyKey);
    if (first) return first.id;
    const at = checkMoment(run, taken.at, now);
    const tank = await findTank(db, run.tankId);
    checkRanges(taken, tank?.depthMm ?? Infinity);
    const { reading } = await insertReading(db, { ...taken, at, takenById: actor.personId });
    if (taken.temperatureC !== null && run.bathId) {
      await setBathTemperature(db, run.bathId, taken.temperatureC);
    }
    return reading.id;
  });
}

function checkMoment(run: RunRow, at: Date, now: Date): Date {
  if (run.state === "PLANNED") throw new Refusal("conflict", "This run is not loaded yet.");
  if (run.state !== "RUNNING" || !run.loadedAt) {
    throw new Refusal("conflict", "This run was pulled: it takes no more readings.");
  }
  if (at.getTime() > now.getTime() + CLOCK_ERROR_MS) {
    throw new Refusal("invalid", "This reading is from the future. Set the phone's clock.");
  }
  if (at.getTime() < run.loadedAt.getTime() - CLOCK_ERROR_MS) {
    throw new Refusal("invalid", "This reading is from before the load went in.");
  }
  const within = Math.min(now.getTime(), Math.max(at.getTime(), run.loadedAt.getTime()));
  return new Date(within);
}

function checkRanges(taken: ReadingToTake, depthMm: number): void {
  const fields: Record<string, string> = {};
  for (const [name, { least, most, unit }] of Object.entries(READING_RANGES)) {
    const value = taken[name as keyof typeof READING_RANGES];
    if (value !== null && !(Number.isFinite(value) && value >= least && value <= most)) {
      fields[name] = `From {${least} to ${most} ${unit}}.`;
    }
  }
  const { levelMm } = taken;
  if (levelMm !== null && !(Number.isFinite(levelMm) && levelMm >= 0 && levelMm <= depthMm)) {
    fields["levelMm"] = `From 0 to the rim at {${Math.round(depthMm)} mm}.`;
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Read the meter once more.", fields);
  }
}
