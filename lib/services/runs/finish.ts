import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  type DipResult,
  type DipTiming,
  type DipRow,
  findBookableParts,
  freeParts,
  inTransaction,
  movePartStates,
  moveRunState,
  recordLabour,
  type RunRow,
  setDipResult,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundHalfEven } from "@/lib/money";
import { consumeStock } from "../stock";
import { benchTimes, workingHours } from "../working-hours";
import { auditRun, requireRun } from "./require-run";

export type Finishing = {
  readonly runId: string;
  /** one for each dip */
  readonly results: readonly {
    readonly dipId: string;
    readonly result: DipResult;
    /** how long a clean part had been clean when it was pulled; null where nobody is sure */
    readonly timing: DipTiming | null;
    readonly note: string;
  }[];
  /** bench minutes of this load by task; 0 leaves one out */
  readonly minutes: { readonly load: number; readonly pull: number; readonly finish: number };
  /** oil, wax, primer, brushes … out of stock, in each item's unit */
  readonly used: readonly { readonly itemId: string; readonly quantity: number }[];
  readonly idempotencyKey: string;
};

/**
 * Records how each part came out, the bench minutes, and what was used to finish it. A part that must go in again, or
 * whose other end has not been dipped, waits for a tank; the others are finished.
 *
 * The conditional change from PULLED lets one of two callers in; a repeat finds it finished and changes nothing.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | not-enough-stock
 */
export async function finishRun(actor: Actor, finishing: Finishing, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const run = await requireRun(db, finishing.runId);
    if (run.state === "FINISHED") return;
    checkResults(run, finishing);
    if (!(await moveRunState(db, run.id, "PULLED", { state: "FINISHED", finishedAt: now }))) {
      throw new Refusal("conflict", "Pull this load first.");
    }
    for (const { dipId, result, note, timing } of finishing.results) {
      await setDipResult(db, dipId, { result, resultNote: note, timing: timingOf(result, timing) });
    }
    await releaseParts(db, run, finishing);
    await recordMinutes(db, actor, run, finishing, now);
    for (const [index, use] of finishing.used.entries()) {
      await consumeStock(db, {
        ...use,
        at: now,
        runId: run.id,
        note: `finishing of run ${run.number}`,
        enteredById: actor.personId,
        idempotencyKey: `${finishing.idempotencyKey}:${index}`,
      });
    }
    await auditRun(db, actor, now, "run.finished", run, { parts: run.dips.length });
  });
}

function checkResults(run: RunRow, { results, minutes }: Finishing): void {
  const missing = run.dips.filter((dip) => !results.some(({ dipId }) => dipId === dip.id));
  if (missing.length > 0 || results.length !== run.dips.length) {
    throw new Refusal(
      "invalid",
      "Say how each part came out.",
      Object.fromEntries(missing.map(({ id }) => [`result-${id}`, "Choose one."])),
    );
  }
  for (const [task, value] of Object.entries(minutes)) {
    if (!(value >= 0 && value <= 1440)) {
      throw new Refusal("invalid", "Minutes are from 0 to 1440.", {
        [`${task}Minutes`]: "0 to 1440.",
      });
    }
  }
}

/** Only a part that came out clean has been clean for some time. */
function timingOf(result: DipResult, timing: DipTiming | null): DipTiming | null {
  return result === "CLEAN" || result === "PARTLY" ? timing : null;
}

/** Clean, partly clean or damaged parts are finished, once all their ends are done; the others wait for a tank. */
async function releaseParts(db: Db, run: RunRow, { results }: Finishing): Promise<void> {
  const parts = await findBookableParts(
    db,
    run.dips.map(({ partId }) => partId),
  );
  for (const dip of run.dips) {
    const result = results.find(({ dipId }) => dipId === dip.id)?.result;
    const part = parts.find(({ id }) => id === dip.partId);
    const endsLeft = dip.plan.dipCount > new Set(part?.endsDone).size;
    const again = result === "AGAIN" || (result !== "DAMAGED" && endsLeft);
    if (again) await freeParts(db, [dip.partId], { runId: run.id, from: "PULLED" });
    else await movePartStates(db, [dip.partId], "PULLED", "FINISHED");
  }
}

const TASKS = ["load", "pull", "finish"] as const;

/** Minutes of a load are borne by its jobs as its charge is. */
async function recordMinutes(
  db: Db,
  actor: Actor,
  run: RunRow,
  { minutes, idempotencyKey }: Finishing,
  now: Date,
): Promise<void> {
  const { timeZone } = await workingHours(db, now);
  const { labourMinor } = await benchTimes(db, timeZone, now);
  for (const [jobId, share] of jobShares(run.dips)) {
    for (const task of TASKS) {
      const spent = minutes[task] * share;
      if (spent === 0) continue;
      await recordLabour(db, {
        jobId,
        runId: run.id,
        personId: actor.personId,
        at: now,
        task,
        minutes: spent,
        costMinor: roundHalfEven((spent / 60) * labourMinor[task]),
        idempotencyKey: `${idempotencyKey}:${jobId}:${task}`,
      });
    }
  }
}

function jobShares(dips: readonly DipRow[]): ReadonlyMap<string, number> {
  const shares = new Map<string, number>();
  for (const { part, chargeShare } of dips) {
    shares.set(part.job.id, (shares.get(part.job.id) ?? 0) + chargeShare);
  }
  return shares;
}
