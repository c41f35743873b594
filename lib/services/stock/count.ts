import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type CountLine,
  countUnderKey,
  type Db,
  insertEntries,
  insertStockCount,
  inTransaction,
  type ItemRow,
  listStockCounts,
  lockLots,
  type LotRow,
  movedSince,
  type NewEntry,
  reading,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundHalfEven } from "@/lib/money";
import { addQuantities, drawOldestFirst, quantityText, roundQuantity } from "@/lib/stock";
import { type Paged, pageOf } from "../paging";
import { requireItem } from "./items";

export type Count = {
  readonly itemId: string;
  /** one lot; without it the whole item was counted */
  readonly lotId?: string | undefined;
  /** what was found, in the item's unit, 0 or more */
  readonly counted: number;
  readonly note: string;
  /** when it was counted, where that was before now: what was taken or delivered in between is no difference */
  readonly countedAt?: Date | undefined;
  readonly idempotencyKey?: string | undefined;
};

export type CountOutcome = {
  /** what the ledger said at the moment of counting, in the item's unit */
  readonly expected: number;
  /** counted less expected: 0 where it agreed and nothing was written */
  readonly difference: number;
  /** what the difference is worth; negative where something is missing */
  readonly costMinor: number;
};

/** How long ago a count may have been made and still be sent, ms. */
const LONGEST_WAIT_MS = 7 * 86_400_000;

/**
 * Brings the ledger to what was counted by new entries; nothing written before is changed. What is missing is taken
 * from the lots in their turn at its cost; what is found besides goes to the newest lot at that lot's unit cost. That it was
 * counted is kept too, also where it agreed.
 *
 * A count that waited for a signal is compared with what the ledger held when it was made. Where what was missing then
 * has been taken from the ledger since, no more is written off than is left. A repeat under one key writes nothing and
 * gives the first answer: the item's lots are locked, which lines repeats up.
 *
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function countStock(actor: Actor, count: Count, now: Date): Promise<CountOutcome> {
  requirePermission(actor, "keep-stock");
  const counted = roundQuantity(count.counted);
  if (!(counted >= 0)) {
    throw new Refusal("invalid", "A count is 0 or more.", { counted: "Enter 0 or more." });
  }
  return inTransaction(async (db) => {
    const item = await requireItem(db, count.itemId);
    const locked = await lockLots(db, item.id);
    const { idempotencyKey } = count;
    const earlier = idempotencyKey ? await countUnderKey(db, idempotencyKey) : null;
    if (earlier) return outcome(earlier.counted, earlier.expected, earlier.costMinor);
    const lots = locked.filter((lot) => count.lotId === undefined || lot.id === count.lotId);
    if (count.lotId !== undefined && lots.length === 0) {
      throw new Refusal("not-found", "This delivery is not one of this item.");
    }
    const expected = await expectedAt(db, count, lots, now);
    const costMinor = await writeDifference(db, actor, { count, item, lots, expected, now });
    await keepCount(db, actor, { count, counted, expected, costMinor, now });
    return outcome(counted, expected, costMinor);
  });
}

const outcome = (counted: number, expected: number, costMinor: number): CountOutcome => ({
  expected,
  difference: roundQuantity(counted - expected),
  costMinor,
});

/** What these lots held when they were counted. */
async function expectedAt(
  db: Db,
  count: Count,
  lots: readonly LotRow[],
  now: Date,
): Promise<number> {
  const onHand = addQuantities(lots.map((lot) => lot.onHand));
  const { countedAt } = count;
  if (!countedAt || countedAt >= now) return onHand;
  if (now.getTime() - countedAt.getTime() > LONGEST_WAIT_MS) {
    throw new Refusal("invalid", "This was counted over a week ago. Count it again.");
  }
  return Math.max(0, addQuantities([onHand, -(await movedSince(db, count, countedAt))]));
}

type Difference = {
  readonly count: Count;
  readonly item: ItemRow;
  readonly lots: readonly LotRow[];
  readonly expected: number;
  readonly now: Date;
};

/** @returns what it is worth, signed */
async function writeDifference(
  db: Db,
  actor: Actor,
  { count, item, lots, expected, now }: Difference,
): Promise<number> {
  const counted = roundQuantity(count.counted);
  const onHand = addQuantities(lots.map((lot) => lot.onHand));
  const difference = Math.max(-onHand, roundQuantity(counted - expected));
  if (difference === 0) return 0;
  const common = {
    itemId: item.id,
    at: now,
    kind: "COUNTED",
    note: count.note || `counted ${quantityText(counted, item.unit)}`,
    enteredById: actor.personId,
  } as const;
  const entries =
    difference < 0 ? missing(lots, -difference, common) : found(lots, difference, common);
  await insertEntries(db, entries);
  return entries.reduce((total, { costMinor }) => total + costMinor, 0);
}

type Kept = {
  readonly count: Count;
  readonly counted: number;
  readonly expected: number;
  readonly costMinor: number;
  readonly now: Date;
};

async function keepCount(
  db: Db,
  actor: Actor,
  { count, counted, expected, costMinor, now }: Kept,
): Promise<void> {
  const { countedAt } = count;
  await insertStockCount(db, {
    itemId: count.itemId,
    lotId: count.lotId ?? null,
    countedAt: countedAt && countedAt < now ? countedAt : now,
    at: now,
    counted,
    expected,
    costMinor,
    note: count.note,
    enteredById: actor.personId,
    idempotencyKey: count.idempotencyKey ?? null,
  });
  if (counted === expected) return;
  await recordAudit(db, {
    actor,
    at: now,
    action: "item.counted",
    subjectType: "item",
    subjectId: count.itemId,
    detail: { counted, expected },
  });
}

type Common = Pick<NewEntry, "itemId" | "at" | "kind" | "note" | "enteredById">;

function missing(lots: readonly LotRow[], quantity: number, common: Common): NewEntry[] {
  return drawOldestFirst(lots, quantity).map((piece) => ({
    ...common,
    lotId: piece.lotId,
    quantity: -piece.quantity,
    costMinor: piece.costMinor === 0 ? 0 : -piece.costMinor,
  }));
}

function found(lots: readonly LotRow[], quantity: number, common: Common): NewEntry[] {
  const lot = lots.findLast(({ delivered }) => delivered > 0);
  if (!lot) {
    throw new Refusal(
      "invalid",
      "Nothing of it was ever received. Enter what you have as a delivery, so that it has a cost.",
    );
  }
  const costMinor = roundHalfEven(lot.costMinor * (quantity / lot.quantity));
  return [{ ...common, lotId: lot.id, quantity, costMinor }];
}

/** The counts made of late, newest first; what differences are worth is for people who may see money. */
export async function stockCounts(
  actor: Actor,
  page: number,
): Promise<Paged<Omit<CountLine, "costMinor"> & { readonly costMinor: number | null }>> {
  requirePermission(actor, "see-shop");
  const seesMoney = may(actor, "see-money");
  return reading((db) =>
    pageOf(page, async (skip, take) => {
      const { rows, total } = await listStockCounts(db, {}, { skip, take });
      return {
        total,
        rows: rows.map((row) => ({ ...row, costMinor: seesMoney ? row.costMinor : null })),
      };
    }),
  );
}
