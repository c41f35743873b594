import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findPurchaseOrder,
  inTransaction,
  listPurchaseOrders,
  lotReceivedUnderKey,
  type PurchaseLineRow,
  type PurchaseOrderRow,
  type PurchaseState,
  reading,
  updatePurchaseOrder,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundQuantity } from "@/lib/stock";
import { receiveLotIn } from "../stock/receive";
import { audit, lockedOrder, requireState } from "./lists";
import { withoutMoney } from "./what-to-buy";

/** One order as this person may see it. @throws Refusal not-allowed | not-found */
export async function seePurchaseOrder(actor: Actor, orderId: string): Promise<PurchaseOrderRow> {
  requirePermission(actor, "see-shop");
  const order = await reading((db) => findPurchaseOrder(db, orderId));
  if (!order) throw new Refusal("not-found", "There is no such order.");
  return withoutMoney(actor, order);
}

/** Orders that are done or cancelled, the newest first. @throws Refusal not-allowed */
export async function pastOrders(
  actor: Actor,
  window: { readonly skip: number; readonly take: number },
): Promise<{ readonly orders: readonly PurchaseOrderRow[]; readonly total: number }> {
  requirePermission(actor, "see-shop");
  const found = await reading((db) =>
    listPurchaseOrders(db, { states: ["RECEIVED", "CANCELLED"] }, window),
  );
  return { ...found, orders: found.orders.map((order) => withoutMoney(actor, order)) };
}

/**
 * Writes down that a list went to its supplier. From now on its lines count as on order.
 *
 * @param orderedAt not in the future
 * @param expectedOn as midnight UTC; null where nobody said
 * @throws Refusal not-allowed | not-found | invalid | conflict where it is no draft
 */
export async function markOrdered(
  actor: Actor,
  orderId: string,
  { orderedAt, expectedOn }: { readonly orderedAt: Date; readonly expectedOn: Date | null },
  now: Date,
): Promise<void> {
  await changeState(actor, orderId, { from: "DRAFT", to: "ORDERED" }, now, (order) => {
    if (order.lines.length === 0) {
      throw new Refusal("invalid", "Nothing is on this list. Put something on it first.");
    }
    if (orderedAt > now) {
      throw new Refusal("invalid", "An order cannot have been made in the future.", {
        orderedAt: "Choose a time that has been.",
      });
    }
    return { orderedAt, expectedOn };
  });
}

/** Takes “ordered” back, while nothing has come. @throws Refusal not-allowed | not-found | conflict */
export async function takeBackOrdered(actor: Actor, orderId: string, now: Date): Promise<void> {
  await changeState(actor, orderId, { from: "ORDERED", to: "DRAFT" }, now, () => ({
    orderedAt: null,
    expectedOn: null,
  }));
}

/** Cancels a draft, or an order of which nothing has come. @throws Refusal not-allowed | not-found | conflict */
export async function cancelOrder(actor: Actor, orderId: string, now: Date): Promise<void> {
  await changeState(actor, orderId, { from: ["DRAFT", "ORDERED"], to: "CANCELLED" }, now, () => ({
    closedAt: now,
  }));
}

/** Makes a cancelled list a draft again. @throws Refusal not-allowed | not-found | conflict beside a newer draft */
export async function reopenCancelled(actor: Actor, orderId: string, now: Date): Promise<void> {
  await changeState(actor, orderId, { from: "CANCELLED", to: "DRAFT" }, now, () => ({
    orderedAt: null,
    expectedOn: null,
    closedAt: null,
  }));
}

/** Writes down that the rest will not come. @throws Refusal not-allowed | not-found | conflict where nothing has come */
export async function closeOrder(actor: Actor, orderId: string, now: Date): Promise<void> {
  await changeState(actor, orderId, { from: "ORDERED", to: "RECEIVED" }, now, (order) => {
    if (order.lines.every(({ received }) => received === 0)) {
      throw new Refusal("conflict", "Nothing of this order has come. Cancel it instead.");
    }
    return { closedAt: now };
  });
}

type Change = Omit<Parameters<typeof updatePurchaseOrder>[2], "state">;
type Step = {
  readonly from: PurchaseState | readonly PurchaseState[];
  readonly to: PurchaseState;
};

async function changeState(
  actor: Actor,
  orderId: string,
  { from, to }: Step,
  now: Date,
  change: (order: PurchaseOrderRow) => Change,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    const order = await lockedOrder(db, orderId);
    const allowed = [from].flat();
    requireState(order, allowed.find((state) => state === order.state) ?? allowed[0] ?? to);
    await updatePurchaseOrder(db, orderId, { state: to, ...change(order) });
    await audit(db, actor, now, `purchase.${to.toLowerCase()}`, order, {});
  });
}

