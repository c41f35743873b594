/** The board that is drawn, as the board that the rules speak of: what a run would break is then told while it is moved. Pure. */
import {
  type Board,
  type BoardDip,
  type BoardLoad,
  type Fault,
  faultsOf,
  type Held,
  type LoadTimes,
  stretchAt,
  type TankNeeds,
} from "@/lib/scheduling";
import type { BoardRun, Lane, TimeBoard } from "@/lib/services";
import type { InHand } from "./moving";

const MINUTE_MS = 60_000;
/** A load that should be out still holds its tank; it is taken to come out within this. */
const OVERDUE_MS = 30 * MINUTE_MS;
/** A start typed or dragged to this minute is not past when it is sent. */
const GRACE_MS = 5 * MINUTE_MS;

/** What can be asked about moves: the rules' own board, and the loads that may be moved on it. */
export type Problem = { readonly board: Board; readonly loads: readonly BoardLoad[] };

export function problemOf(time: TimeBoard, nowMs: number): Problem {
  const runs = time.lanes.flatMap((lane) => lane.runs.map((run) => ({ run, lane })));
  const planned = runs.filter(({ run }) => run.state === "PLANNED");
  return {
    loads: planned.map(({ run, lane }) => loadOf(run, lane.tankId, time)),
    board: {
      nowMs: nowMs - GRACE_MS,
      horizonMs: time.openings.at(-1)?.untilMs ?? time.untilMs,
      stepMs: time.stepMs,
      openings: time.openings,
      loadMinutes: time.loadMinutes,
      pullMinutes: time.pullMinutes,
      hands: time.hands,
      supplies: time.supplies,
      tanks: time.lanes.flatMap(({ tankId: id, supplyId }) => (supplyId ? [{ id, supplyId }] : [])),
      held: time.lanes.flatMap((lane) => heldIn(lane, time, nowMs)),
      jobs: [],
      dips: planned.flatMap(({ run, lane }) => dipsOf(run, lane.tankId, nowMs - GRACE_MS)),
      // Loads stay together while one is moved by hand.
      share: () => null,
    },
  };
}

const needsOf = (run: BoardRun): TankNeeds => ({ hours: run.treatHours, currentA: run.currentA });

const loadOf = (run: BoardRun, tankId: string, { pullMinutes }: TimeBoard): BoardLoad => ({
  id: run.id,
  dipIds: run.parts.map(({ dipId }) => dipId),
  tankId,
  needs: needsOf(run),
  startsAtMs: run.startsAtMs,
  pullAtMs: run.endsAtMs - pullMinutes * MINUTE_MS,
  endsAtMs: run.endsAtMs,
  benchUntilMs: run.endsAtMs + run.benchMinutes * MINUTE_MS,
});

/** The bench's minutes belong to the load; the first of its dips carries them. */
const dipsOf = (run: BoardRun, tankId: string, releaseMs: number): BoardDip[] =>
  run.parts.map(({ dipId, jobId }, index) => ({
    id: dipId,
    jobId,
    releaseMs,
    afterId: null,
    tanks: new Map([[tankId, needsOf(run)]]),
    benchMinutes: index === 0 ? run.benchMinutes : 0,
  }));

function heldIn({ tankId, runs, holds }: Lane, time: TimeBoard, nowMs: number): Held[] {
  const running = runs
    .filter(({ state }) => state === "RUNNING")
    .map((run) => {
      const untilMs = Math.max(run.endsAtMs, nowMs + OVERDUE_MS);
      const pullMs = untilMs - time.pullMinutes * MINUTE_MS;
      const attended = [{ fromMs: pullMs, untilMs: untilMs + run.benchMinutes * MINUTE_MS }];
      const { id, startsAtMs: fromMs, currentA } = run;
      return { id, tankId, currentA, fromMs, untilMs, attended };
    });
  const work = holds
    .filter(({ done }) => !done)
    .map(({ id, kind, startsAtMs: fromMs, endsAtMs: untilMs }) => ({
      id,
      tankId,
      currentA: 0,
      fromMs,
      untilMs,
      // Changes of bath and anode need hands; a tank that is out of order needs none.
      attended: kind === "MAINTENANCE" ? [] : [{ fromMs, untilMs }],
    }));
  return [...running, ...work];
}

/** Where a run in the hand would lie, and what it would break there. */
export type Trial = {
  /** null where nobody is there to load, or ever again to pull */
  readonly times: LoadTimes | null;
  readonly faults: readonly Fault[];
};

/** @param needs what it asks of the tank it is held over */
export function tryHand(
  { board, loads }: Problem,
  hand: InHand,
  run: Pick<BoardRun, "id" | "benchMinutes" | "parts">,
  needs: TankNeeds,
): Trial {
  const times = timesOf(board, hand, run.benchMinutes, needs);
  const lying = times ?? bareTimes(board, hand, run.benchMinutes, needs);
  const load: BoardLoad = {
    id: run.id,
    dipIds: run.parts.map(({ dipId }) => dipId),
    tankId: hand.tankId,
    needs,
    ...lying,
  };
  return { times, faults: faultsOf(board, loads, load) };
}

function timesOf(
  board: Board,
  { startsAtMs, endsAtMs }: InHand,
  benchMinutes: number,
  needs: TankNeeds,
): LoadTimes | null {
  if (endsAtMs === null) return stretchAt(board, needs, benchMinutes, startsAtMs);
  return {
    startsAtMs,
    pullAtMs: endsAtMs - board.pullMinutes * MINUTE_MS,
    endsAtMs,
    benchUntilMs: endsAtMs + benchMinutes * MINUTE_MS,
  };
}

/** As long as the load needs, whether or not anybody is there: what is drawn where it cannot lie. */
function bareTimes(
  board: Board,
  { startsAtMs }: InHand,
  benchMinutes: number,
  needs: TankNeeds,
): LoadTimes {
  const treatMs = Math.round(needs.hours * 60 * MINUTE_MS);
  const pullAtMs = startsAtMs + board.loadMinutes * MINUTE_MS + treatMs;
  const endsAtMs = pullAtMs + board.pullMinutes * MINUTE_MS;
  return { startsAtMs, pullAtMs, endsAtMs, benchUntilMs: endsAtMs + benchMinutes * MINUTE_MS };
}

/** The times to draw a trial by. */
export function drawnTimes(
  { board }: Problem,
  trial: Trial,
  hand: InHand,
  run: Pick<BoardRun, "benchMinutes">,
  needs: TankNeeds,
): LoadTimes {
  return trial.times ?? bareTimes(board, hand, run.benchMinutes, needs);
}
