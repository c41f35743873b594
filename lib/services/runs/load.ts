import { type Actor, requirePermission } from "@/lib/access";
import {
  countReadings,
  inTransaction,
  lockTank,
  movePartStates,
  moveRunState,
  type RunRow,
  type TankRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { auditRun, canUndo, partIdsOf, requireRun, UNDO_MINUTES } from "./require-run";
import { SAFETY_CHECKS } from "./safety";

export type Loading = {
  readonly runId: string;
  /** codes of the safety checks that this person ticked, each by itself */
  readonly acknowledged: readonly string[];
};

/**
 * Says that the load is in and the supply is on. Every safety check must be acknowledged by this person; a live bath,
 * an anode and a supply must be there.
 *
 * Of two people who load at once, the conditional change from PLANNED lets one in; the other learns that it is done.
 * That no other load is in the tank is the unique index `run_one_running_a_tank`'s to decide.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy
 */
export async function loadRun(actor: Actor, loading: Loading, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const run = await requireRun(db, loading.runId);
    // A double tap: this person loaded it a moment ago.
    if (run.state === "RUNNING" && run.safetyAcknowledgedById === actor.personId) return;
    checkAcknowledged(loading.acknowledged);
    const tank = checkTankReady(await lockTank(db, run.tankId));
    const loaded = await moveRunState(db, run.id, "PLANNED", {
      state: "RUNNING",
      loadedAt: now,
      safetyAcknowledgedAt: now,
      safetyAcknowledgedById: actor.personId,
      bathId: tank.bath.id,
      supplyId: tank.supply.id,
      ...timeWhenLoaded(run, now),
    });
    if (!loaded) throw new Refusal("conflict", "This run is not waiting to be loaded any more.");
    const parts = partIdsOf(run);
    if ((await movePartStates(db, parts, "BOOKED", "IN_BATH")) !== parts.length) {
      throw new Refusal("conflict", "One of these parts is not booked any more. Look at its page.");
    }
    await auditRun(db, actor, now, "run.loaded", run, { checks: SAFETY_CHECKS.length });
  });
}

/**
 * Takes a loading back that was a slip: within five minutes, before any reading.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function undoLoad(actor: Actor, runId: string, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const run = await requireRun(db, runId);
    if (run.state === "PLANNED") return; // taken back already
    if (run.state !== "RUNNING" || !canUndo(run.loadedAt, now)) {
      throw new Refusal(
        "conflict",
        `A loading can be taken back for ${UNDO_MINUTES} minutes. Pull the load instead.`,
      );
    }
    if ((await countReadings(db, run.id)) > 0) {
      throw new Refusal(
        "conflict",
        "Readings were taken, so current did flow. Pull the load instead.",
      );
    }
    await moveRunState(db, run.id, "RUNNING", {
      state: "PLANNED",
      loadedAt: null,
      safetyAcknowledgedAt: null,
      safetyAcknowledgedById: null,
      bathId: null,
    });
    await movePartStates(db, partIdsOf(run), "IN_BATH", "BOOKED");
    await auditRun(db, actor, now, "run.load-undone", run);
  });
}

/**
 * A load that goes in early holds its tank from now. One that goes in after its booking was over is given its length
 * again; the exclusion constraint refuses where the next booking stands in the way.
 */
function timeWhenLoaded(run: RunRow, now: Date): { startsAt: Date; endsAt: Date } {
  if (now < run.startsAt) return { startsAt: now, endsAt: run.endsAt };
  if (now < run.endsAt) return { startsAt: run.startsAt, endsAt: run.endsAt };
  const lasts = run.endsAt.getTime() - run.startsAt.getTime();
  return { startsAt: now, endsAt: new Date(now.getTime() + lasts) };
}

function checkAcknowledged(acknowledged: readonly string[]): void {
  const missing = SAFETY_CHECKS.filter(({ code }) => !acknowledged.includes(code));
  if (missing.length === 0) return;
  throw new Refusal(
    "invalid",
    `Check and tick each of them before the current goes on: ${missing.length} left.`,
    Object.fromEntries(missing.map(({ code }) => [code, "Not ticked yet."])),
  );
}

type ReadyTank = TankRow & {
  readonly bath: NonNullable<TankRow["bath"]>;
  readonly supply: NonNullable<TankRow["supply"]>;
};

function checkTankReady(tank: TankRow | null): ReadyTank {
  if (!tank) throw new Refusal("not-found", "This tank is not in the shop.");
  const { bath, supply } = tank;
  if (!bath) throw new Refusal("conflict", `There is no bath in ${tank.name}. Mix one first.`);
  if (!supply) throw new Refusal("conflict", `${tank.name} has no supply. Give it one first.`);
  if (tank.anodes.length === 0) {
    throw new Refusal("conflict", `There is no anode in ${tank.name}. Hang one first.`);
  }
  return { ...tank, bath, supply };
}
