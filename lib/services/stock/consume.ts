import {
  type Db,
  entriesUnderKey,
  findItem,
  insertEntries,
  type ItemRow,
  lockLots,
  type LotRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addQuantities, drawOldestFirst, quantityText, roundQuantity } from "@/lib/stock";

export type StockUse = {
  readonly itemId: string;
  /** in the item's unit, above 0, counted to a thousandth */
  readonly quantity: number;
  readonly at: Date;
  readonly runId?: string | undefined;
  readonly jobId?: string | undefined;
  readonly tankId?: string | undefined;
  readonly note: string;
  readonly enteredById: string;
  readonly idempotencyKey?: string | undefined;
};

export type StockTaken = {
  /** what it cost, whole minor units, not negative */
  readonly costMinor: number;
  /** how much came from which lot; quantities above 0 */
  readonly lots: readonly { readonly lotId: string; readonly quantity: number }[];
};

/**
 * Takes stock, what expires first or else the oldest lot first, inside the caller's transaction, and writes it in the
 * ledger at what it cost.
 *
 * The lots are locked before they are read, so simultaneous callers line up and each sees what the one before it left;
 * the database's own check (`lot_amounts`) stands behind it. Under an idempotency key a repeat takes nothing and
 * gives the first result.
 *
 * @throws Refusal not-found | invalid | not-enough-stock, naming the item, what was wanted and what there is
 * @example await consumeStock(db, { itemId, quantity: 250, at: now, runId, note: "top-up", enteredById: actor.personId })
 */
export async function consumeStock(db: Db, use: StockUse): Promise<StockTaken> {
  return takeStock(db, "USED", use);
}

/** The same for what went bad: written as spoiled. */
export async function takeStock(
  db: Db,
  kind: "USED" | "SPOILED",
  use: StockUse,
  fromLotId?: string,
): Promise<StockTaken> {
  const item = await findItem(db, use.itemId);
  if (!item) throw new Refusal("not-found", "This item is not in the stock list.");
  const wanted = roundQuantity(use.quantity);
  if (!(wanted > 0)) {
    throw new Refusal("invalid", "Take more than nothing.", { quantity: "Enter more than 0." });
  }
  const lots = await lockLots(db, item.id);
  const earlier = use.idempotencyKey ? await entriesUnderKey(db, use.idempotencyKey) : [];
  if (earlier.length > 0) return asTaken(earlier);

  const drawn = draw(item, fromLotId ? lots.filter((lot) => lot.id === fromLotId) : lots, wanted);
  const { quantity: _quantity, idempotencyKey, ...common } = use;
  const entries = drawn.map((piece, index) => ({
    ...common,
    lotId: piece.lotId,
    kind,
    quantity: -piece.quantity,
    costMinor: -piece.costMinor,
    idempotencyKey: idempotencyKey && `${idempotencyKey}#${index}`,
  }));
  await insertEntries(db, entries);
  return asTaken(entries);
}

function draw(item: ItemRow, lots: readonly LotRow[], wanted: number) {
  const onHand = addQuantities(lots.map((lot) => lot.onHand));
  if (wanted > onHand) {
    throw new Refusal(
      "not-enough-stock",
      `Not enough ${item.name}: ${quantityText(wanted, item.unit)} wanted, ${quantityText(onHand, item.unit)} on hand. ` +
        "Receive a delivery, or count what is there.",
    );
  }
  return drawOldestFirst(lots, wanted);
}

function asTaken(
  entries: readonly { lotId: string; quantity: number; costMinor: number }[],
): StockTaken {
  return {
    costMinor: entries.reduce((total, entry) => total - entry.costMinor, 0),
    lots: entries.map(({ lotId, quantity }) => ({ lotId, quantity: -quantity })),
  };
}
