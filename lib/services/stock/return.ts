import { type Actor, requirePermission } from "@/lib/access";
import { insertEntries, inTransaction, lockLots, recordAudit } from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { costOfReturn, quantityText, roundQuantity } from "@/lib/stock";
import { requireItem } from "./items";

export type StockReturn = {
  readonly itemId: string;
  /** the lot it had been taken from */
  readonly lotId: string;
  /** in the item's unit, above 0 */
  readonly quantity: number;
  /** the job that did not need it after all: its cost falls */
  readonly jobId?: string | undefined;
  readonly note: string;
};

/**
 * Puts back on the shelf what was taken and not used, at its share of what left the lot.
 *
 * @throws Refusal not-allowed | not-found | invalid where more comes back than was taken from the lot
 */
export async function returnStock(actor: Actor, given: StockReturn, now: Date): Promise<void> {
  requirePermission(actor, "keep-stock");
  const quantity = roundQuantity(given.quantity);
  await inTransaction(async (db) => {
    const item = await requireItem(db, given.itemId);
    const lot = (await lockLots(db, item.id)).find((candidate) => candidate.id === given.lotId);
    if (!lot) throw new Refusal("not-found", "This delivery is not one of this item.");
    const { taken } = lot;
    if (!(quantity > 0 && quantity <= taken)) {
      throw new Refusal(
        "invalid",
        `At most ${quantityText(taken, item.unit)} can come back to this delivery: no more was taken from it.`,
        { quantity: `At most ${quantityText(taken, item.unit)}.` },
      );
    }
    const costMinor = costOfReturn(
      { ...lot, quantity: lot.onHand + taken, costMinor: lot.valueMinor + lot.takenMinor },
      quantity,
    );
    await insertEntries(db, [
      {
        itemId: item.id,
        lotId: lot.id,
        at: now,
        kind: "RETURNED",
        quantity,
        costMinor,
        jobId: given.jobId,
        note: given.note || "brought back unused",
        enteredById: actor.personId,
      },
    ]);
    await recordAudit(db, {
      actor,
      at: now,
      action: "item.returned",
      subjectType: "item",
      subjectId: item.id,
      detail: { quantity, costMinor },
    });
  });
}