/** What came of one line. */
export type Arrival = {
  readonly lineId: string;
  /** in the item's unit, above 0; more than was ordered is taken as it is */
  readonly quantity: number;
  /** of all that came; null takes its share of the price expected */
  readonly costMinor: number | null;
  /** last good day, as midnight UTC */
  readonly expiresOn: Date | null;
  readonly place: string;
  /** what had come before, as the form showed it */
  readonly receivedBefore: number;
};

export type Arrivals = {
  readonly orderId: string;
  readonly receivedAt: Date;
  readonly arrivals: readonly Arrival[];
  /** one a form: a repeat changes nothing */
  readonly idempotencyKey: string;
};

/**
 * Takes what came of an order into stock, a lot a line, in one transaction. An order of which all has come is closed.
 *
 * The lock on the order lines up everybody who receives it. A repeat under the same key finds its lots; somebody else's
 * form, which shows less received than there is by now, is refused, so that one van is never taken in twice.
 *
 * @returns whether the order is closed by it
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function receiveOrder(actor: Actor, given: Arrivals, now: Date): Promise<boolean> {
  requirePermission(actor, "keep-stock");
  if (given.arrivals.length === 0) {
    throw new Refusal("invalid", "Enter how much came of at least one line.");
  }
  return inTransaction(async (db) => {
    const order = await lockedOrder(db, given.orderId);
    if (await isRepeat(db, given)) return order.state === "RECEIVED";
    requireState(order, "ORDERED");
    if (order.orderedAt && given.receivedAt < order.orderedAt) {
      throw new Refusal("invalid", "It cannot have come before it was ordered.", {
        receivedAt: "Choose a time after the order.",
      });
    }
    // In one order of items, so that two orders that share items cannot wait for each other.
    const pairs = given.arrivals
      .map((arrival) => ({ arrival, line: lineFor(order, arrival) }))
      .sort((a, b) => (a.line.itemId < b.line.itemId ? -1 : 1));
    for (const { arrival, line } of pairs) {
      await receiveLotIn(db, actor, deliveryOf(order, line, arrival, given), now);
    }
    return closeIfWhole(db, actor, given.orderId, now);
  });
}

const keyOf = (key: string, lineId: string): string => `${key}/${lineId}`;

/** Whether the same form was taken in before: its first line then has its lot. */
async function isRepeat(db: Db, { arrivals, idempotencyKey }: Arrivals): Promise<boolean> {
  const [first] = arrivals;
  if (!first) return false;
  return (await lotReceivedUnderKey(db, keyOf(idempotencyKey, first.lineId))) !== null;
}

function lineFor(order: PurchaseOrderRow, arrival: Arrival): PurchaseLineRow {
  const line = order.lines.find(({ id }) => id === arrival.lineId);
  if (!line) throw new Refusal("not-found", "This line is not on the order.");
  if (roundQuantity(line.received) !== roundQuantity(arrival.receivedBefore)) {
    throw new Refusal(
      "conflict",
      `Somebody else took in ${line.itemName} of this order a moment ago. Open it again to see what is still to come.`,
    );
  }
  return line;
}

function deliveryOf(
  order: PurchaseOrderRow,
  line: PurchaseLineRow,
  arrival: Arrival,
  { receivedAt, idempotencyKey }: Arrivals,
) {
  return {
    itemId: line.itemId,
    quantity: arrival.quantity,
    costMinor: arrival.costMinor ?? shareOfPrice(line, arrival.quantity),
    receivedAt,
    supplierName: order.supplierName,
    expiresOn: arrival.expiresOn,
    place: arrival.place || line.place,
    purchaseLineId: line.id,
    idempotencyKey: keyOf(idempotencyKey, line.id),
  };
}

function shareOfPrice(line: PurchaseLineRow, quantity: number): number {
  if (line.expectedMinor === null) {
    throw new Refusal("invalid", `Enter what ${line.itemName} cost: no price was expected.`, {
      [`cost-${line.id}`]: "Enter what it cost, 0 or more.",
    });
  }
  return Math.round((line.expectedMinor * quantity) / line.quantity);
}

async function closeIfWhole(db: Db, actor: Actor, orderId: string, now: Date): Promise<boolean> {
  const order = await lockedOrder(db, orderId);
  const whole = order.lines.every(({ received, quantity }) => received >= quantity);
  if (whole) await updatePurchaseOrder(db, orderId, { state: "RECEIVED", closedAt: now });
  await audit(db, actor, now, "purchase.came", order, { whole });
  return whole;
}
