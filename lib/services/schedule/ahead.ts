import { type Actor, requirePermission } from "@/lib/access";
import { reading, recentParts, type RecentPart } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { type Arrivals, type ShopChange, type Simulation } from "@/lib/scheduling";
import { addDays, calendarDay, endOfDay, startOfDay } from "../calendar";
import { inThread, Stopped } from "../threads/thread";
import type { AheadAnswer } from "./ahead-in-thread";
import type { ShopBoard } from "./board-rows";
import { boardNames, type BoardNames } from "./names";
import { type WholeBoard, wholeBoard } from "./whole-board";

const DAY_MS = 86_400_000;
/** What came in over so many weeks is taken to come again. */
const WEEKS_BACK = 8;
const TIMES = 1000;
const MOST_MS = 90_000;
/** Weeks ahead that may be asked for. */
export const AHEAD_WEEKS = [1, 2, 4, 6] as const;

export type LookAhead = {
  readonly weeks: (typeof AHEAD_WEEKS)[number];
  /** jobs go on coming in as they did of late */
  readonly withArrivals: boolean;
  /** what the shop would have more */
  readonly change: ShopChange | null;
};

export type WeeksAhead = AheadAnswer & {
  readonly names: BoardNames;
  /** jobs a week that were reckoned with; 0 for none */
  readonly weeklyRate: number;
  /** loads booked in the weeks that were played */
  readonly loads: number;
  readonly untilMs: number;
};

/**
 * Plays the booked weeks ahead a thousand times with the hours' spread: how sure the promises are, how full the tanks,
 * and what everything waits for. Nothing is stored.
 *
 * @throws Refusal not-allowed | invalid | conflict where it took too long
 */
export async function lookAhead(actor: Actor, look: LookAhead, now: Date): Promise<WeeksAhead> {
  requirePermission(actor, "see-shop");
  const { whole, recent } = await reading(async (db) => ({
    whole: await wholeBoard(db, { withWaiting: false, otherTanks: false }, now),
    recent: look.withArrivals
      ? await recentParts(db, new Date(now.getTime() - WEEKS_BACK * 7 * DAY_MS))
      : [],
  }));
  const { shop, problem } = whole;
  const { timeZone } = shop.calendar;
  const lastDay = addDays(calendarDay(now, timeZone), 7 * look.weeks);
  const untilMs = startOfDay(lastDay, timeZone).getTime();
  const arrivals = arrivalsOf(shop, recent, untilMs);
  checkChange(shop, look.change);
  try {
    const answer = await inThread(
      "ahead",
      {
        problem,
        tanks: shop.tanks,
        spreads: spreadsOf(whole),
        heldLoads: heldLoadsOf(whole),
        arrivals,
        times: TIMES,
        seed: 1,
        untilMs,
        change: look.change,
      },
      { mostMs: MOST_MS },
    );
    const loads = problem.loads.filter(({ startsAtMs }) => startsAtMs < untilMs).length;
    const weeklyRate = arrivals?.weeklyRate ?? 0;
    return { ...answer, names: boardNames(shop), weeklyRate, loads, untilMs };
  } catch (error) {
    if (!(error instanceof Stopped)) throw error;
    throw new Refusal("conflict", "Playing the weeks took too long. Look less far ahead.");
  }
}

function checkChange({ tanks }: ShopBoard, change: ShopChange | null): void {
  if (!change || change.kind === "HANDS") return;
  const tankId = change.kind === "TANK" ? change.likeTankId : change.tankId;
  if (!tanks.some(({ id, supplyId }) => id === tankId && supplyId !== null)) {
    throw new Refusal("invalid", "Choose a tank with a supply.");
  }
}

/** The spread of a booked load is that of its slowest dip's plan; loads that are held have theirs too. */
function spreadsOf({ shop }: WholeBoard): Simulation["spreads"] {
  return new Map(
    shop.runs.flatMap(({ id, dips, treatHours }) => {
      const slowest = [...dips].sort((a, b) => b.plan.hoursP90 - a.plan.hoursP90)[0]?.plan;
      if (!slowest || !(treatHours > 0)) return [];
      const p50Hours = treatHours * Math.min(1, slowest.hoursP50 / slowest.hoursP90);
      return [[id, { p50Hours, p90Hours: treatHours }] as const];
    }),
  );
}

/** Running and fixed loads by the jobs whose parts are in them. */
function heldLoadsOf({ shop, problem }: WholeBoard): NonNullable<Simulation["heldLoads"]> {
  const held = new Set(problem.board.held.map(({ id }) => id));
  const byJob = new Map<string, string[]>();
  for (const { id, dips } of shop.runs) {
    if (!held.has(id)) continue;
    for (const jobId of new Set(dips.map(({ part }) => part.job.id))) {
      byJob.set(jobId, [...(byJob.get(jobId) ?? []), id]);
    }
  }
  return byJob;
}

/** Jobs go on coming in as often as of late, and are like those. */
function arrivalsOf(
  shop: ShopBoard,
  recent: readonly RecentPart[],
  untilMs: number,
): Arrivals | null {
  const usable = new Set(shop.tanks.flatMap(({ id, supplyId }) => (supplyId ? [id] : [])));
  const parts = recent
    .filter(({ tankId, hoursP90 }) => usable.has(tankId) && hoursP90 > 0)
    .map((plan) => arrivingPart(shop, plan));
  const [first, ...rest] = parts;
  if (!first) return null;
  return {
    weeklyRate: parts.length / WEEKS_BACK,
    parts: [first, ...rest],
    promise: { kind: "EARLIEST", dayEndsMs: dayEnds(shop, untilMs) },
  };
}

function arrivingPart({ bench }: ShopBoard, plan: RecentPart): Arrivals["parts"][number] {
  const hours = plan.hoursP90 / plan.dipCount;
  const needs = {
    hours,
    currentA: plan.currentA,
    p50Hours: Math.min(hours, plan.hoursP50 / plan.dipCount),
    p90Hours: hours,
  };
  const finish = bench.finishMinutesPerM2 * plan.areaM2 * plan.quantity;
  return {
    id: plan.id,
    weight: 1,
    dips: Array.from({ length: plan.dipCount }, (_, at) => ({
      benchMinutes: at === plan.dipCount - 1 ? finish : 0,
      tanks: new Map([[plan.tankId, needs]]),
    })),
  };
}

/** Ends of the shop's days: a promise is of a day. */
function dayEnds({ calendar, now }: ShopBoard, untilMs: number): readonly number[] {
  const today = calendarDay(now, calendar.timeZone);
  const count = Math.ceil((untilMs - now.getTime()) / DAY_MS) + 30;
  return Array.from({ length: count }, (_, at) =>
    endOfDay(addDays(today, at), calendar.timeZone).getTime(),
  );
}
