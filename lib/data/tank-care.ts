/** What was done to keep tanks in order. */
import type { Db } from "./client";
import type { CareKind, Prisma, TankCare } from "./generated/client";

export type { CareKind };

const BY = { doneBy: { select: { name: true } } } as const satisfies Prisma.TankCareInclude;

export type CareRow = Prisma.TankCareGetPayload<{ include: typeof BY }>;

export type NewCare = Omit<TankCare, "id">;

/** @returns false where an entry with this key is there already: a repeat */
export async function insertCare(db: Db, care: NewCare): Promise<boolean> {
  const { count } = await db.tankCare.createMany({ data: [care], skipDuplicates: true });
  return count === 1;
}

/** The newest entry of each kind for one tank. */
export async function lastCares(db: Db, tankId: string): Promise<readonly CareRow[]> {
  return db.tankCare.findMany({
    where: { tankId },
    distinct: ["kind"],
    orderBy: [{ kind: "asc" }, { at: "desc" }],
    include: BY,
  });
}
