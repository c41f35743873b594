import { type Actor, requirePermission } from "@/lib/access";
import {
  checkBookingsNow,
  type Db,
  findPart,
  inTransaction,
  lastBoardChange,
  lockBoard,
  lockRun,
  reading,
  recordAudit,
  type RunRow,
} from "@/lib/data";
import { isRefusal, Refusal } from "@/lib/errors";
import { keepPlan, type Planner, plannerOf } from "../intake/planner";
import { writeBooking } from "../runs/book";
import { writeCancel } from "../runs/change-booking";
import { writeJoin, writeLeave } from "../runs/join";
import { writeMove } from "../runs/move";
import { gradeOf } from "../runs/other-tank";

/** One change of the board. `sequence` is the run as the person saw it. */
export type BoardChange =
  | {
      readonly kind: "move";
      readonly runId: string;
      readonly tankId: string;
      readonly startsAt: Date;
      readonly sequence: number;
    }
  | {
      readonly kind: "book";
      readonly partIds: readonly string[];
      readonly tankId: string;
      readonly startsAt: Date;
      readonly idempotencyKey: string;
    }
  | { readonly kind: "join"; readonly runId: string; readonly partIds: readonly string[] }
  | { readonly kind: "leave"; readonly runId: string; readonly partIds: readonly string[] }
  | { readonly kind: "cancel"; readonly runId: string };

export type BoardApplied = {
  /** changes that take all of it back, in their order */
  readonly undo: readonly BoardChange[];
  readonly moved: number;
  readonly booked: number;
  readonly joined: number;
};

/** More at once is not read by anybody before it is pressed. */
const MOST_CHANGES = 500;

/**
 * Changes the board as a whole or not at all. Runs may swap their places: only what stands at the end has to keep the
 * rules. Running and fixed runs are refused.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict | tank-busy | supply-full, naming the run
 */
export async function applyBoard(
  actor: Actor,
  changes: readonly BoardChange[],
  now: Date,
): Promise<BoardApplied> {
  return change(actor, changes, now, "board.changed");
}

async function change(
  actor: Actor,
  changes: readonly BoardChange[],
  now: Date,
  action: "board.changed" | "board.taken-back",
): Promise<BoardApplied> {
  requirePermission(actor, "book");
  if (changes.length === 0) throw new Refusal("invalid", "There is nothing to change.");
  if (changes.length > MOST_CHANGES) {
    throw new Refusal("invalid", `At most ${MOST_CHANGES} changes at once, not ${changes.length}.`);
  }
  return inTransaction(async (db) => {
    await lockBoard(
      db,
      changes.flatMap((one) => ("runId" in one ? [one.runId] : [])),
    );
    const planner = await plannerOf(db);
    const back: BoardChange[] = [];
    for (const one of changes) {
      back.unshift(await writeChange(db, actor, { change: one, planner }, now));
    }
    // Here, and not first at commit: a refusal then reads like any other.
    await checkBookingsNow(db);
    const undo = await seenNow(db, back);
    const counts = countsOf(changes);
    const subject = { subjectType: "shop", subjectId: "1" };
    const detail = { ...counts, undo: JSON.stringify(undo) };
    await recordAudit(db, { actor, at: now, action, ...subject, detail });
    return { undo, ...counts };
  });
}

const countsOf = (changes: readonly BoardChange[]): Omit<BoardApplied, "undo"> => ({
  moved: changes.filter(({ kind }) => kind === "move").length,
  booked: changes.filter(({ kind }) => kind === "book").length,
  joined: changes.filter(({ kind }) => kind === "join").length,
});

/** A change of the board can be taken back for so long. */
const BACK_HOURS = 24;

/** The newest change of the whole board, while it can be taken back. */
export type LastChange = {
  readonly at: Date;
  readonly by: string;
  readonly changes: number;
};

/** What can be taken back; null when nothing can. @throws Refusal not-allowed */
export async function lastChangeOfBoard(actor: Actor, now: Date): Promise<LastChange | null> {
  requirePermission(actor, "see-shop");
  const last = await reading(lastBoardChange);
  if (!last || now.getTime() - last.at.getTime() > BACK_HOURS * 3_600_000) return null;
  return { at: last.at, by: last.by, changes: undoOf(last.detail).length };
}

