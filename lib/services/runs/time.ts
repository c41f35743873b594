import { type Db, listLiveRuns } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import {
  clashWith,
  openingsBetween,
  type ShopCalendar,
  type Slot,
  slotAt,
  type Span,
} from "@/lib/scheduling";
import { type BenchTimes, benchTimes, workingHours } from "../working-hours";

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
/** How far ahead a slot is looked for. */
export const HORIZON_DAYS = 42;
/** A load that should be out still holds its tank; it is taken to come out within this. */
const OVERDUE_MS = 30 * MINUTE_MS;

/** Everything that tells when a load can go in and come out. */
export type Timing = {
  readonly calendar: ShopCalendar;
  readonly openings: readonly Span[];
  readonly bench: BenchTimes;
};

/** Opening hours from `from` to the horizon, and how long loading and pulling take. */
export async function timing(db: Db, from: Date, now: Date): Promise<Timing> {
  const calendar = await workingHours(db, now);
  const bench = await benchTimes(db, calendar.timeZone, now);
  const untilMs = from.getTime() + 2 * HORIZON_DAYS * DAY_MS;
  return { calendar, bench, openings: openingsBetween(calendar, from.getTime(), untilMs) };
}

/** When a tank is taken by planned and running loads. */
export async function busySpans(
  db: Db,
  tankId: string,
  now: Date,
  exceptRunId?: string,
): Promise<readonly Span[]> {
  const runs = await listLiveRuns(db, tankId);
  return runs
    .filter((run) => run.id !== exceptRunId)
    .map((run) => ({
      fromMs: run.startsAt.getTime(),
      untilMs:
        run.state === "RUNNING"
          ? Math.max(run.endsAt.getTime(), now.getTime() + OVERDUE_MS)
          : run.endsAt.getTime(),
    }));
}

/**
 * The slot that a chosen start makes in a tank.
 *
 * What is refused here is what a person can see at once; that two callers do not both get the tank is the exclusion
 * constraint's to decide, when the booking is written.
 *
 * @throws Refusal invalid (past, or nobody there) | tank-busy
 */
export async function chosenSlot(
  db: Db,
  choice: {
    readonly tankId: string;
    readonly startsAt: Date;
    readonly hours: number;
    readonly exceptRunId?: string;
  },
  now: Date,
): Promise<Slot> {
  const startsAtMs = choice.startsAt.getTime();
  if (startsAtMs < now.getTime() - 5 * MINUTE_MS) {
    throw new Refusal("invalid", "That time is past.", { startsAt: "Choose a later time." });
  }
  const { openings, bench } = await timing(db, new Date(startsAtMs - DAY_MS), now);
  const slot = slotAt(startsAtMs, { ...bench, hours: choice.hours, openings });
  if (!slot) {
    throw new Refusal("invalid", "Nobody is there to load at that time.", {
      startsAt: `Loading takes ${bench.loadMinutes} min, all of it within the opening hours.`,
    });
  }
  const clash = clashWith(slot, await busySpans(db, choice.tankId, now, choice.exceptRunId));
  if (clash) {
    throw new Refusal(
      "tank-busy",
      "That tank is already booked in this time. Choose another time or another tank.",
    );
  }
  return slot;
}
