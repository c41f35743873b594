import type { Board, BoardDip, BoardLoad, TankNeeds } from "./board";
import { type OccupantMaker, occupantMaker, Roster } from "./occupants";
import { Ground } from "./promise-ground";
import { Booked } from "./promise-moved";
import { type Plan, plansByTank } from "./promise-place";
import type { MovedLoad, PromiseQuestion } from "./promise-types";

const NEVER = Number.POSITIVE_INFINITY;

/** A plan for the part, and what had to give way for it. */
export type GivingWay = { readonly plan: Plan; readonly moved: readonly MovedLoad[] };

/** What stays the same over the plans that are tried. */
type Scene = {
  /** with everything that is booked on it */
  readonly ground: Ground;
  readonly booked: Booked;
  readonly occupants: OccupantMaker;
  /** the loads that do not give way, and those that may, by start */
  readonly staying: readonly BoardLoad[];
  readonly yielding: readonly BoardLoad[];
};

/**
 * Plans for a rush part when lighter loads may give way: the soonest, and the soonest that makes no job late.
 *
 * All loads that may give way are taken off, the part is put where it is done soonest, and then each load goes back:
 * where it was if it still can be there, otherwise into its first free slot, the heaviest and most urgent first.
 *
 * @param ground with everything that is booked on it; it is left as it was
 * @param byMs a plan must be done by then
 */
export function givingWay(
  question: PromiseQuestion,
  ground: Ground,
  byMs: number,
): readonly GivingWay[] {
  const { board, loads, part } = question;
  const booked = new Booked(ground.board, loads);
  const mayYield = loadsThatYield(question, booked);
  if (mayYield.size === 0) return [];
  const staying = loads.filter(({ id }) => !mayYield.has(id));
  const yielding = loads.filter(({ id }) => mayYield.has(id));
  yielding.sort((a, b) => a.startsAtMs - b.startsAtMs);
  const scene = { ground, booked, occupants: occupantMaker(ground.board), staying, yielding };
  const found: GivingWay[] = [];
  for (const plan of plansByTank(new Ground(board, staying, part), part)) {
    if (plan.doneMs > byMs) break;
    const moved = putBack(scene, plan);
    if (!moved) continue;
    const isHarmless = moved.every(({ lateJobIds }) => lateJobIds.length === 0);
    if (found.length === 0 || isHarmless) found.push({ plan, moved });
    if (isHarmless) break;
  }
  return found;
}

/**
 * The loads that may be asked and weigh less than the part, save those that another load, which stays, waits for.
 */
function loadsThatYield(
  { loads, part, mayGiveWay }: PromiseQuestion,
  booked: Booked,
): ReadonlySet<string> {
  const lighter = loads.filter(
    (load) => mayGiveWay?.has(load.id) && booked.weightOf(load) < part.job.weight,
  );
  const yielding = new Set(lighter.map(({ id }) => id));
  // What stays keeps what it waits for, which keeps what that waits for: until nothing changes.
  for (let changed = true; changed;) {
    changed = false;
    for (const { id } of loads) {
      if (yielding.has(id)) continue;
      for (const other of booked.before(id)) changed = yielding.delete(other.id) || changed;
    }
  }
  return yielding;
}

/** What moves when the part is where the plan has it; null when one of the loads finds no place any more. */
function putBack(scene: Scene, plan: Plan): readonly MovedLoad[] | null {
  const { ground, booked } = scene;
  const off = loadsInTheWay(scene, plan);
  for (const load of off) ground.take(load);
  for (const load of plan.loads) ground.put(load);
  const again = placeAgain(scene, off);
  for (const load of [...plan.loads, ...again.values()]) ground.take(load);
  for (const load of off) ground.put(load);
  return again.size === off.length ? booked.moved(again) : null;
}

/** The loads that cannot stay where they are, and those that wait for one of them. */
function loadsInTheWay({ booked, occupants, staying, yielding }: Scene, plan: Plan): BoardLoad[] {
  const roster = new Roster(occupants, staying, plan.loads);
  const off = new Set<string>();
  for (const load of yielding) {
    const isBehind = booked.before(load.id).some(({ id }) => off.has(id));
    if (isBehind || !roster.hasRoomFor(load)) off.add(load.id);
    else roster.keep(load);
  }
  return yielding.filter(({ id }) => off.has(id));
}

/** Finds new places, the most urgent first, but for none before that of the load it waits for. */
function placeAgain(
  { ground, booked }: Scene,
  off: readonly BoardLoad[],
): ReadonlyMap<string, BoardLoad> {
  const waiting = new Set([...off].sort(mostUrgentFirst(booked)));
  const again = new Map<string, BoardLoad>();
  const outMs = (other: BoardLoad): number =>
    again.get(other.id)?.endsAtMs ?? (waiting.has(other) ? NEVER : other.endsAtMs);
  const readyMs = ({ id }: BoardLoad): number => Math.max(0, ...booked.before(id).map(outMs));
  while (waiting.size > 0) {
    const load = [...waiting].find((one) => readyMs(one) < NEVER);
    const moved = load && firstSlotFor(load, ground, readyMs(load));
    if (!moved) break;
    waiting.delete(load);
    again.set(load.id, moved);
    ground.put(moved);
  }
  return again;
}

/** By weight, then by the earlier due day, then by the earlier start. */
function mostUrgentFirst(booked: Booked): (a: BoardLoad, b: BoardLoad) => number {
  return (a, b) =>
    booked.weightOf(b) - booked.weightOf(a) ||
    Math.min(booked.dueMs(a), Number.MAX_VALUE) - Math.min(booked.dueMs(b), Number.MAX_VALUE) ||
    a.startsAtMs - b.startsAtMs;
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
