/** Rows that the shop learns from: dips that came out, loads with their readings, anodes with their weighings. */
import type { HoursRange, PartDescription } from "@/lib/treatment";
import { ANODE_WITH_HISTORY, type AnodeRow } from "./anodes";
import type { Db } from "./client";
import type { Bath, DipResult, DipTiming, Prisma } from "./generated/client";

/** One dip of a finished run: how long it was in, what its plan said, and how it came out. */
export type PastDipRow = Pick<PartDescription, "shape" | "rustGrade" | "coatings" | "goal"> & {
  readonly partId: string;
  readonly end: number;
  readonly result: DipResult;
  readonly timing: DipTiming | null;
  readonly loadedAt: Date;
  readonly pulledAt: Date;
  readonly dipCount: number;
  /** hours as the plan told them, of all its dips */
  readonly hours: HoursRange;
  /** times longer that the model gives this load than one piece alone, 1 and up: pieces share the bath */
  readonly sharing: number;
  /** hours by the model before learning; `hours` where the plan was made before there was any */
  readonly modelHours: HoursRange;
};

/** The newest dips that came out, oldest first. Of each plan only its hours are read out of the stored result. */
export async function listPastDips(db: Db, newest: number): Promise<readonly PastDipRow[]> {
  const rows = await db.$queryRaw<PastDipRow[]>`
    SELECT d."part_id"::text AS "partId", d."end", d."result"::text AS "result", d."timing"::text AS "timing",
           r."loaded_at" AS "loadedAt", r."pulled_at" AS "pulledAt",
           q."shape", q."rust_grade" AS "rustGrade", q."coatings", q."goal"::text AS "goal",
           p."dip_count" AS "dipCount", p."result"->'hours' AS "hours",
           greatest(1, (SELECT sum(other."quantity" * plan."current_a")
                          FROM "dip" beside
                          JOIN "part" other ON other."id" = beside."part_id"
                          JOIN "plan" plan ON plan."id" = beside."plan_id"
                         WHERE beside."run_id" = r."id") / r."expected_current_a") AS "sharing",
           coalesce(p."result"->'modelHours', p."result"->'hours') AS "modelHours"
      FROM "dip" d
      JOIN "run" r ON r."id" = d."run_id"
      JOIN "plan" p ON p."id" = d."plan_id"
      JOIN "part" q ON q."id" = d."part_id"
     WHERE r."state" = 'FINISHED' AND d."result" IS NOT NULL
       AND r."loaded_at" IS NOT NULL AND r."pulled_at" IS NOT NULL
     ORDER BY r."loaded_at" DESC, d."id"
     LIMIT ${newest}`;
  return rows.reverse();
}

const METERED = {
  bath: true,
  readings: { select: { voltsV: true, currentA: true, temperatureC: true } },
  dips: {
    select: {
      part: { select: { quantity: true } },
      plan: { select: { areaM2: true, dipCount: true, fieldTimes: true } },
    },
  },
} as const satisfies Prisma.RunInclude;

/** A load with what its meter showed, the bath it was in, and the area that was under. */
export type MeteredLoad = {
  readonly tankId: string;
  readonly bath: Bath;
  readonly areaM2: number;
  readonly dips: readonly {
    readonly plan: {
      readonly areaM2: number;
      readonly dipCount: number;
      /** as the plan has it; null where it rests on the closed form */
      readonly fieldTimes: number | null;
    };
  }[];
  readonly readings: readonly {
    readonly voltsV: number;
    readonly currentA: number;
    readonly temperatureC: number | null;
  }[];
};

/** The newest loads of each tank that were read, newest first. */
export async function listMeteredLoads(
  db: Db,
  tankIds: readonly string[],
  newestOfTank: number,
): Promise<readonly MeteredLoad[]> {
  const loads: MeteredLoad[] = [];
  // One tank after the other: a transaction is one connection.
  for (const tankId of tankIds) {
    const runs = await db.run.findMany({
      where: { tankId, loadedAt: { not: null }, bathId: { not: null }, readings: { some: {} } },
      orderBy: { loadedAt: "desc" },
      take: newestOfTank,
      include: METERED,
    });
    for (const { bath, readings, dips } of runs) {
      const areaM2 = dips.reduce(
        (sum, { part, plan }) => sum + (part.quantity * plan.areaM2) / plan.dipCount,
        0,
      );
      if (bath && areaM2 > 0) loads.push({ tankId, bath, areaM2, dips, readings });
    }
  }
  return loads;
}

/** Anodes that hang in tanks in use, with their history. */
export async function listAnodesWithHistory(db: Db): Promise<readonly AnodeRow[]> {
  return db.anode.findMany({
    where: { removedAt: null, tank: { retiredAt: null } },
    orderBy: [{ tank: { sortOrder: "asc" } }, { tank: { name: "asc" } }, { name: "asc" }],
    include: ANODE_WITH_HISTORY,
  });
}
