/**
 * Stock as it stands in the database: items, lots and the append-only ledger.
 * What is drawn from which lot, and at what cost, is calculated in lib/services/stock (`consumeStock`).
 */
import type { Db } from "./client";
import type { EntryKind, Item, ItemKind, StockUnit } from "./generated/client";

export type { EntryKind, ItemKind, StockUnit };

/** A thing kept in stock. Quantities are in its own `unit`. */
export type ItemRow = Omit<Item, "packQuantity" | "reorderPoint" | "reorderQuantity"> & {
  readonly packQuantity: number | null;
  readonly reorderPoint: number;
  readonly reorderQuantity: number;
};

export type NewItem = {
  readonly name: string;
  readonly kind: ItemKind;
  readonly saltGrade: string | null;
  /** what it is more exactly: code of lib/stock; empty for no more than its kind */
  readonly category: string;
  readonly unit: StockUnit;
  readonly gramsPerUnit: number | null;
  /** what it is bought in, and how much of it that is; empty and null where it is bought by the unit */
  readonly packName: string;
  readonly packQuantity: number | null;
  readonly reorderPoint: number;
  readonly reorderQuantity: number;
  readonly supplierName: string;
  readonly place: string;
};

/** One delivery and what is left of it. */
export type LotRow = {
  readonly id: string;
  readonly itemId: string;
  readonly receivedAt: Date;
  readonly quantity: number;
  readonly onHand: number;
  /** of the whole delivery */
  readonly costMinor: number;
  /** of what is left: what came in at cost, less what went out at cost */
  readonly valueMinor: number;
  /** what the ledger says was delivered: 0 where the delivery was corrected away */
  readonly delivered: number;
  /** used and spoiled, less what came back, and what that cost; neither is negative */
  readonly taken: number;
  readonly takenMinor: number;
  readonly supplierName: string;
  readonly expiresOn: Date | null;
  readonly place: string;
};

export type NewLot = {
  readonly itemId: string;
  readonly receivedAt: Date;
  readonly quantity: number;
  readonly costMinor: number;
  readonly supplierName: string;
  readonly expiresOn: Date | null;
  readonly place: string;
  /** the line of an order that it came for */
  readonly purchaseLineId?: string | undefined;
};

/** One line to write in the ledger; `quantity` and `costMinor` are signed, in is positive. */
export type NewEntry = {
  readonly itemId: string;
  readonly lotId: string;
  readonly at: Date;
  readonly kind: EntryKind;
  readonly quantity: number;
  readonly costMinor: number;
  readonly runId?: string | undefined;
  readonly jobId?: string | undefined;
  readonly tankId?: string | undefined;
  readonly note: string;
  /** the line that this one corrects: the same with both signs turned */
  readonly correctsId?: string | undefined;
  readonly enteredById: string;
  readonly idempotencyKey?: string | undefined;
};

export async function findItem(db: Db, itemId: string): Promise<ItemRow | null> {
  const item = await db.item.findUnique({ where: { id: itemId } });
  return item && asItemRow(item);
}

/**
 * The item, locked to the end of the transaction: lines up deliveries (a repeated one finds the first) and retiring.
 * NO KEY, so that ledger entries that only refer to the item need not wait.
 */
export async function lockItem(db: Db, itemId: string): Promise<ItemRow | null> {
  await db.$queryRaw`SELECT "id" FROM "item" WHERE "id" = ${itemId}::uuid FOR NO KEY UPDATE`;
  return findItem(db, itemId);
}

/** The items in use, by name; retired ones too where asked for. */
export async function listItems(
  db: Db,
  { withRetired = false }: { readonly withRetired?: boolean } = {},
): Promise<readonly ItemRow[]> {
  const items = await db.item.findMany({
    where: withRetired ? {} : { retiredAt: null },
    orderBy: { name: "asc" },
  });
  return items.map(asItemRow);
}

export async function insertItem(db: Db, item: NewItem, createdAt: Date): Promise<ItemRow> {
  return asItemRow(await db.item.create({ data: { ...item, createdAt } }));
}

/** Changes what is said about an item. Its unit stays: the ledger is counted in it. */
export async function updateItem(
  db: Db,
  itemId: string,
  item: Omit<NewItem, "unit">,
): Promise<ItemRow> {
  return asItemRow(await db.item.update({ where: { id: itemId }, data: item }));
}

export async function setItemRetired(
  db: Db,
  itemId: string,
  retiredAt: Date | null,
): Promise<void> {
  await db.item.update({ where: { id: itemId }, data: { retiredAt } });
}

