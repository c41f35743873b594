/** A busy shop that chance makes from a seed: dips booked one after the other into the first slot that is free. */
import {
  type Board,
  type BoardDip,
  type BoardJob,
  type BoardLoad,
  type NewPart,
  openingsBetween,
  type TankNeeds,
  timelineOf,
  timesOf,
} from "@/lib/scheduling";
import { numbersFrom } from "./cut-boxes";

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/** Hours and current that a part asks for, the same in each of the tanks that are large enough. */
function needsIn(tankIds: readonly string[], random: () => number): Map<string, TankNeeds> {
  const needs = {
    hours: 4 + Math.round(28 * random() ** 2),
    currentA: 3 + Math.round(9 * random()),
  };
  return new Map(tankIds.map((id) => [id, needs]));
}

/** A shop with two tanks on each supply, three pairs of hands, open on weekdays; and its loads. */
export function bookedBoard(size: {
  readonly dips: number;
  readonly tanks: number;
  readonly seed: number;
}): { readonly board: Board; readonly loads: readonly BoardLoad[] } {
  const random = numbersFrom(size.seed);
  const nowMs = Date.parse("2026-11-23T07:00Z");
  const horizonMs = nowMs + 70 * DAY;
  const hours = [1, 2, 3, 4, 5].map((weekday) => ({
    weekday,
    opensMinute: 480,
    closesMinute: 1020,
  }));
  const tanks = Array.from({ length: size.tanks }, (_, at) => ({
    id: `tank ${at}`,
    supplyId: `supply ${Math.floor(at / 2)}`,
  }));
  const jobs: BoardJob[] = [];
  const dips: BoardDip[] = [];
  for (let at = 0; at < size.dips; at += 1) {
    const dueMs = nowMs + (3 + 25 * random()) * DAY;
    jobs.push({ id: `job ${at}`, dueMs, weight: random() < 0.1 ? 4 : 1, heldUntilMs: null });
    const from = Math.floor(random() * size.tanks);
    const fitting = tanks.slice(from, from + 4).map(({ id }) => id);
    dips.push({
      id: `dip ${at}`,
      jobId: `job ${at}`,
      releaseMs: nowMs,
      afterId: null,
      tanks: needsIn(fitting, random),
      benchMinutes: 15 + 15 * Math.floor(3 * random()),
    });
  }
  const board: Board = {
    nowMs,
    horizonMs,
    stepMs: HOUR / 4,
    openings: openingsBetween(
      { timeZone: "Europe/Berlin", hours, closedDays: [] },
      nowMs,
      horizonMs,
    ),
    loadMinutes: 15,
    pullMinutes: 15,
    hands: 3,
    tanks,
    supplies: [...new Set(tanks.map(({ supplyId }) => supplyId))].map((id) => ({
      id,
      ratingA: 18,
    })),
    held: [],
    jobs,
    dips,
    share: (tankId, ids) =>
      ids.length > 2 ? null : { hours: 24, currentA: 6 + tankId.length / 10 },
  };
  return { board, loads: booked(board) };
}

function booked(board: Board): BoardLoad[] {
  const timeline = timelineOf(board);
  return board.dips.flatMap((dip) => {
    const slots = [...dip.tanks].flatMap(([tankId, needs]) => {
      const stretch = timeline.earliest(timeline.tankAt(tankId), needs, dip.benchMinutes, 0);
      return stretch ? [{ tankId, needs, stretch }] : [];
    });
    const [best] = slots.sort((a, b) => a.stretch.pullStep - b.stretch.pullStep);
    if (!best) return [];
    const { tankId, needs, stretch } = best;
    timeline.put(stretch);
    const times = timesOf(board, timeline, stretch, dip.benchMinutes);
    return [{ id: `load of ${dip.id}`, dipIds: [dip.id], tankId, needs, ...times }];
  });
}

/** A rush part that may go in any tank, and may join the loads of the first two. */
export function newPart(board: Board, loads: readonly BoardLoad[], seed: number): NewPart {
  const random = numbersFrom(seed);
  const dip = (id: string, afterId: string | null): BoardDip => ({
    id,
    jobId: "rush",
    releaseMs: board.nowMs,
    afterId,
    tanks: needsIn(
      board.tanks.map((tank) => tank.id),
      random,
    ),
    benchMinutes: 30,
  });
  const first = dip("first end", null);
  return {
    job: { id: "rush", dueMs: null, weight: 3, heldUntilMs: null },
    dips: seed % 2 === 0 ? [first] : [first, dip("second end", "first end")],
    joinable: new Map(
      board.tanks
        .slice(0, 2)
        .map(({ id }) => [id, loads.filter((load) => load.tankId === id).map((load) => load.id)]),
    ),
  };
}
