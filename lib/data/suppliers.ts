/** Suppliers, how each item is ordered, and what deliveries and days say about both. */
import type { DatedEntry, Delivered } from "@/lib/stock";
import type { Db } from "./client";
import type { ReorderMode, ReorderPolicy, Supplier } from "./generated/client";
import { sameName } from "./same-name";

export type { ReorderMode };

/** What the shop knows of a supplier. */
export type SupplierRow = Supplier;
export type NewSupplier = Omit<Supplier, "id" | "createdAt">;

export async function listSuppliers(db: Db): Promise<readonly SupplierRow[]> {
  return db.supplier.findMany({ orderBy: { name: "asc" } });
}

export async function findSupplier(db: Db, id: string): Promise<SupplierRow | null> {
  return db.supplier.findUnique({ where: { id } });
}

/** The row of a name, whatever its case. */
export async function supplierNamed(db: Db, name: string): Promise<SupplierRow | null> {
  return db.supplier.findFirst({ where: { name: sameName(name) } });
}

export async function insertSupplier(
  db: Db,
  supplier: NewSupplier,
  createdAt: Date,
): Promise<string> {
  const row = await db.supplier.create({ data: { ...supplier, createdAt }, select: { id: true } });
  return row.id;
}

export async function updateSupplier(db: Db, id: string, supplier: NewSupplier): Promise<void> {
  await db.supplier.update({ where: { id }, data: supplier });
}

/** How an item is ordered. */
export type PolicyRow = ReorderPolicy;

/** Policies of the items that have one, by item. */
export async function policiesOf(
  db: Db,
  where: { readonly itemId?: string; readonly mode?: ReorderMode } = {},
): Promise<ReadonlyMap<string, PolicyRow>> {
  const rows = await db.reorderPolicy.findMany({ where });
  return new Map(rows.map((row) => [row.itemId, row]));
}

export async function savePolicy(db: Db, { itemId, ...policy }: PolicyRow): Promise<void> {
  await db.reorderPolicy.upsert({
    where: { itemId },
    create: { itemId, ...policy },
    update: policy,
  });
}

/**
 * The ledgers of some items, summed by the shop's day and kind, in order of time: what was brought back on a day comes
 * after what was used on it. Days count from 1 January 1970.
 */
export async function ledgerDays(
  db: Db,
  itemIds: readonly string[],
  timeZone: string,
): Promise<ReadonlyMap<string, readonly DatedEntry[]>> {
  const rows = await db.$queryRaw<(DatedEntry & { readonly itemId: string })[]>`
    SELECT "item_id" AS "itemId", ("at" AT TIME ZONE ${timeZone})::date - DATE '1970-01-01' AS "day",
           "kind"::text AS "kind", SUM("quantity")::float8 AS "quantity"
      FROM "ledger_entry" WHERE "item_id" = ANY(${[...itemIds]}::uuid[])
     GROUP BY "item_id", 2, "kind" ORDER BY 2, "ledger_entry"."kind"`;
  const found = new Map<string, DatedEntry[]>();
  for (const { itemId, ...entry } of rows) {
    const own = found.get(itemId);
    if (own) own.push(entry);
    else found.set(itemId, [entry]);
  }
  return found;
}

/** One line that came in whole, or whose order was closed: from ordering to the last of it. */
export type DeliveredLine = Delivered & { readonly supplierName: string };

/** Lines ordered since a day and come, the oldest order first. */
export async function deliveredLines(db: Db, since: Date): Promise<readonly DeliveredLine[]> {
  return db.$queryRaw<DeliveredLine[]>`
    SELECT o."id" AS "orderId", o."supplier_name" AS "supplierName", p."item_id" AS "itemId",
           GREATEST(0, EXTRACT(EPOCH FROM MAX(l."received_at") - o."ordered_at") / 86400)::float8 AS "days"
      FROM "purchase_order" o JOIN "purchase_line" p ON p."order_id" = o."id"
      JOIN "lot" l ON l."purchase_line_id" = p."id"
      JOIN "ledger_entry" e ON e."lot_id" = l."id" AND e."kind" = 'RECEIVED'
     WHERE o."state" IN ('ORDERED', 'RECEIVED') AND o."ordered_at" >= ${since}
     GROUP BY o."id", p."id"
    HAVING SUM(e."quantity") > 0 AND (o."state" = 'RECEIVED' OR SUM(e."quantity") >= p."quantity")
     ORDER BY o."ordered_at", o."id", p."id"`;
}

/** What an item last cost, and how long its lots keep. */
export type LastLot = {
  readonly itemId: string;
  readonly quantity: number;
  readonly costMinor: number;
  /** days from coming in to the last good day; null where it keeps */
  readonly shelfLifeDays: number | null;
};

/** The newest lot of each item that ever had one, by item. */
export async function lastLots(db: Db): Promise<ReadonlyMap<string, LastLot>> {
  const rows = await db.$queryRaw<LastLot[]>`
    SELECT DISTINCT ON ("item_id") "item_id" AS "itemId", "quantity"::float8 AS "quantity",
           "cost_minor" AS "costMinor", "expires_on" - "received_at"::date AS "shelfLifeDays"
      FROM "lot" ORDER BY "item_id", "received_at" DESC, "id"`;
  return new Map(rows.map((row) => [row.itemId, row]));
}

/** A lot that still holds something. */
export type HeldLotRow = {
  readonly id: string;
  readonly onHand: number;
  readonly expiresOn: Date | null;
};

/** Lots that still hold something, by item. */
export async function heldLots(db: Db): Promise<ReadonlyMap<string, readonly HeldLotRow[]>> {
  const rows = await db.lot.findMany({
    where: { onHand: { gt: 0 } },
    select: { id: true, itemId: true, onHand: true, expiresOn: true },
  });
  const found = new Map<string, HeldLotRow[]>();
  for (const { itemId, ...row } of rows) {
    const lot = { ...row, onHand: row.onHand.toNumber() };
    found.set(itemId, [...(found.get(itemId) ?? []), lot]);
  }
  return found;
}
