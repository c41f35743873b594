import { type Actor, requirePermission } from "@/lib/access";
import {
  type BookingChange,
  type Db,
  findTank,
  inTransaction,
  reading,
  findRun,
  type RunRow,
  setDipPlans,
  setRunTime,
  type TankRow,
} from "@/lib/data";
import { isRefusal, Refusal } from "@/lib/errors";
import { type Planner, plannerOf } from "../intake/planner";
import { loadOfDips, type LoadPlan } from "./needs";
import { inOtherTank, keepPlans, partsOf } from "./other-tank";
import { auditRun, checkAsSeen, partIdsOf, requireRun } from "./require-run";
import { chosenSlot } from "./time";

export type Move = {
  readonly runId: string;
  /** when loading begins */
  readonly startsAt: Date;
  /** another tank; its parts are then planned anew for it */
  readonly tankId?: string | undefined;
  /** how long the tank is to be held; as long as the load needs when left out */
  readonly endsAt?: Date | undefined;
  /** the run as the person saw it: refused when it was changed since */
  readonly sequence?: number | undefined;
};

/** Where a run stands on the board, epoch ms. */
export type RunPlace = {
  readonly tankId: string;
  readonly startsAtMs: number;
  readonly endsAtMs: number;
};

export type Moved = {
  readonly runId: string;
  readonly number: number;
  readonly before: RunPlace;
  readonly after: RunPlace;
  readonly sequence: number;
};

/**
 * Gives a planned run another time or tank. The database's constraints decide.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy | supply-full
 */
export async function moveRun(actor: Actor, move: Move, now: Date): Promise<Moved> {
  requirePermission(actor, "book");
  return inTransaction(async (db) => {
    const run = await requireRun(db, move.runId);
    const moved = await writeMove(db, actor, { run, move }, now);
    await auditRun(db, actor, now, "run.moved", run, {
      from: run.startsAt.toISOString(),
      to: new Date(moved.after.startsAtMs).toISOString(),
      fromTank: run.tankId,
      toTank: moved.after.tankId,
    });
    return moved;
  });
}

/** How a move is written: alone, or as one of several. */
export type MoveOf = {
  readonly run: RunRow;
  readonly move: Move;
  /** one of several made together: clashes are the database's to find, at their end */
  readonly together?: boolean;
  /** read anew where left out */
  readonly planner?: Planner;
};

/** Writes one move of a run that is locked; used alone and for a whole board. */
export async function writeMove(
  db: Db,
  actor: Actor,
  { run, move, together, planner }: MoveOf,
  now: Date,
): Promise<Moved> {
  checkMovable(run, move);
  const tankId = move.tankId ?? run.tankId;
  const tank = await findTank(db, tankId);
  if (!tank || tank.retiredAt) throw new Refusal("not-found", "This tank is not in use.");
  const wanted = { ...move, tankId, exceptRunId: run.id, together };
  const change =
    tankId === run.tankId
      ? await timeOnly(db, { run, tank, wanted }, now)
      : await timeAndTank(db, actor, { run, tank, wanted, planner }, now);
  if (!(await setRunTime(db, run.id, change))) {
    throw new Refusal("conflict", "This run was loaded a moment ago.");
  }
  return {
    runId: run.id,
    number: run.number,
    before: placeOf(run),
    after: placeOf({ tankId, ...change }),
    sequence: run.sequence + 1,
  };
}

type Wanted = Move & {
  readonly tankId: string;
  readonly exceptRunId: string;
  readonly together: boolean | undefined;
};
type Moving = {
  readonly run: RunRow;
  readonly tank: TankRow;
  readonly wanted: Wanted;
  readonly planner?: Planner | undefined;
};

async function timeOnly(db: Db, { run, tank, wanted }: Moving, now: Date): Promise<BookingChange> {
  const load = loadOfDips(run.dips, tank);
  const slot = await chosenSlot(db, { ...wanted, load }, now);
  return {
    startsAt: new Date(slot.startsAtMs),
    endsAt: new Date(slot.endsAtMs),
    treatHours: load.hours,
    benchMinutes: slot.benchMinutes,
  };
}

