/** Sacrificial anodes, what runs took from them, and their weighings. */
import type { Db } from "./client";
import type { Anode, Prisma } from "./generated/client";

/** What an anode's mass and wear are worked out from. */
export const ANODE_WITH_HISTORY = {
  weighings: { orderBy: { at: "desc" }, include: { weighedBy: { select: { name: true } } } },
  wear: {
    include: { run: { select: { number: true, pulledAt: true } } },
    orderBy: { run: { pulledAt: "desc" } },
  },
} as const satisfies Prisma.AnodeInclude;

/** An anode with its weighings and wear, newest first. */
export type AnodeRow = Prisma.AnodeGetPayload<{ include: typeof ANODE_WITH_HISTORY }>;

export type NewAnode = Omit<Anode, "removedAt">;

export async function findAnode(db: Db, anodeId: string): Promise<AnodeRow | null> {
  return db.anode.findUnique({ where: { id: anodeId }, include: ANODE_WITH_HISTORY });
}

/** Anodes that were taken out of a tank, last first. */
export async function listRemovedAnodes(
  db: Db,
  tankId: string,
  take: number,
): Promise<readonly AnodeRow[]> {
  return db.anode.findMany({
    where: { tankId, removedAt: { not: null } },
    orderBy: { removedAt: "desc" },
    take,
    include: ANODE_WITH_HISTORY,
  });
}

/** @returns its id */
export async function insertAnode(db: Db, anode: NewAnode): Promise<string> {
  const row = await db.anode.create({ data: anode, select: { id: true } });
  return row.id;
}

/** Takes an anode out if it is still in: a conditional UPDATE whose count is checked. @returns whether it was in */
export async function endAnode(db: Db, anodeId: string, removedAt: Date): Promise<boolean> {
  const { count } = await db.anode.updateMany({
    where: { id: anodeId, removedAt: null },
    data: { removedAt },
  });
  return count === 1;
}

export async function setAnodeLossFactor(
  db: Db,
  anodeId: string,
  loss: { readonly lossFactor: number; readonly lossFactorError: number },
): Promise<void> {
  await db.anode.update({ where: { id: anodeId }, data: loss });
}

export async function insertWeighing(
  db: Db,
  weighing: {
    readonly anodeId: string;
    readonly at: Date;
    readonly massG: number;
    readonly errorG: number;
    readonly weighedById: string;
  },
): Promise<void> {
  await db.anodeWeighing.create({ data: weighing });
}

export type NewWear = {
  readonly anodeId: string;
  readonly runId: string;
  readonly chargeAh: number;
  readonly lossG: number;
  readonly costMinor: number;
};

export async function insertWear(db: Db, wear: readonly NewWear[]): Promise<void> {
  await db.anodeWear.createMany({ data: [...wear] });
}

/** Takes back the wear of a run whose pulling is undone. */
export async function deleteWearOfRun(db: Db, runId: string): Promise<void> {
  await db.anodeWear.deleteMany({ where: { runId } });
}
