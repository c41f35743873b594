import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  listRunsBetween,
  listTanks,
  reading,
  readingsOfRuns,
  type RunRow,
  tankHistories,
} from "@/lib/data";
import { dayAt, openingsBetween, type Span, startOfDay } from "@/lib/scheduling";
import { addDays } from "../calendar";
import { workingHours } from "../working-hours";
import { type Seen, type TankView, tankView } from "./tank-view";

/** Days that the board's strip of bookings shows, today first. */
export const STRIP_DAYS = 7;

export type Board = {
  readonly tanks: readonly TankView[];
  readonly strip: Strip;
};

/** The days ahead, as the bookings are drawn on them. */
export type Strip = Span & {
  readonly days: readonly {
    readonly day: Date;
    readonly fromMs: number;
    readonly untilMs: number;
  }[];
  readonly openings: readonly Span[];
};

/** Every tank in use with its bath, load and bookings. @throws Refusal not-allowed */
export async function seeBoard(actor: Actor, now: Date): Promise<Board> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const strip = await stripFrom(db, now);
    return { tanks: await tankViews(db, strip, now), strip };
  });
}

/** The tanks in use, as the board and the first screen show them. */
export async function tankViews(db: Db, span: Span, now: Date): Promise<readonly TankView[]> {
  const [tanks, runs] = await Promise.all([
    listTanks(db),
    listRunsBetween(db, new Date(span.fromMs), new Date(span.untilMs)),
  ]);
  const seen = await seenOf(db, runs, now);
  return tanks.map((tank) => tankView(tank, runsIn(runs, tank.id), seen, now));
}

/** Readings and histories of the loads that run now. */
export async function seenOf(db: Db, runs: readonly RunRow[], now: Date): Promise<Seen> {
  const running = runs.filter(({ state }) => state === "RUNNING");
  const [readings, histories] = await Promise.all([
    readingsOfRuns(
      db,
      running.map(({ id }) => id),
    ),
    tankHistories(
      db,
      running.map(({ tankId }) => tankId),
      now,
    ),
  ]);
  return { readings, histories };
}

/** Today and the days after it, in the shop's zone. */
export async function stripFrom(db: Db, now: Date): Promise<Strip> {
  const calendar = await workingHours(db, now);
  const today = new Date(`${dayAt(now.getTime(), calendar.timeZone)}T00:00:00Z`);
  const begins = (index: number): number =>
    startOfDay(addDays(today, index).toISOString().slice(0, 10), calendar.timeZone);
  const days = Array.from({ length: STRIP_DAYS }, (_, index) => ({
    day: addDays(today, index),
    fromMs: begins(index),
    untilMs: begins(index + 1),
  }));
  const [fromMs, untilMs] = [begins(0), begins(STRIP_DAYS)];
  return { days, fromMs, untilMs, openings: openingsBetween(calendar, fromMs, untilMs) };
}

const runsIn = (runs: readonly RunRow[], tankId: string): readonly RunRow[] =>
  runs.filter((run) => run.tankId === tankId);