/**
 * The lots of one item, oldest first, locked to the end of the transaction.
 *
 * Row locks taken in one order line up everybody who draws on the item, and cannot deadlock. What the lots hold is
 * read by the second statement, after the locks, so it includes what the callers before us took.
 */
export async function lockLots(db: Db, itemId: string): Promise<readonly LotRow[]> {
  await db.$queryRaw`
    SELECT "id" FROM "lot" WHERE "item_id" = ${itemId}::uuid ORDER BY "received_at", "id" FOR UPDATE`;
  return listLots(db, itemId);
}

/** The lots of one item, oldest first, used-up ones included. */
export async function listLots(db: Db, itemId: string): Promise<readonly LotRow[]> {
  const [lots, delivered, taken] = await Promise.all([
    db.lot.findMany({ where: { itemId }, orderBy: [{ receivedAt: "asc" }, { id: "asc" }] }),
    movedByLot(db, itemId, ["RECEIVED"]),
    movedByLot(db, itemId, ["USED", "SPOILED", "RETURNED"]),
  ]);
  return lots.map((lot) => ({
    ...lot,
    quantity: lot.quantity.toNumber(),
    onHand: lot.onHand.toNumber(),
    delivered: delivered.get(lot.id)?.quantity ?? 0,
    taken: Math.max(0, -(taken.get(lot.id)?.quantity ?? 0)),
    takenMinor: Math.max(0, -(taken.get(lot.id)?.costMinor ?? 0)),
  }));
}

/** What lines of these kinds moved of each lot; a correction has the kind of what it corrects, and cancels it. */
async function movedByLot(
  db: Db,
  itemId: string,
  kinds: EntryKind[],
): Promise<ReadonlyMap<string, { readonly quantity: number; readonly costMinor: number }>> {
  const rows = await db.ledgerEntry.groupBy({
    by: ["lotId"],
    where: { itemId, kind: { in: kinds } },
    _sum: { quantity: true, costMinor: true },
  });
  return new Map(
    rows.map(({ lotId, _sum }) => [
      lotId,
      { quantity: _sum.quantity?.toNumber() ?? 0, costMinor: _sum.costMinor ?? 0 },
    ]),
  );
}

/** What a delivery was after all: its lot's own amount and cost, from which shares are reckoned. */
export async function correctLot(
  db: Db,
  lotId: string,
  delivery: { readonly quantity: number; readonly costMinor: number },
): Promise<void> {
  await db.lot.update({ where: { id: lotId }, data: delivery });
}

/** A new, empty lot; the ledger entry that receives it fills it. */
export async function insertLot(db: Db, lot: NewLot): Promise<string> {
  const data = { ...lot, purchaseLineId: lot.purchaseLineId ?? null };
  const row = await db.lot.create({ data, select: { id: true } });
  return row.id;
}

/** The lot that a delivery made under this key, if it was written already. */
export async function lotReceivedUnderKey(db: Db, idempotencyKey: string): Promise<string | null> {
  const entry = await db.ledgerEntry.findUnique({
    where: { idempotencyKey },
    select: { lotId: true },
  });
  return entry?.lotId ?? null;
}

/** @throws a refusal of the database where a lot would fall below zero */
export async function insertEntries(db: Db, entries: readonly NewEntry[]): Promise<void> {
  if (entries.length === 0) return;
  await db.ledgerEntry.createMany({
    data: entries.map((entry) => ({
      ...entry,
      runId: entry.runId ?? null,
      jobId: entry.jobId ?? null,
      tankId: entry.tankId ?? null,
      correctsId: entry.correctsId ?? null,
      idempotencyKey: entry.idempotencyKey ?? null,
    })),
  });
}

/** What was written under one idempotency key: one entry for each lot drawn on. */
export async function entriesUnderKey(
  db: Db,
  idempotencyKey: string,
): Promise<readonly { lotId: string; quantity: number; costMinor: number }[]> {
  const rows = await db.ledgerEntry.findMany({
    where: { idempotencyKey: { startsWith: `${idempotencyKey}#` } },
    orderBy: { idempotencyKey: "asc" },
    select: { lotId: true, quantity: true, costMinor: true },
  });
  return rows.map((row) => ({ ...row, quantity: row.quantity.toNumber() }));
}

function asItemRow(item: Item): ItemRow {
  return {
    ...item,
    packQuantity: item.packQuantity?.toNumber() ?? null,
    reorderPoint: item.reorderPoint.toNumber(),
    reorderQuantity: item.reorderQuantity.toNumber(),
  };
}
