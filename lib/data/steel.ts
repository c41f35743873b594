/** Bars of anode steel: their sections, the offcuts on the rack, and what was sawn for anodes. */
import type { AnodeWay, CuttingPlan, Section, SectionShape } from "@/lib/stock";
import type { Db } from "./client";
import type { ItemSection, Offcut, Prisma } from "./generated/client";

/** A section with how its bars come and are sawn. */
export type SectionRow = ItemSection & Section;

export async function findSection(db: Db, itemId: string): Promise<SectionRow | null> {
  return db.itemSection.findUnique({ where: { itemId } });
}

export async function saveSection(db: Db, section: ItemSection): Promise<void> {
  const { itemId, ...columns } = section;
  await db.itemSection.upsert({ where: { itemId }, create: section, update: columns });
}

/** Items of anode steel in use that have a section, by name. */
export async function listSectionItems(
  db: Db,
): Promise<
  readonly { readonly itemId: string; readonly name: string; readonly shape: SectionShape }[]
> {
  const rows = await db.itemSection.findMany({
    where: { item: { retiredAt: null } },
    orderBy: { item: { name: "asc" } },
    select: { itemId: true, shape: true, item: { select: { name: true } } },
  });
  return rows.map(({ item, ...row }) => ({ ...row, name: item.name }));
}

export type OffcutRow = Omit<Offcut, "lengthMm"> & { readonly lengthMm: number };

/** Offcuts of an item that lie on the rack, longest first. */
export async function listRackOffcuts(db: Db, itemId: string): Promise<readonly OffcutRow[]> {
  const rows = await db.offcut.findMany({
    where: { itemId, state: "RACK" },
    orderBy: [{ lengthMm: "desc" }, { id: "asc" }],
  });
  return rows.map((row) => ({ ...row, lengthMm: row.lengthMm.toNumber() }));
}

export type NewOffcut = {
  readonly id?: string;
  readonly itemId: string;
  readonly lotId: string;
  readonly lengthMm: number;
  readonly at: Date;
  readonly enteredById: string;
  readonly bornOfId?: string;
};

/** @returns false where an offcut with this id is there already: a repeat */
export async function insertOffcuts(db: Db, offcuts: readonly NewOffcut[]): Promise<boolean> {
  const { count } = await db.offcut.createMany({ data: [...offcuts], skipDuplicates: true });
  return count === offcuts.length;
}

/** Takes offcuts off the rack into a cut: a conditional UPDATE whose count is checked. @returns whether all were there */
export async function useOffcuts(db: Db, ids: readonly string[], cutId: string): Promise<boolean> {
  const { count } = await db.offcut.updateMany({
    where: { id: { in: [...ids] }, state: "RACK" },
    data: { state: "USED", usedInId: cutId },
  });
  return count === ids.length;
}

/** Takes an offcut off the rack as scrap. @returns whether it was there */
export async function scrapOffcutRow(db: Db, offcutId: string): Promise<boolean> {
  const { count } = await db.offcut.updateMany({
    where: { id: offcutId, state: "RACK" },
    data: { state: "SCRAPPED" },
  });
  return count === 1;
}

/** What a cut left is no more, where all of it still lies on the rack. @returns whether it did */
export async function takeBackOffcuts(db: Db, cutId: string): Promise<boolean> {
  const gone = await db.offcut.count({ where: { bornOfId: cutId, state: { not: "RACK" } } });
  if (gone > 0) return false;
  await db.offcut.updateMany({ where: { bornOfId: cutId }, data: { state: "UNDONE" } });
  return true;
}

/** What a cut had used lies on the rack again. */
export async function giveBackOffcuts(db: Db, cutId: string): Promise<void> {
  await db.offcut.updateMany({
    where: { usedInId: cutId },
    data: { state: "RACK", usedInId: null },
  });
}

const CUT = {
  item: { select: { name: true } },
  tank: { select: { name: true } },
  cutBy: { select: { name: true } },
} as const satisfies Prisma.SteelCutInclude;

export type CutRow = Prisma.SteelCutGetPayload<{ include: typeof CUT }>;

/** What is kept of a cut beside its row: each bar as it was sawn, and how far the plan was proven. */
export type StoredCutting = { readonly bars: CuttingPlan; readonly proof: string };

export type NewCut = {
  readonly id: string;
  readonly itemId: string;
  readonly tankId: string;
  readonly way: AnodeWay;
  readonly lengthMm: number;
  readonly count: number;
  readonly plan: StoredCutting;
  readonly massG: number;
  readonly wettedAreaM2: number;
  readonly costMinor: number;
  readonly at: Date;
  readonly cutById: string;
};

export async function findCut(db: Db, cutId: string): Promise<CutRow | null> {
  return db.steelCut.findUnique({ where: { id: cutId }, include: CUT });
}

/** Cuts of a tank or an item, newest first. */
export async function listCuts(
  db: Db,
  where: { readonly tankId?: string; readonly itemId?: string; readonly state?: "CUT" },
  take: number,
): Promise<readonly CutRow[]> {
  return db.steelCut.findMany({
    where,
    take,
    orderBy: [{ at: "desc" }, { id: "asc" }],
    include: CUT,
  });
}

export async function insertCut(db: Db, cut: NewCut): Promise<void> {
  await db.steelCut.create({ data: cut });
}

/** Moves a cut on if nothing was done with it yet: one of two callers gets it. @returns whether it was this one */
export async function moveCut(
  db: Db,
  cutId: string,
  to: { readonly state: "UNDONE" } | { readonly state: "HUNG"; readonly anodeId: string },
): Promise<boolean> {
  const { count } = await db.steelCut.updateMany({ where: { id: cutId, state: "CUT" }, data: to });
  return count === 1;
}

export type NewAnodeLot = {
  readonly anodeId: string;
  readonly lotId: string;
  readonly quantity: number;
  readonly costMinor: number;
};

/** The steel of an anode by lot; together it is the anode's cost, which the database checks. */
export async function insertAnodeLots(db: Db, lots: readonly NewAnodeLot[]): Promise<void> {
  await db.anodeLot.createMany({ data: [...lots] });
}
