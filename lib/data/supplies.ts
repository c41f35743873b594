/** Battery chargers, bench supplies and batteries. */
import type { Db } from "./client";
import type { Supply, SupplyKind } from "./generated/client";

export type { SupplyKind };

export type SupplyRow = Supply & {
  readonly tanks: readonly { readonly id: string; readonly name: string }[];
};

/** What the shop says about a supply. */
export type SupplyDescription = Omit<Supply, "id" | "createdAt" | "retiredAt">;

const TANKS = {
  tanks: {
    where: { retiredAt: null },
    orderBy: { sortOrder: "asc" },
    select: { id: true, name: true },
  },
} as const;

/** Supplies in use by name, with the tanks they drive; retired ones too where asked for. */
export async function listSupplies(
  db: Db,
  { withRetired = false }: { readonly withRetired?: boolean } = {},
): Promise<readonly SupplyRow[]> {
  return db.supply.findMany({
    where: withRetired ? {} : { retiredAt: null },
    orderBy: { name: "asc" },
    include: TANKS,
  });
}

export async function findSupply(db: Db, supplyId: string): Promise<SupplyRow | null> {
  return db.supply.findUnique({ where: { id: supplyId }, include: TANKS });
}

/** @returns its id */
export async function insertSupply(
  db: Db,
  supply: SupplyDescription,
  createdAt: Date,
): Promise<string> {
  const row = await db.supply.create({ data: { ...supply, createdAt }, select: { id: true } });
  return row.id;
}

export async function updateSupply(
  db: Db,
  supplyId: string,
  supply: SupplyDescription,
): Promise<void> {
  await db.supply.update({ where: { id: supplyId }, data: supply });
}

export async function setSupplyRetired(
  db: Db,
  supplyId: string,
  retiredAt: Date | null,
): Promise<void> {
  await db.supply.update({ where: { id: supplyId }, data: { retiredAt } });
}
