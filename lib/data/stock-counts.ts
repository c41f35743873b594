/** Counts of the shelves. What a count changed stands in the ledger; that it was made, and what it found, stands here. */
import type { Db } from "./client";
import type { StockUnit } from "./generated/client";

export type NewStockCount = {
  readonly itemId: string;
  readonly lotId: string | null;
  readonly countedAt: Date;
  readonly at: Date;
  /** in the item's unit, as `expected` */
  readonly counted: number;
  readonly expected: number;
  /** of the difference, positive where more was found */
  readonly costMinor: number;
  readonly note: string;
  readonly enteredById: string;
  readonly idempotencyKey: string | null;
};

export type CountLine = {
  readonly id: string;
  readonly at: Date;
  readonly itemId: string;
  readonly itemName: string;
  readonly unit: StockUnit;
  readonly ofOneLot: boolean;
  readonly counted: number;
  readonly expected: number;
  readonly costMinor: number;
  readonly note: string;
  readonly enteredBy: string;
};

export async function insertStockCount(db: Db, count: NewStockCount): Promise<void> {
  await db.stockCount.create({ data: count });
}

/** What a count under this key found, if it was written already. */
export async function countUnderKey(
  db: Db,
  idempotencyKey: string,
): Promise<{ counted: number; expected: number; costMinor: number } | null> {
  const row = await db.stockCount.findUnique({
    where: { idempotencyKey },
    select: { counted: true, expected: true, costMinor: true },
  });
  if (!row) return null;
  return { ...row, counted: row.counted.toNumber(), expected: row.expected.toNumber() };
}

/**
 * What moved after an instant, of an item or of one lot of it, by when it happened: what was there before and is only
 * written down or put right later was on the shelf when it was counted.
 */
export async function movedSince(
  db: Db,
  { itemId, lotId }: { readonly itemId: string; readonly lotId?: string | undefined },
  instant: Date,
): Promise<number> {
  const { _sum } = await db.ledgerEntry.aggregate({
    where: { itemId, ...(lotId === undefined ? {} : { lotId }), at: { gt: instant } },
    _sum: { quantity: true },
  });
  return _sum.quantity?.toNumber() ?? 0;
}

/** A lot as a count looks at it. */
export type HeldLot = {
  readonly id: string;
  readonly itemId: string;
  readonly receivedAt: Date;
  readonly onHand: number;
  readonly expiresOn: Date | null;
  readonly place: string;
};

/** The lots that hold something, and of items that hold nothing the newest one; oldest first. */
export async function listHeldLots(db: Db): Promise<readonly HeldLot[]> {
  const select = {
    id: true,
    itemId: true,
    receivedAt: true,
    onHand: true,
    expiresOn: true,
    place: true,
  } as const;
  const [held, empty] = await Promise.all([
    db.lot.findMany({
      where: { onHand: { gt: 0 } },
      orderBy: [{ receivedAt: "asc" }, { id: "asc" }],
      select,
    }),
    db.lot.findMany({
      where: { item: { lots: { none: { onHand: { gt: 0 } } } } },
      orderBy: [{ itemId: "asc" }, { receivedAt: "desc" }],
      distinct: ["itemId"],
      select,
    }),
  ]);
  return [...held, ...empty].map((lot) => ({ ...lot, onHand: lot.onHand.toNumber() }));
}

/** Counts, newest first. */
export async function listStockCounts(
  db: Db,
  where: { readonly itemId?: string },
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly rows: readonly CountLine[]; readonly total: number }> {
  const [total, rows] = await Promise.all([
    db.stockCount.count({ where }),
    db.stockCount.findMany({
      where,
      skip,
      take,
      orderBy: [{ at: "desc" }, { id: "desc" }],
      include: {
        item: { select: { name: true, unit: true } },
        enteredBy: { select: { name: true } },
      },
    }),
  ]);
  return {
    total,
    rows: rows.map((row) => ({
      id: row.id,
      at: row.at,
      itemId: row.itemId,
      itemName: row.item.name,
      unit: row.item.unit,
      ofOneLot: row.lotId !== null,
      counted: row.counted.toNumber(),
      expected: row.expected.toNumber(),
      costMinor: row.costMinor,
      note: row.note,
      enteredBy: row.enteredBy.name,
    })),
  };
}
