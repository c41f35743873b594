import type { Board, BoardLoad, Schedule, Score, TankNeeds } from "./board";
import { slotAt } from "./slots";
import { type Stretch, Timeline } from "./timeline";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** When a load is loaded, pulled, out and finished. */
export type LoadTimes = Pick<BoardLoad, "startsAtMs" | "pullAtMs" | "endsAtMs" | "benchUntilMs">;

/**
 * A board with loads on it, ready for more to be placed.
 * @example timelineOf(board, loads).earliest(0, { hours: 4, currentA: 5 }, 30, 0)
 */
export function timelineOf(board: Board, loads: readonly BoardLoad[] = []): Timeline {
  const timeline = new Timeline(board);
  const bench = benchMinutesBy(board);
  for (const load of loads) timeline.put(timeline.stretchOf(load, bench(load.dipIds)));
  return timeline;
}

/** Hands' minutes after the pull of a load of dips. */
export function benchMinutesBy(board: Board): (dipIds: readonly string[]) => number {
  const minutes = new Map(board.dips.map((dip) => [dip.id, dip.benchMinutes]));
  return (dipIds) => dipIds.reduce((sum, id) => sum + (minutes.get(id) ?? 0), 0);
}

/** The times of a stretch that a timeline found. */
export function timesOf(
  board: Pick<Board, "pullMinutes">,
  timeline: Timeline,
  stretch: Stretch,
  benchMinutes: number,
): LoadTimes {
  const pullAtMs = timeline.msOf(stretch.pullStep);
  const endsAtMs = pullAtMs + board.pullMinutes * MS_PER_MINUTE;
  return {
    startsAtMs: timeline.msOf(stretch.startStep),
    pullAtMs,
    endsAtMs,
    benchUntilMs: endsAtMs + benchMinutes * MS_PER_MINUTE,
  };
}

/**
 * What a chosen start makes, whatever else is on the board: pulled at the first step after its hours at which somebody
 * is there to pull and to finish.
 *
 * @returns null when nobody is there for the whole loading, or ever again to pull
 * @example stretchAt(board, { hours: 4, currentA: 5 }, 30, Date.parse("2026-11-25T08:00Z"))
 */
export function stretchAt(
  board: Pick<Board, "openings" | "loadMinutes" | "pullMinutes" | "stepMs">,
  needs: Pick<TankNeeds, "hours">,
  benchMinutes: number,
  startsAtMs: number,
): LoadTimes | null {
  const loadedMs = startsAtMs + board.loadMinutes * MS_PER_MINUTE;
  const treatedMs = loadedMs + needs.hours * MS_PER_HOUR;
  const onStepMs = Math.ceil(treatedMs / board.stepMs - 1e-9) * board.stepMs;
  const slot = slotAt(startsAtMs, {
    ...board,
    benchMinutes,
    hours: (onStepMs - loadedMs) / MS_PER_HOUR,
  });
  if (!slot) return null;
  return {
    startsAtMs,
    pullAtMs: slot.pullAtMs,
    endsAtMs: slot.endsAtMs,
    benchUntilMs: slot.endsAtMs + benchMinutes * MS_PER_MINUTE,
  };
}

/** When each job of a schedule is done, epoch ms; a job with a dip that found no place is not in it. */
export function completions(board: Board, schedule: Schedule): ReadonlyMap<string, number> {
  const jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobId]));
  const done = new Map<string, number>();
  for (const { id, heldUntilMs } of board.jobs) if (heldUntilMs !== null) done.set(id, heldUntilMs);
  for (const { dipIds, benchUntilMs } of schedule.loads) {
    for (const dipId of dipIds) {
      const jobId = jobOf.get(dipId);
      if (jobId !== undefined) done.set(jobId, Math.max(done.get(jobId) ?? 0, benchUntilMs));
    }
  }
  for (const dipId of schedule.unplaced) done.delete(jobOf.get(dipId) ?? "");
  return done;
}

/**
 * How good a schedule is. A job with a dip that found no place counts as late until the horizon.
 * @example scoreOf(board, { loads: [], unplaced: [] }) // { unplaced: 0, weightedTardinessH: 0, makespanH: 0 }
 */
export function scoreOf(board: Board, schedule: Schedule): Score {
  const done = completions(board, schedule);
  let weightedTardinessH = 0;
  for (const { id, dueMs, weight, heldUntilMs } of board.jobs) {
    const isOpen = done.has(id) || board.dips.some(({ jobId }) => jobId === id);
    if (dueMs === null || (!isOpen && heldUntilMs === null)) continue;
    const lateMs = (done.get(id) ?? board.horizonMs) - dueMs;
    weightedTardinessH += (weight * Math.max(0, lateMs)) / MS_PER_HOUR;
  }
  const lastMs = Math.max(board.nowMs, ...schedule.loads.map(({ benchUntilMs }) => benchUntilMs));
  return {
    unplaced: schedule.unplaced.length,
    weightedTardinessH,
    makespanH: (lastMs - board.nowMs) / MS_PER_HOUR,
  };
}

/** Differences below this are rounding, h. */
const SAME_H = 1e-6;

/**
 * Which of two schedules is better: fewer without a place, then less weighted lateness, then an earlier end.
 * @returns below 0 when `a` is better, above 0 when `b` is, 0 when neither
 */
export function compareScores(a: Score, b: Score): number {
  if (a.unplaced !== b.unplaced) return a.unplaced - b.unplaced;
  const late = a.weightedTardinessH - b.weightedTardinessH;
  if (Math.abs(late) > SAME_H) return late;
  const end = a.makespanH - b.makespanH;
  return Math.abs(end) > SAME_H ? end : 0;
}
