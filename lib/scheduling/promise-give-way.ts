import type { Board, BoardDip, BoardLoad, TankNeeds } from "./board";
import { Roster } from "./occupants";
import { loadsBefore, movedBetween } from "./promise-moved";
import { Ground } from "./promise-ground";
import { type Plan, plansByTank } from "./promise-place";
import type { MovedLoad, PromiseQuestion } from "./promise-types";

const NEVER = Number.POSITIVE_INFINITY;

/** A plan for the part, and what had to give way for it. */
export type GivingWay = { readonly plan: Plan; readonly moved: readonly MovedLoad[] };

/**
 * Plans for a rush part when lighter loads may give way: the soonest, and the soonest that makes no job late.
 *
 * All loads that may give way are taken off, the part is put where it is done soonest, and then each load goes back:
 * where it was if it still can be there, otherwise into its first free slot, the heaviest and most urgent first.
 *
 * @param before the part's own best plan, which must be beaten by at least `leastGainMs`
 */
export function givingWay(
  question: PromiseQuestion,
  before: Plan | null,
  leastGainMs: number,
): readonly GivingWay[] {
  const { board, loads, part } = question;
  const yielding = loadsThatYield(question);
  if (yielding.size === 0) return [];
  const staying = loads.filter(({ id }) => !yielding.has(id));
  const cleared = new Ground(board, staying, part);
  const limitMs = (before?.doneMs ?? Number.POSITIVE_INFINITY) - leastGainMs;
  const found: GivingWay[] = [];
  for (const plan of plansByTank(cleared, part)) {
    if (plan.doneMs > limitMs) break;
    const moved = putBack(cleared, plan, loads, yielding);
    if (!moved) continue;
    const harmless = moved.every(({ lateJobIds }) => lateJobIds.length === 0);
    if (found.length === 0 || harmless) found.push({ plan, moved });
    if (harmless) break;
  }
  return found;
}

/**
 * The loads that may be asked and weigh less than the part, save those that another load, which stays, waits for.
 */
function loadsThatYield(question: PromiseQuestion): ReadonlySet<string> {
  const { board, loads, part, mayGiveWay } = question;
  const weightOf = new Map(board.jobs.map(({ id, weight }) => [id, weight]));
  const jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobId]));
  const yielding = new Set(
    loads
      .filter(
        ({ id, dipIds }) =>
          mayGiveWay?.has(id) &&
          dipIds.every((dip) => (weightOf.get(jobOf.get(dip) ?? "") ?? 0) < part.job.weight),
      )
      .map(({ id }) => id),
  );
  const before = loadsBefore(board, loads);
  // What stays keeps what it waits for, which keeps what that waits for: until nothing changes.
  for (let changed = true; changed;) {
    changed = false;
    for (const { id } of loads) {
      if (yielding.has(id)) continue;
      for (const other of before.get(id) ?? []) changed = yielding.delete(other.id) || changed;
    }
  }
  return yielding;
}

/** What moves when the part is where the plan has it; null when one of the loads finds no place any more. */
function putBack(
  ground: Ground,
  plan: Plan,
  loads: readonly BoardLoad[],
  yielding: ReadonlySet<string>,
): readonly MovedLoad[] | null {
  const before = loadsBefore(ground.board, loads);
  const staying = loads.filter(({ id }) => !yielding.has(id));
  const now = new Map(staying.map((load) => [load.id, load]));
  const roster = new Roster(ground.board, staying);
  const put: BoardLoad[] = [];
  const keep = (load: BoardLoad): void => {
    ground.put(load);
    put.push(load);
    now.set(load.id, load);
  };
  const isReady = ({ id }: BoardLoad): boolean =>
    (before.get(id) ?? []).every((other) => now.has(other.id));
  for (const load of plan.loads) {
    keep(load);
    roster.addNewcomer(load);
  }
  const inOrder = loads.filter(({ id }) => yielding.has(id));
  inOrder.sort((a, b) => a.startsAtMs - b.startsAtMs);
  const off: BoardLoad[] = [];
  for (const load of inOrder) {
    if (isReady(load) && roster.hasRoomFor(load)) {
      keep(load);
      roster.keep(load);
    } else off.push(load);
  }
  placeAgain(ground, off.sort(mostUrgentFirst(ground.board)), before, now, keep);
  for (const load of put) ground.take(load);
  return now.size === loads.length + plan.loads.length
    ? movedBetween(ground.board, loads, now)
    : null;
}

/** Finds new places, in order, but for none before that of the load it waits for; stops at the first without one. */
function placeAgain(
  ground: Ground,
  off: readonly BoardLoad[],
  before: ReadonlyMap<string, readonly BoardLoad[]>,
  now: ReadonlyMap<string, BoardLoad>,
  keep: (load: BoardLoad) => void,
): void {
  const waiting = new Set(off);
  const outMs = (load: BoardLoad): number[] =>
    (before.get(load.id) ?? []).map(({ id }) => now.get(id)?.endsAtMs ?? NEVER);
  while (waiting.size > 0) {
    const load = [...waiting].find((one) => outMs(one).every((ms) => ms < NEVER));
    const again = load && firstSlotFor(load, ground, Math.max(ground.board.nowMs, ...outMs(load)));
    if (!again) return;
    waiting.delete(load);
    keep(again);
  }
}

/** By weight, then by the earlier due day, then by the earlier start. */
function mostUrgentFirst(board: Board): (a: BoardLoad, b: BoardLoad) => number {
  const jobs = new Map(board.jobs.map((job) => [job.id, job]));
  const jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobs.get(jobId)]));
  const weight = ({ dipIds }: BoardLoad): number =>
    Math.max(...dipIds.map((id) => jobOf.get(id)?.weight ?? 0));
  const due = ({ dipIds }: BoardLoad): number =>
    Math.min(...dipIds.map((id) => jobOf.get(id)?.dueMs ?? Number.MAX_VALUE));
  return (a, b) => weight(b) - weight(a) || due(a) - due(b) || a.startsAtMs - b.startsAtMs;
}

/** Where a load that gave way is done soonest, with the same dips in it. */
function firstSlotFor(load: BoardLoad, ground: Ground, afterMs: number): BoardLoad | null {
  const { board } = ground;
  const dips = board.dips.filter(({ id }) => load.dipIds.includes(id));
  const readyMs = Math.max(afterMs, ...dips.map(({ releaseMs }) => releaseMs));
  let best: BoardLoad | null = null;
  for (const { id: tankId } of board.tanks) {
    const needs = tankId === load.tankId ? load.needs : needsIn(board, tankId, dips);
    const times = needs && ground.earliest(needs, tankId, load.dipIds, readyMs);
    if (times && (!best || times.benchUntilMs < best.benchUntilMs)) {
      best = { ...load, ...times, tankId, needs };
    }
  }
  return best;
}

function needsIn(board: Board, tankId: string, dips: readonly BoardDip[]): TankNeeds | null {
  if (!dips.every(({ tanks }) => tanks.has(tankId))) return null;
  const [only, ...others] = dips;
  if (only && others.length === 0) return only.tanks.get(tankId) ?? null;
  return board.share(
    tankId,
    dips.map(({ id }) => id),
  );
}
