import {
  type BoardRunRow,
  chargesLeft,
  type Db,
  type HoldRow,
  listBoardRuns,
  listHolds,
  listPartsAwaitingTank,
  listTanks,
  type BookablePart,
  type PlanCore,
  planCores,
  type TankRow,
} from "@/lib/data";
import { openingsBetween, type ShopCalendar, type Span } from "@/lib/scheduling";
import { mayGoIn, VERDICT_OUTCOMES } from "@/lib/treatment";
import { type BenchTimes, benchTimes, workingHours } from "../working-hours";

const DAY_MS = 86_400_000;
/** How far ahead the board is planned. */
export const PLANNED_DAYS = 56;

/** The shop as it stands, as far as its board goes: read once for a promise, an improvement or a look ahead. */
export type ShopBoard = {
  readonly now: Date;
  readonly calendar: ShopCalendar;
  readonly bench: BenchTimes;
  readonly openings: readonly Span[];
  readonly horizonMs: number;
  readonly tanks: readonly TankRow[];
  /** planned, running and pulled */
  readonly runs: readonly BoardRunRow[];
  readonly holds: readonly HoldRow[];
  /** parts that wait for a tank and may go in */
  readonly waiting: readonly BookablePart[];
  /** plans of booked dips, by id */
  readonly plans: ReadonlyMap<string, PlanCore>;
  /** tanks whose bath or anode does not bear all that is booked in them: their loads stay in their order */
  readonly tight: ReadonlySet<string>;
};

/** Reads all of it, several things at a time: not for a transaction, which has one connection. */
export async function readShopBoard(db: Db, now: Date): Promise<ShopBoard> {
  const horizonMs = now.getTime() + PLANNED_DAYS * DAY_MS;
  const span = { from: new Date(now.getTime() - DAY_MS), until: new Date(horizonMs) };
  const [calendar, tanks, runs, holds, waiting] = await Promise.all([
    workingHours(db, now),
    listTanks(db),
    listBoardRuns(db, span, ["PLANNED", "RUNNING", "PULLED"]),
    listHolds(db, span),
    listPartsAwaitingTank(db),
  ]);
  const planned = runs.filter(({ state }) => state === "PLANNED");
  const planIds = planned.flatMap(({ dips }) => dips.map(({ plan }) => plan.id));
  const [bench, plans, tight] = await Promise.all([
    benchTimes(db, calendar.timeZone, now),
    planCores(db, planIds),
    tightTanks(db, runs),
  ]);
  return {
    now,
    calendar,
    bench,
    openings: openingsBetween(calendar, span.from.getTime(), horizonMs),
    horizonMs,
    tanks,
    runs,
    holds: holds.filter(({ state }) => state === "PLANNED"),
    waiting: waiting.filter(mayBeBooked),
    plans,
    tight,
  };
}

function mayBeBooked({ plan, verdict }: BookablePart): boolean {
  const outcome = VERDICT_OUTCOMES.find((known) => known === verdict?.outcome);
  return Boolean(plan && verdict && outcome && (mayGoIn(outcome) || verdict.overruled));
}

/** Where all that is booked is more than the bath or the anode bears as it is. */
async function tightTanks(db: Db, runs: readonly BoardRunRow[]): Promise<ReadonlySet<string>> {
  const booked = new Map<string, number>();
  for (const { tankId, state, targetChargeAh } of runs) {
    if (state === "PULLED") continue;
    booked.set(tankId, (booked.get(tankId) ?? 0) + targetChargeAh);
  }
  const charges = await chargesLeft(db);
  const isTight = (left: number | null, tankId: string): boolean =>
    left !== null && (booked.get(tankId) ?? 0) >= left;
  return new Set(
    charges
      .filter(({ tankId, anodeAh, bathAh }) => isTight(anodeAh, tankId) || isTight(bathAh, tankId))
      .map(({ tankId }) => tankId),
  );
}
