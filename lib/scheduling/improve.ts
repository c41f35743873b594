import type { Board, BoardLoad, Schedule, Score } from "./board";
import { construct, keep, type Kept } from "./dispatch";
import { faultsOf } from "./faults";
import { compareScores, scoreOf } from "./place";
import { Plan, type PlanLoad } from "./plan";
import { EXACT, repair } from "./repair";
import { restore } from "./restore";
import { search } from "./search";
import { Units } from "./units";

/** Where and when a load begins. */
export type LoadPlace = { readonly tankId: string; readonly startsAtMs: number };

/** What becomes of one load. */
export type LoadMove = {
  readonly loadId: string;
  /** where it was booked; null for a new load */
  readonly from: LoadPlace | null;
  /** where it goes; null when it found no place, which only a load that broke a rule can meet */
  readonly to: LoadPlace | null;
  /** dips that waited and are in it now */
  readonly joinedDipIds: readonly string[];
};

export type Improved = {
  readonly schedule: Schedule;
  readonly score: Score;
  /** of the booked loads as they lie, everything that waits counting as without a place */
  readonly before: Score;
  /** new, moved and joined loads; one that stays as it is is not in it */
  readonly moves: readonly LoadMove[];
  /** changes that were tried */
  readonly tries: number;
};

export type ImproveOptions = {
  /** any whole number; the same seed and `maxTries` give the same schedule where the budget does not end it first */
  readonly seed: number;
  /** a clock, ms */
  readonly now: () => number;
  /** how long to look, ms */
  readonly budgetMs: number;
  readonly maxTries?: number;
  /** told of each better schedule */
  readonly onProgress?: (progress: Progress) => void;
  /** asked now and then; true ends the search with the best so far */
  readonly cancelled?: () => boolean;
};

export type Progress = {
  readonly tries: number;
  readonly elapsedMs: number;
  readonly score: Score;
};

/**
 * A schedule by dispatch rules alone: what a look at the board without patience gives.
 *
 * @param current booked loads that may be moved, each dip in one at most
 * @example buildSchedule(board, []).schedule.loads
 */
export function buildSchedule(board: Board, current: readonly BoardLoad[]): Improved {
  const units = new Units(board, current);
  return improved(
    board,
    current,
    units,
    started(board, current, units, () => false),
    0,
  );
}

/** By when each stage ends, as a share of the budget. */
const SHARES = { construct: 0.3, search: 0.93, restore: 1 };

/**
 * A better schedule: waiting dips in loads of their own, shared or joined to booked ones, and booked loads elsewhere
 * where that helps. Fewest dips without a place, then least weighted lateness, then the earliest end, then fewest
 * booked loads moved. Never worse than what was booked, unless that broke a rule.
 *
 * @param current booked loads that may be moved, each dip in one at most; what must stay is among `board.held`
 * @throws RangeError when the budget or the tries are below 0
 * @example improveSchedule(board, [], { seed: 1, now: () => performance.now(), budgetMs: 2000 }).score
 */
export function improveSchedule(
  board: Board,
  current: readonly BoardLoad[],
  options: ImproveOptions,
): Improved {
  const { seed, now, budgetMs, maxTries, onProgress, cancelled } = options;
  if (!(budgetMs >= 0)) throw new RangeError(`the budget must be 0 ms or more, got ${budgetMs}`);
  if (maxTries !== undefined && !(maxTries >= 0)) {
    throw new RangeError(`the tries must be 0 or more, got ${maxTries}`);
  }
  const beganMs = now();
  const isPast = (share: number) => (): boolean =>
    now() - beganMs >= share * budgetMs || cancelled?.() === true;
  const units = new Units(board, current);
  const start = started(board, current, units, isPast(SHARES.construct));
  const { best, tries } = search(units, start, {
    seed,
    isOver: isPast(SHARES.search),
    ...(maxTries === undefined ? {} : { maxTries }),
    onBetter: ({ unplaced, weightedTardinessH, makespanH }, tried) =>
      onProgress?.({
        tries: tried,
        elapsedMs: now() - beganMs,
        score: { unplaced, weightedTardinessH, makespanH },
      }),
  });
  const restored = restore(units, best, isPast(SHARES.restore));
  return improved(board, current, units, restored, tries);
}

/** The best start: what is booked with the rest put round it, or what the rules make. */
function started(
  board: Board,
  current: readonly BoardLoad[],
  units: Units,
  isOver: () => boolean,
): Kept {
  const plan = new Plan(units);
  const homes = homesOf(board, current, plan);
  for (const home of homes) plan.add(home);
  const left = plan.unplaced().map((unit) => [unit]);
  repair(plan, left, EXACT);
  const asBooked = keep(plan);
  const built = construct(units, homes.length > 0 ? homes : null, isOver);
  // Where both are as good, nothing is moved for nothing.
  return compareScores(built.score, asBooked.score) < 0 ? built : asBooked;
}

/** Booked loads that break no rule where they lie; of two that do, the one that begins first stays. */
function homesOf(board: Board, current: readonly BoardLoad[], plan: Plan): PlanLoad[] {
  const isSound = current.every((load) => faultsOf(board, current, load).length === 0);
  const staying: BoardLoad[] = [];
  const homes: PlanLoad[] = [];
  const order = plan.units.units
    .filter(({ booked }) => booked !== null)
    .sort((a, b) => (a.booked?.startsAtMs ?? 0) - (b.booked?.startsAtMs ?? 0));
  for (const { index, booked } of order) {
    const home = plan.home(index);
    if (!home || !booked) continue;
    if (!isSound && faultsOf(board, staying, booked).length > 0) continue;
    staying.push(booked);
    homes.push(home);
  }
  return homes;
}

function improved(
  board: Board,
  current: readonly BoardLoad[],
  units: Units,
  found: Kept,
  tries: number,
): Improved {
  const plan = new Plan(units);
  for (const load of found.loads) plan.add(load);
  const schedule = plan.schedule();
  const booked = new Set(current.flatMap(({ dipIds }) => dipIds));
  const waiting = board.dips.map(({ id }) => id).filter((id) => !booked.has(id));
  return {
    schedule,
    score: scoreOf(board, schedule),
    before: scoreOf(board, { loads: current, unplaced: waiting }),
    moves: movesBetween(current, schedule),
    tries,
  };
}

const placeOf = ({ tankId, startsAtMs }: BoardLoad): LoadPlace => ({ tankId, startsAtMs });

/** What changes from booked loads to a schedule, in order of the new starts; loads without a place last. */
export function movesBetween(
  current: readonly BoardLoad[],
  { loads }: Pick<Schedule, "loads">,
): readonly LoadMove[] {
  const old = new Map(current.map((load) => [load.id, load]));
  const placed = new Set(loads.map(({ id }) => id));
  const moves = loads.flatMap((load): LoadMove[] => {
    const from = old.get(load.id);
    const joined = load.dipIds.filter((id) => !from?.dipIds.includes(id));
    const stays = from?.tankId === load.tankId && from.startsAtMs === load.startsAtMs;
    if (stays && joined.length === 0 && from.pullAtMs === load.pullAtMs) return [];
    const move = { loadId: load.id, from: from ? placeOf(from) : null, to: placeOf(load) };
    return [{ ...move, joinedDipIds: from ? joined : [...load.dipIds] }];
  });
  const lost = current.filter(({ id }) => !placed.has(id));
  return [
    ...moves,
    ...lost.map((load) => ({
      loadId: load.id,
      from: placeOf(load),
      to: null,
      joinedDipIds: [],
    })),
  ];
}
