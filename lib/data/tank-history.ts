/** What tanks went through before a run: what its diagnosis goes by beside the readings. */
import type { Db } from "./client";

export type TankHistory = {
  /** middle measured current of each of the last runs over its planned current */
  readonly currentRatios: readonly number[];
  /** hours under current since somebody looked at the clamps; null where nobody wrote it down */
  readonly clampHours: number | null;
  /** hours under current since the anode was brushed, or the newest was hung */
  readonly brushedHours: number | null;
};

/** Nothing known yet. */
export const NO_HISTORY: TankHistory = { currentRatios: [], clampHours: null, brushedHours: null };

/** Runs that the usual current of a tank is taken from. */
const LAST_RUNS = 8;

/** Histories of several tanks at once; a tank of which nothing is known is left out. */
export async function tankHistories(
  db: Db,
  tankIds: readonly string[],
  now: Date,
): Promise<ReadonlyMap<string, TankHistory>> {
  if (tankIds.length === 0) return new Map();
  const [ratios, hours] = await Promise.all([
    currentRatios(db, tankIds),
    hoursSinceCare(db, tankIds, now),
  ]);
  const histories = new Map<string, TankHistory>();
  for (const tankId of tankIds) {
    const since = (what: Care): number | null =>
      hours.find((row) => row.tankId === tankId && row.what === what)?.hours ?? null;
    histories.set(tankId, {
      currentRatios: ratios.filter((row) => row.tankId === tankId).map(({ ratio }) => ratio),
      clampHours: since("CLAMPS"),
      brushedHours: since("ANODE_BRUSHED"),
    });
  }
  return histories;
}

type RatioRow = { readonly tankId: string; readonly ratio: number };

async function currentRatios(db: Db, tankIds: readonly string[]): Promise<RatioRow[]> {
  return db.$queryRaw<RatioRow[]>`
    SELECT "tankId", "ratio" FROM (
      SELECT r."tank_id"::text AS "tankId",
             percentile_cont(0.5) WITHIN GROUP (ORDER BY g."current_a") / r."expected_current_a" AS "ratio",
             row_number() OVER (PARTITION BY r."tank_id" ORDER BY r."loaded_at" DESC) AS "place"
        FROM "run" r JOIN "reading" g ON g."run_id" = r."id"
       WHERE r."tank_id" = ANY(${[...tankIds]}::uuid[]) AND r."state" IN ('PULLED', 'FINISHED')
         AND g."current_a" > 0 AND r."expected_current_a" > 0
       GROUP BY r."id"
    ) AS "newest" WHERE "place" <= ${LAST_RUNS}
     ORDER BY "tankId", "place"`;
}

type Care = "CLAMPS" | "ANODE_BRUSHED";
type CareHours = { readonly tankId: string; readonly what: Care; readonly hours: number };

/** A newly hung anode is as bright as a brushed one. */
async function hoursSinceCare(db: Db, tankIds: readonly string[], now: Date): Promise<CareHours[]> {
  return db.$queryRaw<CareHours[]>`
    WITH "done" AS (
      SELECT "tank_id", "kind"::text AS "what", "at" FROM "tank_care"
       WHERE "tank_id" = ANY(${[...tankIds]}::uuid[]) AND "kind" IN ('CLAMPS', 'ANODE_BRUSHED')
      UNION ALL
      SELECT "tank_id", 'ANODE_BRUSHED', "installed_at" FROM "anode"
       WHERE "tank_id" = ANY(${[...tankIds]}::uuid[]) AND "removed_at" IS NULL
    ), "last" AS (SELECT "tank_id", "what", max("at") AS "at" FROM "done" GROUP BY 1, 2)
    SELECT l."tank_id"::text AS "tankId", l."what",
           coalesce(sum(greatest(0, extract(epoch FROM
             coalesce(r."pulled_at", ${now}) - greatest(r."loaded_at", l."at")))), 0)::float8 / 3600 AS "hours"
      FROM "last" l LEFT JOIN "run" r ON r."tank_id" = l."tank_id" AND r."loaded_at" IS NOT NULL
     GROUP BY 1, 2`;
}
