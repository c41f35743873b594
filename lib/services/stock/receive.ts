import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  insertEntries,
  insertLot,
  inTransaction,
  lotReceivedUnderKey,
  recordAudit,
  setItemRetired,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundQuantity } from "@/lib/stock";
import { lockedItem } from "./items";

export type Delivery = {
  readonly itemId: string;
  /** in the item's unit, above 0 */
  readonly quantity: number;
  /** of the whole delivery, without tax that is reclaimed, whole minor units */
  readonly costMinor: number;
  readonly receivedAt: Date;
  readonly supplierName: string;
  /** last good day, as midnight UTC; null where it keeps */
  readonly expiresOn: Date | null;
  readonly place: string;
  /** the line of an order that it came for */
  readonly purchaseLineId?: string | undefined;
  readonly idempotencyKey?: string | undefined;
};

/**
 * Takes one delivery into stock as a lot of its own. A repeat under the same key changes nothing and
 * gives the first lot: the item's row lock lines repeats up.
 *
 * @returns id of the lot
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function receiveLot(actor: Actor, delivery: Delivery, now: Date): Promise<string> {
  return inTransaction((db) => receiveLotIn(db, actor, delivery, now));
}

/** The same inside the caller's transaction, such as that of a whole order. */
export async function receiveLotIn(
  db: Db,
  actor: Actor,
  delivery: Delivery,
  now: Date,
): Promise<string> {
  requirePermission(actor, "keep-stock");
  const quantity = roundQuantity(delivery.quantity);
  checkDelivery(delivery, quantity, now);
  const { idempotencyKey, ...lot } = delivery;
  const item = await lockedItem(db, delivery.itemId);
  const earlier = idempotencyKey ? await lotReceivedUnderKey(db, idempotencyKey) : null;
  if (earlier) return earlier;
  if (item.retiredAt) await setItemRetired(db, item.id, null);
  const lotId = await insertLot(db, { ...lot, quantity });
  await insertEntries(db, [
    {
      itemId: item.id,
      lotId,
      at: delivery.receivedAt,
      kind: "RECEIVED",
      quantity,
      costMinor: delivery.costMinor,
      note: delivery.supplierName ? `delivery from ${delivery.supplierName}` : "delivery",
      enteredById: actor.personId,
      idempotencyKey,
    },
  ]);
  await recordAudit(db, {
    actor,
    at: now,
    action: "lot.received",
    subjectType: "item",
    subjectId: item.id,
    detail: { quantity, costMinor: delivery.costMinor },
  });
  return lotId;
}

function checkDelivery(delivery: Delivery, quantity: number, now: Date): void {
  const fields: Record<string, string> = {};
  if (!(quantity > 0)) fields["quantity"] = "Enter how much came, more than 0.";
  if (!(Number.isSafeInteger(delivery.costMinor) && delivery.costMinor >= 0)) {
    fields["cost"] = "Enter what it cost, 0 or more.";
  }
  if (delivery.receivedAt > now) fields["receivedAt"] = "A delivery cannot come in the future.";
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "This delivery cannot be written like this.", fields);
  }
}
