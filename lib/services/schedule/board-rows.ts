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

export async function readShopBoard(db: Db, now: Date): Promise<ShopBoard> {
  // One after the other: inside a transaction there is one connection.
  const calendar = await workingHours(db, now);
  const bench = await benchTimes(db, calendar.timeZone, now);
  const horizonMs = now.getTime() + PLANNED_DAYS * DAY_MS;
  const span = { from: new Date(now.getTime() - DAY_MS), until: new Date(horizonMs) };
  const tanks = await listTanks(db);
  const runs = await listBoardRuns(db, span, ["PLANNED", "RUNNING", "PULLED"]);
  const planned = runs.filter(({ state }) => state === "PLANNED");
  const plans = await planCores(
    db,
    planned.flatMap(({ dips }) => dips.map(({ plan }) => plan.id)),
  );
  return {
    now,
    calendar,
    bench,
    openings: openingsBetween(calendar, span.from.getTime(), horizonMs),
    horizonMs,
    tanks,
    runs,
    holds: (await listHolds(db, span)).filter(({ state }) => state === "PLANNED"),
    waiting: (await listPartsAwaitingTank(db)).filter(mayBeBooked),
    plans,
    tight: await tightTanks(db, runs),
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