async function timeAndTank(
  db: Db,
  actor: Actor,
  { run, tank, wanted, planner }: Moving,
  now: Date,
): Promise<BookingChange> {
  const parts = await partsOf(db, partIdsOf(run));
  const other = inOtherTank(run, tank, planner ?? (await plannerOf(db)), parts);
  const slot = await chosenSlot(db, { ...wanted, load: other.load }, now);
  await setDipPlans(db, run.id, await keepPlans(db, other, parts, { actor, now }));
  return {
    tankId: tank.id,
    supplyId: tank.supplyId,
    startsAt: new Date(slot.startsAtMs),
    endsAt: new Date(slot.endsAtMs),
    benchMinutes: slot.benchMinutes,
    ...columnsOf(other.load),
  };
}

/** What a booking keeps of its load. */
export const columnsOf = (load: LoadPlan) => ({
  treatHours: load.hours,
  expectedCurrentA: load.expectedCurrentA,
  currentLowA: load.currentLowA,
  currentHighA: load.currentHighA,
  targetChargeAh: load.targetChargeAh,
});

const placeOf = (run: {
  readonly tankId: string;
  readonly startsAt: Date;
  readonly endsAt: Date;
}): RunPlace => ({
  tankId: run.tankId,
  startsAtMs: run.startsAt.getTime(),
  endsAtMs: run.endsAt.getTime(),
});

function checkMovable(run: RunRow, { sequence }: Move): void {
  if (run.state !== "PLANNED") {
    throw new Refusal("conflict", "Only a run that is not loaded yet can be moved.");
  }
  checkAsSeen(run, sequence);
}

export type MoveCheck = {
  readonly ok: boolean;
  /** what it breaks, in words; empty when it may be moved */
  readonly words: readonly string[];
  readonly startsAtMs: number;
  readonly endsAtMs: number;
};

/** Rolls a tried move back, and carries what came of it out of the transaction. */
class Tried extends Error {
  constructor(readonly moved: Moved) {
    super("tried");
  }
}

/**
 * Says what a move would break, by making it and taking it back: the same rules, the database's own among them.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function checkMove(actor: Actor, move: Move, now: Date): Promise<MoveCheck> {
  requirePermission(actor, "book");
  try {
    await inTransaction(async (db) => {
      const run = await requireRun(db, move.runId);
      throw new Tried(await writeMove(db, actor, { run, move }, now));
    });
    throw new Error("a tried move is always taken back");
  } catch (error) {
    if (error instanceof Tried) return { ok: true, words: [], ...error.moved.after };
    if (!isRefusal(error) || error.code === "not-found") throw error;
    const startsAtMs = move.startsAt.getTime();
    const endsAtMs = move.endsAt?.getTime() ?? startsAtMs;
    return { ok: false, words: [error.message], startsAtMs, endsAtMs };
  }
}

export type TankForRun = {
  readonly tankId: string;
  readonly name: string;
  readonly needs: { readonly hours: number; readonly currentA: number } | null;
  /** why that tank does not take it; empty where it does */
  readonly why: string;
};

/** What a run would ask of each tank in use. @throws Refusal not-allowed | not-found */
export async function tanksForRun(actor: Actor, runId: string): Promise<readonly TankForRun[]> {
  requirePermission(actor, "book");
  return reading(async (db) => {
    const run = await findRun(db, runId);
    if (!run) throw new Refusal("not-found", "This run is not in the shop.");
    const planner = await plannerOf(db);
    const parts = await partsOf(db, partIdsOf(run));
    return planner.tanks.map((tank) => {
      const { id: tankId, name } = tank;
      const load = loadOr(() =>
        tank.id === run.tankId
          ? loadOfDips(run.dips, tank)
          : inOtherTank(run, tank, planner, parts).load,
      );
      if (typeof load === "string") return { tankId, name, needs: null, why: load };
      const needs = { hours: load.hours, currentA: load.expectedCurrentA };
      return { tankId, name, needs, why: "" };
    });
  });
}

/** The load, or in words why there is none. */
export function loadOr<T>(find: () => T): T | string {
  try {
    return find();
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}
