/**
 * What must hold of every board, asked in SQL that shares nothing with the triggers: pairs of rows that overlap, and
 * sums that run over events in time.
 */
import { database } from "@/lib/data/client";

type Count = { readonly n: bigint };

const LIVE = `"state" IN ('PLANNED', 'RUNNING')`;

const RULES: Readonly<Record<string, string>> = {
  "two loads in one tank": `
    SELECT count(*) AS n FROM "run" a JOIN "run" b ON a."tank_id" = b."tank_id" AND a."id" < b."id"
     WHERE a.${LIVE} AND b.${LIVE} AND a."starts_at" < b."ends_at" AND b."starts_at" < a."ends_at"`,
  "a load during other work": `
    SELECT count(*) AS n FROM "run" r JOIN "tank_hold" h ON h."tank_id" = r."tank_id"
     WHERE r.${LIVE} AND h."state" = 'PLANNED' AND r."starts_at" < h."ends_at" AND h."starts_at" < r."ends_at"`,
  "two pieces of other work at once": `
    SELECT count(*) AS n FROM "tank_hold" a JOIN "tank_hold" b ON a."tank_id" = b."tank_id" AND a."id" < b."id"
     WHERE a."state" = 'PLANNED' AND b."state" = 'PLANNED'
       AND a."starts_at" < b."ends_at" AND b."starts_at" < a."ends_at"`,
  // What ends at an instant goes before what begins then.
  "a supply over its rating": `
    WITH steps AS (
      SELECT "supply_id", "starts_at" AS at, "expected_current_a" AS change FROM "run" WHERE ${LIVE}
      UNION ALL
      SELECT "supply_id", "ends_at", -"expected_current_a" FROM "run" WHERE ${LIVE}
    ), drawn AS (
      SELECT "supply_id", SUM(change) OVER (PARTITION BY "supply_id" ORDER BY at, change
        ROWS UNBOUNDED PRECEDING) AS amperes FROM steps
    )
    SELECT count(*) AS n FROM drawn JOIN "supply" s ON s."id" = drawn."supply_id"
     WHERE s."kind" <> 'BATTERY' AND amperes > s."rated_current_a" * s."duty_factor" + 0.001`,
  "a booked part that is in no live run": `
    SELECT count(*) AS n FROM "part" p WHERE p."state" = 'BOOKED' AND NOT EXISTS (
      SELECT 1 FROM "dip" d JOIN "run" r ON r."id" = d."run_id" WHERE d."part_id" = p."id" AND r."state" = 'PLANNED')`,
  "a part in two live runs": `
    SELECT count(*) AS n FROM (SELECT d."part_id" FROM "dip" d JOIN "run" r ON r."id" = d."run_id"
      WHERE r.${LIVE} GROUP BY d."part_id" HAVING count(*) > 1) AS twice`,
  "a run on another supply than its tank": `
    SELECT count(*) AS n FROM "run" r JOIN "tank" t ON t."id" = r."tank_id"
     WHERE r."state" = 'PLANNED' AND r."supply_id" IS DISTINCT FROM t."supply_id"`,
};

/** The rules that are broken now, by name; empty when all hold. */
export async function brokenRules(): Promise<readonly string[]> {
  const broken: string[] = [];
  for (const [name, sql] of Object.entries(RULES)) {
    const [row] = await database().$queryRawUnsafe<Count[]>(sql);
    if (!row || row.n > 0n) broken.push(`${name}: ${row?.n ?? "?"}`);
  }
  return broken;
}
