/** Bakes that let hydrogen out of strong steel: opened by pulling, closed by being done. */
import type { Db } from "./client";
import type { Prisma, ReliefBake } from "./generated/client";

const PART = {
  part: {
    select: {
      id: true,
      mark: true,
      description: true,
      job: { select: { id: true, number: true } },
    },
  },
} as const satisfies Prisma.ReliefBakeInclude;

export type ReliefBakeRow = Prisma.ReliefBakeGetPayload<{ include: typeof PART }>;

/** Bakes that have a time to start by and are not over, the most pressing first; of some parts where given. */
export async function listDueBakes(
  db: Db,
  partIds?: readonly string[],
): Promise<readonly ReliefBakeRow[]> {
  return db.reliefBake.findMany({
    where: {
      mustStartBy: { not: null },
      endedAt: null,
      ...(partIds && { partId: { in: [...partIds] } }),
    },
    orderBy: { mustStartBy: "asc" },
    include: PART,
  });
}

export async function findBake(db: Db, bakeId: string): Promise<ReliefBakeRow | null> {
  return db.reliefBake.findUnique({ where: { id: bakeId }, include: PART });
}

/** Says by when a part's bake must start: on the row that its plan opened, or on a new one. */
export async function openBake(
  db: Db,
  bake: Pick<ReliefBake, "partId" | "temperatureC" | "hours"> & { readonly mustStartBy: Date },
): Promise<void> {
  const { count } = await db.reliefBake.updateMany({
    where: { partId: bake.partId, startedAt: null },
    data: { mustStartBy: bake.mustStartBy },
  });
  if (count === 0) await db.reliefBake.create({ data: bake });
}

/** Takes the time limit back when the pulling is undone. */
export async function closeUnstartedBakes(db: Db, partIds: readonly string[]): Promise<void> {
  await db.reliefBake.updateMany({
    where: { partId: { in: [...partIds] }, startedAt: null },
    data: { mustStartBy: null },
  });
}

/** Conditional UPDATEs, count checked: a repeat finds it started or ended already. @returns whether this call did it */
export async function startBake(db: Db, bakeId: string, startedAt: Date): Promise<boolean> {
  const { count } = await db.reliefBake.updateMany({
    where: { id: bakeId, startedAt: null },
    data: { startedAt },
  });
  return count === 1;
}

export async function endBake(db: Db, bakeId: string, endedAt: Date): Promise<boolean> {
  const { count } = await db.reliefBake.updateMany({
    where: { id: bakeId, startedAt: { not: null }, endedAt: null },
    data: { endedAt },
  });
  return count === 1;
}
