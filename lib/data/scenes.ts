/** What the geometry of planned parts rests on, as far as the database has it. */
import type { PartDescription } from "@/lib/treatment";
import type { Db } from "./client";
import { Prisma } from "./generated/client";

/** What of a part its field rests on. */
export type ScenePart = Omit<
  PartDescription,
  "massG" | "areaOverrideM2" | "hazards" | "hardnessHrc" | "tensileMpa"
>;

export type SceneRow = {
  readonly part: ScenePart & { readonly id: string };
  /** Of the part's own shape; null where it has none. */
  readonly meshHash: string | null;
  readonly planId: string;
  readonly tankId: string;
  /** How the plan lays it: JSON of lib/tanks. */
  readonly lie: unknown;
  readonly field: { readonly id: string; readonly sceneKey: string } | null;
};

const SCENE_PART = {
  id: true,
  quantity: true,
  shape: true,
  lengthMm: true,
  widthMm: true,
  heightMm: true,
  wallMm: true,
  material: true,
  rustGrade: true,
  coatings: true,
  goal: true,
} as const satisfies Prisma.PartSelect;

/** Newest plan of every part that is still to go in, with what its field was last asked for. */
export async function listScenes(db: Db): Promise<readonly SceneRow[]> {
  const rows = await db.part.findMany({
    where: { state: { in: ["PLANNED", "BOOKED"] }, job: { state: "OPEN" }, plans: { some: {} } },
    select: {
      ...SCENE_PART,
      mesh: { select: { hash: true } },
      plans: {
        orderBy: { version: "desc" },
        take: 1,
        select: { id: true, tankId: true, field: { select: { id: true, sceneKey: true } } },
      },
    },
  });
  const lies = await liesOf(
    db,
    rows.flatMap(({ plans }) => plans.map(({ id }) => id)),
  );
  return rows.flatMap(({ mesh, plans, ...part }) =>
    plans.map(({ id, tankId, field }) => ({
      // Codes were checked by lib/treatment and are stored as text.
      part: part as unknown as SceneRow["part"],
      meshHash: mesh?.hash ?? null,
      planId: id,
      tankId,
      lie: lies.get(id) ?? null,
      field,
    })),
  );
}

/** A plan's result is long: of each only how the part lies is read. */
async function liesOf(db: Db, planIds: readonly string[]): Promise<ReadonlyMap<string, unknown>> {
  if (planIds.length === 0) return new Map();
  const rows = await db.$queryRaw<{ id: string; lie: unknown }[]>`
    SELECT "id", "result" -> 'lie' AS "lie" FROM "plan"
     WHERE "id" IN (${Prisma.join(planIds.map((id) => Prisma.sql`${id}::uuid`))})`;
  return new Map(rows.map(({ id, lie }) => [id, lie]));
}
