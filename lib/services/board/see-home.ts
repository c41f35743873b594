import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type BookablePart,
  type DueJob,
  type LapsedQuote,
  listDueBakes,
  listDueJobs,
  listLapsedQuotes,
  listPartsAwaitingTank,
  reading,
  type ReliefBakeRow,
  type RunRow,
} from "@/lib/data";
import { addDays, calendarDay } from "../calendar";
import { runningLow, type StockItem } from "../stock";
import { workingHours } from "../working-hours";
import { stripFrom, tankViews } from "./see-board";
import type { TankView } from "./tank-view";

/** Jobs promised within so many days are due. */
const DUE_DAYS = 7;
const MOST_LINES = 12;

type Running = NonNullable<TankView["running"]> & { readonly view: TankView };

/** What the shop has before it today. */
export type Home = {
  readonly tanks: readonly TankView[];
  /** loads in the tanks, the first to pull first */
  readonly running: readonly Running[];
  /** booked to go in today or earlier, not loaded yet */
  readonly toLoad: readonly RunRow[];
  readonly toFinish: readonly RunRow[];
  readonly bakes: readonly ReliefBakeRow[];
  /** ready and empty */
  readonly free: readonly TankView[];
  readonly waiting: readonly BookablePart[];
  readonly jobs: readonly DueJob[];
  readonly low: readonly StockItem[];
  /** empty for those who do not quote */
  readonly lapsed: readonly LapsedQuote[];
  readonly today: Date;
};

/** What is due, what to pull, what is free and what needs attention. @throws Refusal not-allowed */
export async function seeHome(actor: Actor, now: Date): Promise<Home> {
  requirePermission(actor, "see-shop");
  const low = await runningLow(actor, now);
  return reading(async (db) => {
    const strip = await stripFrom(db, now);
    const { timeZone } = await workingHours(db, now);
    const today = calendarDay(now, timeZone);
    const [tanks, waiting, bakes, jobs, lapsed] = await Promise.all([
      tankViews(db, strip, now),
      listPartsAwaitingTank(db),
      listDueBakes(db),
      listDueJobs(db, addDays(today, DUE_DAYS), MOST_LINES),
      may(actor, "quote") ? listLapsedQuotes(db, MOST_LINES) : [],
    ]);
    const endOfToday = strip.days[0]?.untilMs ?? now.getTime();
    const planned = tanks.flatMap((view) =>
      view.bookings.filter(({ state }) => state === "PLANNED"),
    );
    return {
      tanks,
      running: tanks
        .flatMap((view) => (view.running ? [{ ...view.running, view }] : []))
        .sort((a, b) => pullMs(a) - pullMs(b)),
      toLoad: planned
        .filter(({ startsAt }) => startsAt.getTime() < endOfToday)
        .sort((a, b) => a.startsAt.getTime() - b.startsAt.getTime()),
      toFinish: tanks.flatMap(({ pulled }) => pulled),
      bakes,
      free: tanks.filter(({ running, lacks }) => !running && lacks.length === 0),
      waiting: waiting.slice(0, MOST_LINES),
      jobs,
      low: low.slice(0, MOST_LINES),
      lapsed,
      today,
    };
  });
}

const pullMs = ({ run, progress }: Running): number => (progress.pullAt ?? run.endsAt).getTime();
