import { type Actor, requirePermission } from "@/lib/access";
import { reading, type TankName, tankNames, type TankSpan, tankSpans } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { tankCapacity, type TankWeek } from "@/lib/scheduling";
import { addDays, calendarDay, mondayOf, startOfDay } from "../calendar";
import { requireShop } from "../open-shop";

/** Weeks shown behind and ahead of this one. */
const WEEKS_BEHIND = 7;
const WEEKS_AHEAD = 4;

/** Tank hours used and free, by tank and week. */
export type CapacityFigures = {
  readonly tanks: readonly TankName[];
  /** Mondays of the weeks shown, oldest first, YYYY-MM-DD */
  readonly weeks: readonly string[];
  /** this week's Monday */
  readonly thisWeek: string;
  /** for each tank, each week in order */
  readonly cells: readonly TankWeek[];
};

/**
 * Hours by tank and week, round the clock: treatment runs on overnight. Weeks ahead count what is booked.
 *
 * @throws Refusal not-allowed
 */
export async function capacityFigures(actor: Actor, now: Date): Promise<CapacityFigures> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { timeZone } = await requireShop(db);
    const monday = mondayOf(calendarDay(now, timeZone));
    const from = startOfDay(addDays(monday, -7 * WEEKS_BEHIND), timeZone);
    const to = startOfDay(addDays(monday, 7 * (WEEKS_AHEAD + 1)), timeZone);
    const [tanks, spans] = await Promise.all([tankNames(db), tankSpans(db, { from, to }, now)]);
    const cells = tankCapacity({
      tankIds: tanks.map(({ id }) => id),
      runs: spans.map(asRun),
      fromMs: from.getTime(),
      untilMs: to.getTime(),
      timeZone,
    });
    return {
      tanks,
      weeks: [...new Set(cells.map((cell) => cell.monday))],
      thisWeek: monday.toISOString().slice(0, 10),
      cells,
    };
  });
}

/** The loads behind one tank's week. */
export type TankWeekPage = {
  readonly tank: TankName;
  readonly week: TankWeek;
  readonly runs: readonly (TankSpan & { readonly hours: number })[];
};

/**
 * What held one tank in one week, load by load: the hours add up to the week's.
 *
 * @param monday first day of the week, YYYY-MM-DD
 * @throws Refusal not-allowed | not-found
 */
export async function tankWeekPage(
  actor: Actor,
  tankId: string,
  monday: string,
  now: Date,
): Promise<TankWeekPage> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const { timeZone } = await requireShop(db);
    const first = mondayOf(new Date(`${monday}T00:00:00Z`));
    const from = startOfDay(first, timeZone);
    const to = startOfDay(addDays(first, 7), timeZone);
    const tank = (await tankNames(db)).find(({ id }) => id === tankId);
    if (!tank) throw new Refusal("not-found", "This tank is not in use.");
    const spans = (await tankSpans(db, { from, to }, now)).filter((span) => span.tankId === tankId);
    const hoursOf = (runs: readonly TankSpan[]): TankWeek | undefined =>
      tankCapacity({
        tankIds: [tankId],
        runs: runs.map(asRun),
        fromMs: from.getTime(),
        untilMs: to.getTime(),
        timeZone,
      })[0];
    const week = hoursOf(spans);
    if (!week) throw new Refusal("not-found", "There is no such week.");
    const runs = spans
      .map((span) => ({ ...span, hours: hoursOf([span])?.usedHours ?? 0 }))
      .filter(({ hours }) => hours > 0);
    return { tank, week, runs };
  });
}

function asRun({ tankId, from, to }: TankSpan) {
  return { tankId, fromMs: from.getTime(), untilMs: to.getTime() };
}
