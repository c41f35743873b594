import { type Actor, requirePermission } from "@/lib/access";
import {
  type BookablePart,
  type Db,
  deleteDips,
  findBookableParts,
  findTank,
  freeParts,
  insertDips,
  inTransaction,
  lockParts,
  movePartStates,
  type RunRow,
  setDipPlans,
  setRunTime,
  type TankRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkHangs, layOut } from "./layout";
import { columnsOf } from "./move";
import { bookablePlan, checkSupplyCarries, loadPlan, nextEnd } from "./needs";
import { auditRun, checkAsSeen, requireRun } from "./require-run";
import { chosenSlot } from "./time";

export type Joining = {
  readonly runId: string;
  /** parts that wait for this run's tank */
  readonly partIds: readonly string[];
  /** the run as the person saw it: refused when it was changed since */
  readonly sequence?: number | undefined;
};

/**
 * Puts waiting parts into a load that is booked and not loaded yet: the load begins when it did, and lasts as long as
 * all of them together ask. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy | supply-full
 */
export async function joinRun(actor: Actor, joining: Joining, now: Date): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const run = await requireRun(db, joining.runId);
    await writeJoin(db, actor, { run, joining }, now);
  });
}

/** Takes parts out of a load that is booked and not loaded yet; they wait for a tank again. */
export async function leaveRun(
  actor: Actor,
  leaving: Omit<Joining, "sequence">,
  now: Date,
): Promise<void> {
  requirePermission(actor, "book");
  await inTransaction(async (db) => {
    const run = await requireRun(db, leaving.runId);
    await writeLeave(db, actor, { run, partIds: leaving.partIds }, now);
  });
}

/** Writes a joining of a run that is locked. */
export async function writeJoin(
  db: Db,
  actor: Actor,
  {
    run,
    joining,
    together,
  }: { readonly run: RunRow; readonly joining: Joining; readonly together?: boolean },
  now: Date,
): Promise<void> {
  checkPlanned(run, joining.sequence);
  const inIt = new Set(run.dips.map(({ partId }) => partId));
  const partIds = [...new Set(joining.partIds)].filter((id) => !inIt.has(id));
  if (partIds.length === 0) return;
  const tank = await requireTank(db, run.tankId);
  await lockParts(db, partIds);
  const parts = await findBookableParts(db, partIds);
  if (parts.length !== partIds.length) throw new Refusal("not-found", "A part is not in the shop.");
  const dipped = allOf(run, parts, tank);
  checkHangs(
    layOut(
      dipped.map(({ part, plan }) => ({ ...part, plan })),
      tank,
    ),
    tank,
    false,
  );
  const load = loadPlan(dipped, tank);
  checkSupplyCarries(load, dipped.length, tank);
  const waiting = parts.filter(({ state }) => state === "PLANNED").map(({ id }) => id);
  await movePartStates(db, waiting, "PLANNED", "BOOKED");
  await rewrite(db, run, { load, together }, now);
  await insertDips(
    db,
    run.id,
    load.dips.filter(({ partId }) => !inIt.has(partId)),
  );
  await setDipPlans(db, run.id, load.dips);
  await auditRun(db, actor, now, "run.joined", run, { parts: partIds.length });
}

/** What is in the load, and what is to join it. */
function allOf(run: RunRow, parts: readonly BookablePart[], tank: TankRow) {
  const inIt = run.dips.map(({ partId, end, plan, part }) => ({
    partId,
    end,
    plan,
    pieces: part.quantity,
    part,
  }));
  const joining = parts.map((part) => ({
    partId: part.id,
    end: nextEnd(part),
    plan: bookablePlan(part, tank),
    pieces: part.quantity,
    part,
  }));
  return [...inIt, ...joining];
}

/** Writes that parts leave a run that is locked. */
export async function writeLeave(
  db: Db,
  actor: Actor,
  {
    run,
    partIds,
    together,
  }: { readonly run: RunRow; readonly partIds: readonly string[]; readonly together?: boolean },
  now: Date,
): Promise<void> {
  checkPlanned(run);
  const stay = run.dips.filter(({ partId }) => !partIds.includes(partId));
  if (stay.length === run.dips.length) return;
  if (stay.length === 0) {
    throw new Refusal("conflict", "Nothing would be left in this load. Cancel the run instead.");
  }
  const tank = await requireTank(db, run.tankId);
  await deleteDips(db, run.id, partIds);
  await freeParts(db, partIds, { runId: run.id, from: "BOOKED" });
  const load = loadPlan(
    stay.map(({ partId, end, plan, part }) => ({ partId, end, plan, pieces: part.quantity })),
    tank,
  );
  await rewrite(db, run, { load, together }, now);
  await setDipPlans(db, run.id, load.dips);
  await auditRun(db, actor, now, "run.left", run, { parts: partIds.length });
}

/** The run with another load, from the same start. */
async function rewrite(
  db: Db,
  run: RunRow,
  {
    load,
    together,
  }: { readonly load: ReturnType<typeof loadPlan>; readonly together: boolean | undefined },
  now: Date,
): Promise<void> {
  const { tankId, startsAt } = run;
  const chosen = { tankId, startsAt, load, exceptRunId: run.id, together };
  const slot = await chosenSlot(db, chosen, now);
  const changed = await setRunTime(db, run.id, {
    startsAt: new Date(slot.startsAtMs),
    endsAt: new Date(slot.endsAtMs),
    benchMinutes: slot.benchMinutes,
    ...columnsOf(load),
  });
  if (!changed) throw new Refusal("conflict", "This run was loaded a moment ago.");
}

async function requireTank(db: Db, tankId: string): Promise<TankRow> {
  const tank = await findTank(db, tankId);
  if (!tank || tank.retiredAt) throw new Refusal("not-found", "This tank is not in use.");
  return tank;
}

function checkPlanned(run: RunRow, sequence?: number): void {
  if (run.state !== "PLANNED") {
    throw new Refusal("conflict", "Only a load that is not in yet can be changed.");
  }
  checkAsSeen(run, sequence);
}