/**
 * Takes the newest change of the whole board back, all of it or nothing: refused where somebody moved one of its runs since.
 *
 * @throws Refusal not-allowed | not-found | conflict | tank-busy | supply-full
 */
export async function takeBackBoard(actor: Actor, now: Date): Promise<BoardApplied> {
  requirePermission(actor, "book");
  const last = await reading(lastBoardChange);
  if (!last || now.getTime() - last.at.getTime() > BACK_HOURS * 3_600_000) {
    throw new Refusal("not-found", "There is no change of the board to take back.");
  }
  return change(actor, undoOf(last.detail), now, "board.taken-back");
}

/** Written by `change` above, with its dates as text. */
function undoOf(detail: unknown): readonly BoardChange[] {
  const { undo } = (detail ?? {}) as { readonly undo?: unknown };
  if (typeof undo !== "string") return [];
  const stored = JSON.parse(undo) as readonly (BoardChange & { readonly startsAt?: string })[];
  return stored.map((one) =>
    one.startsAt === undefined ? one : { ...one, startsAt: new Date(one.startsAt) },
  );
}

type Writing = { readonly change: BoardChange; readonly planner: Planner };

/** @returns what takes it back */
async function writeChange(
  db: Db,
  actor: Actor,
  { change, planner }: Writing,
  now: Date,
): Promise<BoardChange> {
  if (change.kind === "book") {
    for (const partId of change.partIds)
      await planFor(db, actor, { ...change, partId, planner }, now);
    const { runId } = await writeBooking(db, actor, { ...change, notes: "", together: true }, now);
    return { kind: "cancel", runId };
  }
  const run = await lockRun(db, change.runId);
  if (!run) throw new Refusal("not-found", "A run of this change is not in the shop.");
  try {
    return await writeToRun(db, actor, { change, planner, run }, now);
  } catch (error) {
    if (!isRefusal(error)) throw error;
    throw new Refusal(error.code, `Run ${run.number}: ${error.message}`, error.fields);
  }
}

type ToRun = Writing & {
  readonly change: Exclude<BoardChange, { kind: "book" }>;
  readonly run: RunRow;
};

async function writeToRun(
  db: Db,
  actor: Actor,
  { change, planner, run }: ToRun,
  now: Date,
): Promise<BoardChange> {
  const { id: runId, tankId, startsAt } = run;
  switch (change.kind) {
    case "move": {
      if (run.fixed) throw new Refusal("conflict", "It is fixed where it is.");
      const { sequence } = await writeMove(
        db,
        actor,
        { run, move: change, together: true, planner },
        now,
      );
      return { kind: "move", runId, tankId, startsAt, sequence };
    }
    case "join": {
      for (const partId of change.partIds) {
        await planFor(db, actor, { tankId, partId, planner }, now);
      }
      await writeJoin(db, actor, { run, joining: change, together: true }, now);
      return { kind: "leave", runId, partIds: change.partIds };
    }
    case "leave":
      await writeLeave(db, actor, { run, partIds: change.partIds, together: true }, now);
      return { kind: "join", runId, partIds: change.partIds };
    case "cancel": {
      const partIds = run.dips.map(({ partId }) => partId);
      await writeCancel(db, actor, run, now);
      return { kind: "book", partIds, tankId, startsAt, idempotencyKey: `again:${runId}` };
    }
  }
}

/** A part that is to go into another tank than its plan's is planned anew for it. */
async function planFor(
  db: Db,
  actor: Actor,
  { partId, tankId, planner }: { partId: string; tankId: string; planner: Planner },
  now: Date,
): Promise<void> {
  const part = await findPart(db, partId);
  if (!part?.plan) throw new Refusal("not-found", "A part of this change is not in the shop.");
  if (part.plan.tankId === tankId) return;
  const wishes = { tankId, saltGrade: gradeOf(part.plan.saltGrade) };
  await keepPlan(db, part, planner.plan(part, wishes), { actor, now });
}

/** Undoing names the runs as they stand now. */
async function seenNow(db: Db, changes: readonly BoardChange[]): Promise<readonly BoardChange[]> {
  const seen: BoardChange[] = [];
  for (const change of changes) {
    if (change.kind !== "move") seen.push(change);
    else {
      const run = await lockRun(db, change.runId);
      seen.push({ ...change, sequence: run?.sequence ?? change.sequence });
    }
  }
  return seen;
}
