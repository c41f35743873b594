/** Epoxies by their makers' sheets, leaks of tanks, and their patches. */
import type { Db } from "./client";
import type { EpoxySheet, Leak, Prisma } from "./generated/client";

export type EpoxySheetRow = EpoxySheet;

export async function findEpoxySheet(db: Db, itemId: string): Promise<EpoxySheetRow | null> {
  return db.epoxySheet.findUnique({ where: { itemId } });
}

export async function saveEpoxySheetRow(db: Db, sheet: EpoxySheetRow): Promise<void> {
  const { itemId, ...columns } = sheet;
  await db.epoxySheet.upsert({ where: { itemId }, create: sheet, update: columns });
}

const LEAK = {
  foundBy: { select: { name: true } },
  closedBy: { select: { name: true } },
  patches: {
    orderBy: { at: "desc" },
    include: {
      patchedBy: { select: { name: true } },
      item: { select: { name: true, unit: true } },
    },
  },
} as const satisfies Prisma.LeakInclude;

/** A leak with its patches, newest first. */
export type LeakRow = Prisma.LeakGetPayload<{ include: typeof LEAK }>;

/** Leaks of a tank, newest first. */
export async function listLeaks(
  db: Db,
  tankId: string,
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly leaks: readonly LeakRow[]; readonly total: number }> {
  const [total, leaks] = await Promise.all([
    db.leak.count({ where: { tankId } }),
    db.leak.findMany({
      where: { tankId },
      orderBy: [{ foundAt: "desc" }, { id: "asc" }],
      skip,
      take,
      include: LEAK,
    }),
  ]);
  return { leaks, total };
}

export async function findLeak(db: Db, leakId: string): Promise<LeakRow | null> {
  return db.leak.findUnique({ where: { id: leakId }, include: LEAK });
}

export type NewLeak = Omit<Leak, "state" | "closedAt" | "closedById">;

/** @returns false where a leak with this id is there already: a repeat */
export async function insertLeak(db: Db, leak: NewLeak): Promise<boolean> {
  const { count } = await db.leak.createMany({ data: [leak], skipDuplicates: true });
  return count === 1;
}

export async function setLeakState(
  db: Db,
  leakId: string,
  to:
    | { readonly state: "OPEN" | "PATCHED"; readonly closedAt: null; readonly closedById: null }
    | { readonly state: "CLOSED"; readonly closedAt: Date; readonly closedById: string },
): Promise<void> {
  await db.leak.update({ where: { id: leakId }, data: to });
}

export type NewPatch = {
  readonly id: string;
  readonly leakId: string;
  readonly tankId: string;
  readonly at: Date;
  readonly patchedById: string;
  readonly itemId: string;
  readonly lotId: string;
  readonly quantity: number;
  readonly costMinor: number;
  readonly cureUntil: Date;
  readonly expiredReason: string;
  readonly note: string;
};

export async function hasPatch(db: Db, patchId: string): Promise<boolean> {
  return (await db.leakPatch.count({ where: { id: patchId } })) > 0;
}

/** @throws a refusal of the database where the tank is not empty until the patch has set */
export async function insertPatch(db: Db, patch: NewPatch): Promise<void> {
  await db.leakPatch.create({ data: patch });
}

/** Until when the last patch of a tank sets; null where none does at that time. */
export async function curingUntil(db: Db, tankId: string, at: Date): Promise<Date | null> {
  const last = await db.leakPatch.aggregate({
    where: { tankId, cureUntil: { gt: at } },
    _max: { cureUntil: true },
  });
  return last._max.cureUntil;
}

/** How many leaks of a tank nobody has closed, and how many of these are not even patched. */
export async function openLeaks(
  db: Db,
  tankId: string,
): Promise<{ readonly open: number; readonly patched: number }> {
  const [open, patched] = await Promise.all([
    db.leak.count({ where: { tankId, state: "OPEN" } }),
    db.leak.count({ where: { tankId, state: "PATCHED" } }),
  ]);
  return { open, patched };
}
