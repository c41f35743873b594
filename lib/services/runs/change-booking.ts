import { type Actor, requirePermission } from "@/lib/access";
import { findTank, inTransaction, movePartStates, moveRunState, setRunTime } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { loadOfDips } from "./needs";
import { auditRun, partIdsOf, requireRun } from "./require-run";
import { chosenSlot } from "./time";

/**
 * Gives a planned run another start in the same tank; its end follows. The exclusion constraint decides.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy
 */
export async function moveRun(
  actor: Actor,
  move: { readonly runId: string; readonly startsAt: Date },
  now: Date,
): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const run = await requireRun(db, move.runId);
    if (run.state !== "PLANNED") {
      throw new Refusal("conflict", "Only a run that is not loaded yet can be moved.");
    }
    const tank = await findTank(db, run.tankId);
    if (!tank) throw new Refusal("not-found", "This run's tank is not in the shop.");
    const { hours } = loadOfDips(run.dips, tank);
    const slot = await chosenSlot(
      db,
      { tankId: run.tankId, startsAt: move.startsAt, hours, exceptRunId: run.id },
      now,
    );
    const [startsAt, endsAt] = [new Date(slot.startsAtMs), new Date(slot.endsAtMs)];
    await setRunTime(db, run.id, { startsAt, endsAt });
    await auditRun(db, actor, now, "run.moved", run, {
      from: run.startsAt.toISOString(),
      to: startsAt.toISOString(),
    });
  });
}

/**
 * Gives a planned run's tank back; its parts wait for a tank again. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found | conflict once it is loaded
 */
export async function cancelRun(actor: Actor, runId: string, now: Date): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const run = await requireRun(db, runId);
    if (run.state === "CANCELLED") return;
    // The row is locked; the condition stands here too so that no later change to the lock can lose it.
    if (!(await moveRunState(db, run.id, "PLANNED", { state: "CANCELLED", cancelledAt: now }))) {
      throw new Refusal("conflict", "This run was loaded. Pull it instead.");
    }
    await movePartStates(db, partIdsOf(run), "BOOKED", "PLANNED");
    await auditRun(db, actor, now, "run.cancelled", run);
  });
}
