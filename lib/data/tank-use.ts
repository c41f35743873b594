/** Charge through tanks: what passed week by week, and what is booked. */
import type { Db } from "./client";

/** Charge of one tank in one week. */
export type WeekOfCharge = {
  readonly tankId: string;
  /** Monday of the week in the shop's zone, as midnight UTC */
  readonly week: Date;
  readonly chargeAh: number;
};

/** What passed through each tank in each week that it was used in, from `since` on. */
export async function chargeByWeek(
  db: Db,
  timeZone: string,
  since: Date,
): Promise<readonly WeekOfCharge[]> {
  return db.$queryRaw<WeekOfCharge[]>`
    SELECT "tank_id"::text AS "tankId",
           date_trunc('week', "pulled_at" AT TIME ZONE ${timeZone})::date AS "week",
           sum("charge_ah") AS "chargeAh"
      FROM "run"
     WHERE "pulled_at" >= ${since} AND "charge_ah" IS NOT NULL
     GROUP BY 1, 2
     ORDER BY 2, 1`;
}

/** What the runs booked or in the tank now are meant to pass, by the week in which they end. */
export async function bookedChargeByWeek(
  db: Db,
  timeZone: string,
): Promise<readonly WeekOfCharge[]> {
  return db.$queryRaw<WeekOfCharge[]>`
    SELECT "tank_id"::text AS "tankId",
           date_trunc('week', "ends_at" AT TIME ZONE ${timeZone})::date AS "week",
           sum("target_charge_ah") AS "chargeAh"
      FROM "run"
     WHERE "state" IN ('PLANNED', 'RUNNING')
     GROUP BY 1, 2
     ORDER BY 2, 1`;
}

/** Charge that runs pulled after a moment have passed through a tank, A·h. */
export async function chargeSince(db: Db, tankId: string, since: Date): Promise<number> {
  const { _sum } = await db.run.aggregate({
    where: { tankId, pulledAt: { gt: since } },
    _sum: { chargeAh: true },
  });
  return _sum.chargeAh ?? 0;
}
