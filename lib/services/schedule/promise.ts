import { type Actor, requirePermission } from "@/lib/access";
import { reading } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import {
  type BoardDip,
  earliestPromise,
  type EarliestPromise,
  type ExtraOpening,
  type NewPart,
  openingsBetween,
  type ShopCalendar,
} from "@/lib/scheduling";
import { addDays, calendarDay, dateText, endOfDay, startOfDay } from "../calendar";
import { problemForPart, type PartProblem } from "./free-slots";
import { boardNames, type BoardNames } from "./names";
import { RUSH_WEIGHT } from "./problem";

/** Closed days that are tried as open ones. */
const EXTRA_DAYS = 2;
const LOOK_AHEAD_DAYS = 14;
/** Loads of one tank that are looked at to be shared, the soonest. */
const MOST_JOINABLE = 8;

export type PromisedPart = {
  readonly part: {
    readonly id: string;
    readonly mark: string;
    readonly description: string;
    readonly jobId: string;
    readonly jobNumber: number;
    readonly rush: boolean;
    /** the day that was promised already, YYYY-MM-DD */
    readonly promisedFor: string | null;
  };
  readonly timeZone: string;
  readonly promise: EarliestPromise;
  /** tanks that do not take it, with why */
  readonly notTaken: readonly { readonly tankId: string; readonly why: string }[];
  readonly names: BoardNames;
};

/**
 * The earliest that a planned part can be promised for, why not earlier, and what would make it earlier.
 *
 * @throws Refusal not-allowed | not-found | conflict where it does not wait for a tank
 */
export async function promisePart(actor: Actor, partId: string, now: Date): Promise<PromisedPart> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const found = await problemForPart(db, partId, now);
    const { board, loads, why, planned, shop } = found;
    const { part } = planned;
    const { plan } = part;
    const { timeZone } = shop.calendar;
    const promise = earliestPromise({
      board,
      loads,
      part: newPart(found),
      timeZone,
      ...(plan && { medianShare: Math.min(1, plan.hoursP50 / plan.hoursP90) }),
      extraOpenings: extraOpenings(shop.calendar, now),
      mayGiveWay: new Set(loads.map(({ id }) => id)),
    });
    const { job } = part;
    return {
      part: {
        id: part.id,
        mark: part.mark,
        description: part.description,
        jobId: job.id,
        jobNumber: job.number,
        rush: job.rush,
        promisedFor: job.promisedFor && dateText(job.promisedFor),
      },
      timeZone,
      promise,
      notTaken: [...why].map(([tankId, words]) => ({ tankId, why: words })),
      names: boardNames(shop),
    };
  });
}

function newPart({ board, loads, dips, planned, why }: PartProblem): NewPart {
  const { job } = planned.part;
  const own = dips.flatMap(({ id }) => board.dips.find((dip) => dip.id === id) ?? []);
  const [first, second] = own;
  if (!first) {
    const reasons = [...new Set(why.values())].join(" ");
    throw new Refusal("conflict", `No tank takes this part as they stand now. ${reasons}`);
  }
  const pair: readonly [BoardDip] | readonly [BoardDip, BoardDip] = second
    ? [first, second]
    : [first];
  const joinable = new Map(
    board.tanks.map(({ id }) => [
      id,
      loads
        .filter(({ tankId }) => tankId === id)
        .sort((a, b) => a.startsAtMs - b.startsAtMs)
        .slice(0, MOST_JOINABLE)
        .map((load) => load.id),
    ]),
  );
  const known = board.jobs.find(({ id }) => id === job.id);
  const weight = job.rush ? RUSH_WEIGHT : 1;
  return {
    job: known ?? { id: job.id, dueMs: null, weight, heldUntilMs: null },
    dips: pair,
    joinable,
  };
}

/** The next days on which nobody is there, open for the hours of the weekday that has the most. */
function extraOpenings(calendar: ShopCalendar, now: Date): readonly ExtraOpening[] {
  const longest = [...calendar.hours].sort(
    (a, b) => b.closesMinute - b.opensMinute - (a.closesMinute - a.opensMinute),
  )[0];
  if (!longest) return [];
  const today = calendarDay(now, calendar.timeZone);
  const days = Array.from({ length: LOOK_AHEAD_DAYS }, (_, at) => addDays(today, at + 1));
  return days
    .flatMap((date): ExtraOpening[] => {
      const day = dateText(date);
      const fromMs = startOfDay(date, calendar.timeZone).getTime();
      const untilMs = endOfDay(date, calendar.timeZone).getTime();
      if (openingsBetween(calendar, fromMs, untilMs).length > 0) return [];
      const { opensMinute, closesMinute } = longest;
      const open = { ...calendar, specialHours: [{ day, opensMinute, closesMinute }] };
      const [span] = openingsBetween(open, fromMs, untilMs);
      return span ? [{ label: day, span }] : [];
    })
    .slice(0, EXTRA_DAYS);
}
