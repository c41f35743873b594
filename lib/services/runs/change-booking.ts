import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  freeParts,
  inTransaction,
  moveRunState,
  type RunRow,
  setRunBoardMarks,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { auditRun, partIdsOf, requireRun } from "./require-run";

/**
 * Gives a planned run's tank back; its parts wait for a tank again. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found | conflict once it is loaded
 */
export async function cancelRun(actor: Actor, runId: string, now: Date): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    await writeCancel(db, actor, await requireRun(db, runId), now);
  });
}

/** Cancels a run that is locked. */
export async function writeCancel(db: Db, actor: Actor, run: RunRow, now: Date): Promise<void> {
  if (run.state === "CANCELLED") return;
  // The row is locked; the condition stands here too so that no later change to the lock can lose it.
  if (!(await moveRunState(db, run.id, "PLANNED", { state: "CANCELLED", cancelledAt: now }))) {
    throw new Refusal("conflict", "This run was loaded. Pull it instead.");
  }
  await freeParts(db, partIdsOf(run), { runId: run.id, from: "BOOKED" });
  await auditRun(db, actor, now, "run.cancelled", run);
}

/**
 * Fixes a run where it is, or lets it move again when the board is improved. By hand it can be moved either way.
 *
 * @throws Refusal not-allowed | not-found | conflict once it was pulled
 */
export async function fixRun(
  actor: Actor,
  { runId, fixed }: { readonly runId: string; readonly fixed: boolean },
  now: Date,
): Promise<void> {
  await mark(actor, runId, { fixed }, now);
}

/**
 * Says who loads and pulls a run; null leaves it to whoever is there.
 *
 * @throws Refusal not-allowed | not-found | conflict once it was pulled
 */
export async function assignRun(
  actor: Actor,
  { runId, personId }: { readonly runId: string; readonly personId: string | null },
  now: Date,
): Promise<void> {
  await mark(actor, runId, { assignedToId: personId }, now);
}

async function mark(
  actor: Actor,
  runId: string,
  marks: { readonly fixed?: boolean; readonly assignedToId?: string | null },
  now: Date,
): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const run = await requireRun(db, runId);
    if (!(await setRunBoardMarks(db, run.id, marks))) {
      throw new Refusal("conflict", "This run is over.");
    }
    await auditRun(db, actor, now, "run.marked", run, marks);
  });
}
