/** Reading the stock ledger: levels, what was used, and its pages. */
import type { StockEntry } from "@/lib/stock";
import type { Db } from "./client";
import type { EntryKind, StockUnit } from "./generated/client";

/** What one item has, is worth, and lost to use since a day. */
export type StockLevel = {
  readonly itemId: string;
  readonly onHand: number;
  readonly valueMinor: number;
  /** used, not counting what was spoiled, counted off or returned; not negative */
  readonly used: number;
  /** the earliest day by which a lot that still holds something expires */
  readonly nextExpiry: Date | null;
};

/** Levels of every item that ever had an entry; `used` counts from `since` on. */
export async function stockLevels(db: Db, since: Date): Promise<ReadonlyMap<string, StockLevel>> {
  const [held, values, used, expiries] = await Promise.all([
    db.lot.groupBy({ by: ["itemId"], _sum: { onHand: true } }),
    db.ledgerEntry.groupBy({ by: ["itemId"], _sum: { costMinor: true } }),
    db.ledgerEntry.groupBy({
      by: ["itemId"],
      where: { kind: "USED", at: { gte: since } },
      _sum: { quantity: true },
    }),
    db.lot.groupBy({
      by: ["itemId"],
      where: { onHand: { gt: 0 }, expiresOn: { not: null } },
      _min: { expiresOn: true },
    }),
  ]);
  const valueOf = new Map(values.map((row) => [row.itemId, row._sum.costMinor ?? 0]));
  const usedOf = new Map(used.map((row) => [row.itemId, row._sum.quantity?.toNumber() ?? 0]));
  const expiryOf = new Map(expiries.map((row) => [row.itemId, row._min.expiresOn]));
  return new Map(
    held.map(({ itemId, _sum }) => [
      itemId,
      {
        itemId,
        onHand: _sum.onHand?.toNumber() ?? 0,
        valueMinor: valueOf.get(itemId) ?? 0,
        used: Math.max(0, -(usedOf.get(itemId) ?? 0)),
        nextExpiry: expiryOf.get(itemId) ?? null,
      },
    ]),
  );
}

export type LedgerLine = {
  readonly id: string;
  readonly at: Date;
  readonly kind: EntryKind;
  /** signed: in is positive */
  readonly quantity: number;
  readonly costMinor: number;
  readonly note: string;
  readonly itemName: string;
  readonly unit: StockUnit;
  readonly lotReceivedAt: Date;
  readonly enteredBy: string;
  readonly run: { readonly id: string; readonly number: number } | null;
  readonly job: { readonly id: string; readonly number: number } | null;
  readonly tank: { readonly id: string; readonly name: string } | null;
};

/** Lines of the ledger, newest first. */
export async function listLedger(
  db: Db,
  where: { readonly itemId?: string; readonly jobId?: string },
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly lines: readonly LedgerLine[]; readonly total: number }> {
  const [total, rows] = await Promise.all([
    db.ledgerEntry.count({ where }),
    db.ledgerEntry.findMany({
      where,
      skip,
      take,
      orderBy: [{ at: "desc" }, { id: "desc" }],
      include: {
        item: { select: { name: true, unit: true } },
        lot: { select: { receivedAt: true } },
        enteredBy: { select: { name: true } },
        run: { select: { id: true, number: true } },
        job: { select: { id: true, number: true } },
        tank: { select: { id: true, name: true } },
      },
    }),
  ]);
  const lines = rows.map((row) => ({
    id: row.id,
    at: row.at,
    kind: row.kind,
    quantity: row.quantity.toNumber(),
    costMinor: row.costMinor,
    note: row.note,
    itemName: row.item.name,
    unit: row.item.unit,
    lotReceivedAt: row.lot.receivedAt,
    enteredBy: row.enteredBy.name,
    run: row.run,
    job: row.job,
    tank: row.tank,
  }));
  return { lines, total };
}

/** The whole ledger of one item, oldest first; deliveries before what was drawn at the same moment. */
export async function ledgerOfItem(db: Db, itemId: string): Promise<readonly StockEntry[]> {
  const rows = await db.ledgerEntry.findMany({
    where: { itemId },
    orderBy: [{ at: "asc" }, { kind: "asc" }, { id: "asc" }],
    select: { lotId: true, kind: true, quantity: true, costMinor: true },
  });
  return rows.map((row) => ({ ...row, quantity: row.quantity.toNumber() }));
}
