/**
 * Reading the stock ledger: levels, what was used, and its pages.
 *
 * A correction has the kind, time, lot, run, job and tank of the line that it corrects, and both its signs turned. So a
 * sum over any choice of lines by these is right without a word about corrections: what an item lost to use in a month
 * is the sum of its USED lines of that month, wrong lines and their corrections included.
 */
import type { StockEntry } from "@/lib/stock";
import type { Db } from "./client";
import type { EntryKind, Prisma, StockUnit } from "./generated/client";

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
  const [held, used, expiries] = await Promise.all([
    db.lot.groupBy({ by: ["itemId"], _sum: { onHand: true, valueMinor: true } }),
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
  const usedOf = new Map(used.map((row) => [row.itemId, row._sum.quantity?.toNumber() ?? 0]));
  const expiryOf = new Map(expiries.map((row) => [row.itemId, row._min.expiresOn]));
  return new Map(
    held.map(({ itemId, _sum }) => [
      itemId,
      {
        itemId,
        onHand: _sum.onHand?.toNumber() ?? 0,
        valueMinor: _sum.valueMinor ?? 0,
        used: Math.max(0, -(usedOf.get(itemId) ?? 0)),
        nextExpiry: expiryOf.get(itemId) ?? null,
      },
    ]),
  );
}

export type LedgerLine = {
  readonly id: string;
  readonly at: Date;
  readonly writtenAt: Date;
  readonly kind: EntryKind;
  /** the line that this one corrects */
  readonly correctsId: string | null;
  /** who corrected this one, and when */
  readonly corrected: { readonly by: string; readonly at: Date } | null;
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
  where: { readonly id?: string; readonly itemId?: string; readonly jobId?: string },
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly lines: readonly LedgerLine[]; readonly total: number }> {
  const [total, rows] = await Promise.all([
    db.ledgerEntry.count({ where }),
    db.ledgerEntry.findMany({
      where,
      skip,
      take,
      orderBy: [{ at: "desc" }, { writtenAt: "desc" }, { id: "desc" }],
      include: {
        correctedBy: { select: { writtenAt: true, enteredBy: { select: { name: true } } } },
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
    writtenAt: row.writtenAt,
    kind: row.kind,
    correctsId: row.correctsId,
    corrected: row.correctedBy && {
      by: row.correctedBy.enteredBy.name,
      at: row.correctedBy.writtenAt,
    },
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

/**
 * The ledger of one item in order of time, as it should have been: without lines that were corrected and their
 * corrections.
 */
export async function ledgerOfItem(db: Db, itemId: string): Promise<readonly StockEntry[]> {
  return soundEntries(db, { itemId });
}

/** A line of the ledger of all items. */
export type DatedEntry = StockEntry & { readonly itemId: string };

/** The same of every item, up to but not at an instant. */
export async function ledgerBefore(db: Db, end: Date): Promise<readonly DatedEntry[]> {
  return soundEntries(db, { at: { lt: end } });
}

/** When each delivery came, by lot. */
export async function lotDays(db: Db): Promise<ReadonlyMap<string, Date>> {
  const lots = await db.lot.findMany({ select: { id: true, receivedAt: true } });
  return new Map(lots.map(({ id, receivedAt }) => [id, receivedAt]));
}

/** Lines dated before `end` that were written after it: deliveries dated back, and corrections. */
export async function writtenLater(db: Db, end: Date): Promise<number> {
  return db.ledgerEntry.count({ where: { at: { lt: end }, writtenAt: { gte: end } } });
}

async function soundEntries(
  db: Db,
  where: Prisma.LedgerEntryWhereInput,
): Promise<readonly DatedEntry[]> {
  const rows = await db.ledgerEntry.findMany({
    where: { ...where, correctsId: null, correctedBy: null },
    // Of one moment: in the order written, deliveries first.
    orderBy: [{ at: "asc" }, { writtenAt: "asc" }, { kind: "asc" }, { id: "asc" }],
    select: { itemId: true, lotId: true, kind: true, quantity: true, costMinor: true },
  });
  return rows.map((row) => ({ ...row, quantity: row.quantity.toNumber() }));
}
