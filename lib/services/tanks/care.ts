import { type Actor, requirePermission } from "@/lib/access";
import {
  bookedChargeByWeek,
  type CareKind,
  type CareRow,
  chargeByWeek,
  chargeSince,
  type Db,
  insertCare,
  inTransaction,
  lastCares,
  recordAudit,
  type TankRow,
} from "@/lib/data";
import { CARES, careDue, type CareDue } from "@/lib/electrolysis";
import { addDays, calendarDay, startOfDay } from "../calendar";
import { firstWeekOf, weeksAhead, weeksBehind } from "../weeks";
import { requireTank } from "./set-up";

/** One way in which a tank is kept in order: when last, and when next. */
export type TankUpkeep = {
  readonly kind: CareKind;
  readonly last: CareRow | null;
  readonly due: CareDue;
  /** days it is due on; null where no date can be told */
  readonly on: { readonly p10: Date; readonly p50: Date; readonly p90: Date } | null;
};

export type CareDone = {
  readonly tankId: string;
  readonly kind: CareKind;
  readonly note: string;
  readonly idempotencyKey: string;
};

/**
 * Writes that a tank was looked after; its clock starts anew. A repeat changes nothing.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function recordCare(actor: Actor, done: CareDone, now: Date): Promise<void> {
  requirePermission(actor, "work-runs");
  await inTransaction(async (db) => {
    const tank = await requireTank(db, done.tankId);
    if (!(await insertCare(db, { ...done, at: now, doneById: actor.personId }))) return;
    await recordAudit(db, {
      actor,
      at: now,
      action: "tank.cared-for",
      subjectType: "tank",
      subjectId: tank.id,
      detail: { kind: done.kind },
    });
  });
}

/** Dates further off than this are not worth telling, weeks: about two years. */
const FAR_WEEKS = 104;

/** Every care of a tank, from its charge since, the weeks behind and the bookings ahead. */
export async function tankUpkeep(
  db: Db,
  tank: TankRow,
  timeZone: string,
  now: Date,
): Promise<readonly TankUpkeep[]> {
  const today = calendarDay(now, timeZone);
  const last = await lastCares(db, tank.id);
  const [weeks, booked] = await Promise.all([
    chargeByWeek(db, timeZone, startOfDay(firstWeekOf(today), timeZone)),
    bookedChargeByWeek(db, timeZone),
  ]);
  const own = <Row extends { readonly tankId: string }>(rows: readonly Row[]): readonly Row[] =>
    rows.filter(({ tankId }) => tankId === tank.id);
  const use = {
    past: weeksBehind(own(weeks), today, tank.createdAt, ({ chargeAh }) => chargeAh).map(
      ({ value }) => value,
    ),
    booked: weeksAhead(own(booked), today, ({ chargeAh }) => chargeAh),
  };
  const upkeep: TankUpkeep[] = [];
  for (const kind of CARES) {
    const newest = last.find((row) => row.kind === kind) ?? null;
    const due = careDue(kind, await chargeSince(db, tank.id, newest?.at ?? tank.createdAt), use);
    upkeep.push({ kind, last: newest, due, on: datesOf(due, today) });
  }
  return upkeep;
}

function datesOf({ weeks }: CareDue, today: Date): TankUpkeep["on"] {
  if (!weeks || weeks.value > FAR_WEEKS) return null;
  const after = (value: number): Date => addDays(today, Math.round(7 * Math.min(value, FAR_WEEKS)));
  return {
    p10: after(weeks.low ?? weeks.value),
    p50: after(weeks.value),
    p90: after(weeks.high ?? weeks.value),
  };
}
