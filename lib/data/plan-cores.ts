/** What a load takes of its parts' plans, without the rest of what the planner said: hundreds are read at once. */
import type { TreatmentPlan } from "@/lib/treatment";
import type { Db } from "./client";
import type { Plan } from "./generated/client";

type Figures = TreatmentPlan["figures"];

/** The few figures that a load is made up from. */
export type PlanCore = Pick<
  Plan,
  "id" | "tankId" | "areaM2" | "currentA" | "hoursP50" | "hoursP90" | "chargeAh" | "dipCount"
> & {
  readonly fieldTimes: number | null;
  readonly saltGrade: string;
  readonly result: Pick<TreatmentPlan, "currentA"> & {
    readonly innerAnode?: unknown;
    readonly figures: {
      readonly conductivitySPerM: Pick<Figures["conductivitySPerM"], "value">;
      readonly massG: Pick<Figures["massG"], "value">;
    };
  };
};

/** A part that came in, by the newest plan made for it. */
export type RecentPart = PlanCore & { readonly quantity: number };

/** Parts whose first plan was made since an instant: what customers bring. */
export async function recentParts(db: Db, since: Date): Promise<readonly RecentPart[]> {
  const plans = await db.$queryRaw<{ id: string; quantity: number }[]>`
    SELECT DISTINCT ON (p."part_id") p."id", part."quantity"
      FROM "plan" p JOIN "part" ON part."id" = p."part_id"
     WHERE part."created_at" >= ${since} ORDER BY p."part_id", p."version" DESC`;
  const cores = await planCores(
    db,
    plans.map(({ id }) => id),
  );
  return plans.flatMap(({ id, quantity }) => {
    const core = cores.get(id);
    return core ? [{ ...core, quantity }] : [];
  });
}

/** Plans by id. */
export async function planCores(
  db: Db,
  planIds: readonly string[],
): Promise<ReadonlyMap<string, PlanCore>> {
  if (planIds.length === 0) return new Map();
  const rows = await db.$queryRaw<PlanCore[]>`
    SELECT "id", "tank_id" AS "tankId", "area_m2" AS "areaM2", "current_a" AS "currentA",
           "hours_p50" AS "hoursP50", "hours_p90" AS "hoursP90", "charge_ah" AS "chargeAh",
           "dip_count" AS "dipCount", "field_times" AS "fieldTimes", "salt_grade" AS "saltGrade",
           jsonb_build_object(
             'currentA', "result" -> 'currentA',
             'innerAnode', "result" -> 'innerAnode',
             'figures', jsonb_build_object(
               'conductivitySPerM', jsonb_build_object('value', "result" #> '{figures,conductivitySPerM,value}'),
               'massG', jsonb_build_object('value', "result" #> '{figures,massG,value}'))) AS "result"
      FROM "plan" WHERE "id" = ANY(${[...planIds]}::uuid[])`;
  return new Map(rows.map((row) => [row.id, row]));
}
