import { type Actor, requirePermission } from "@/lib/access";
import {
  insertEntries,
  inTransaction,
  lockLots,
  type LotRow,
  type NewEntry,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundHalfEven } from "@/lib/money";
import { addQuantities, drawOldestFirst, quantityText, roundQuantity } from "@/lib/stock";
import { requireItem } from "./items";

export type Count = {
  readonly itemId: string;
  /** one lot; without it the whole item was counted */
  readonly lotId?: string | undefined;
  /** what was found, in the item's unit, 0 or more */
  readonly counted: number;
  readonly note: string;
};

/**
 * Brings the ledger to what was counted by new entries; nothing written before is changed. What is missing is taken
 * from the oldest lots at its cost; what is found besides goes to the newest lot at that lot's unit cost.
 *
 * @returns counted less expected, in the item's unit: 0 where it agreed and nothing was written
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function countStock(actor: Actor, count: Count, now: Date): Promise<number> {
  requirePermission(actor, "keep-stock");
  const counted = roundQuantity(count.counted);
  if (!(counted >= 0)) {
    throw new Refusal("invalid", "A count is 0 or more.", { counted: "Enter 0 or more." });
  }
  return inTransaction(async (db) => {
    const item = await requireItem(db, count.itemId);
    const lots = (await lockLots(db, item.id)).filter(
      (lot) => count.lotId === undefined || lot.id === count.lotId,
    );
    const expected = addQuantities(lots.map((lot) => lot.onHand));
    const difference = roundQuantity(counted - expected);
    if (difference === 0) return 0;
    const note = count.note || `counted ${quantityText(counted, item.unit)}`;
    const common = {
      itemId: item.id,
      at: now,
      kind: "COUNTED",
      note,
      enteredById: actor.personId,
    } as const;
    await insertEntries(
      db,
      difference < 0 ? missing(lots, -difference, common) : found(lots, difference, common),
    );
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.counted",
      subjectType: "item",
      subjectId: item.id,
      detail: { counted, expected },
    });
    return difference;
  });
}

type Common = Pick<NewEntry, "itemId" | "at" | "kind" | "note" | "enteredById">;

function missing(lots: readonly LotRow[], quantity: number, common: Common): NewEntry[] {
  return drawOldestFirst(lots, quantity).map((piece) => ({
    ...common,
    lotId: piece.lotId,
    quantity: -piece.quantity,
    costMinor: -piece.costMinor,
  }));
}

function found(lots: readonly LotRow[], quantity: number, common: Common): NewEntry[] {
  const lot = lots.at(-1);
  if (!lot) {
    throw new Refusal(
      "invalid",
      "Nothing of it was ever received. Enter what you have as a delivery, so that it has a cost.",
    );
  }
  const costMinor = roundHalfEven(lot.costMinor * (quantity / lot.quantity));
  return [{ ...common, lotId: lot.id, quantity, costMinor }];
}
