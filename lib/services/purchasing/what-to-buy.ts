import { type Actor, may, requirePermission } from "@/lib/access";
import { listPurchaseOrders, type PurchaseOrderRow, reading } from "@/lib/data";
import { type ItemOrdering, nameKey, orderingOfAll } from "./levels";

/** What is to be bought from one supplier. */
export type SupplierNeeds = {
  /** as the first of its items spells it; empty where the item names none */
  readonly supplierName: string;
  readonly needs: readonly ItemOrdering[];
  /** the supplier's draft, if there is one: what is listed goes on it */
  readonly draftNumber: number | null;
};

export type OrdersView = {
  /** what no list holds yet, by supplier */
  readonly toBuy: readonly SupplierNeeds[];
  readonly drafts: readonly PurchaseOrderRow[];
  readonly open: readonly PurchaseOrderRow[];
  readonly seesMoney: boolean;
};

/** More open lists than anybody keeps; the rest is under what was ordered before. */
const MOST_OPEN = 200;

/**
 * What to buy now, and what is on its way. What stands on a draft is not asked for again.
 *
 * @throws Refusal not-allowed
 */
export async function whatToBuy(actor: Actor, now: Date): Promise<OrdersView> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const [items, live] = await Promise.all([
      orderingOfAll(db, now),
      listPurchaseOrders(db, { states: ["DRAFT", "ORDERED"] }, { skip: 0, take: MOST_OPEN }),
    ]);
    const orders = live.orders.map((order) => withoutMoney(actor, order));
    const drafts = orders.filter(({ state }) => state === "DRAFT");
    return {
      toBuy: bySupplierName(items.filter(isNeeded), drafts),
      drafts,
      open: orders.filter(({ state }) => state === "ORDERED"),
      seesMoney: may(actor, "see-money"),
    };
  });
}

/** How much there is to buy, for a link. @throws Refusal not-allowed */
export async function buyingCount(
  actor: Actor,
  now: Date,
): Promise<{ readonly items: number; readonly suppliers: number }> {
  const { toBuy } = await whatToBuy(actor, now);
  return {
    items: toBuy.reduce((sum, { needs }) => sum + needs.length, 0),
    suppliers: toBuy.length,
  };
}

/** Due, and on no draft. */
export const isNeeded = ({ advice, open }: ItemOrdering): boolean =>
  advice.reason !== null && open.every(({ state }) => state !== "DRAFT");

/** The list as this person may see it. */
export function withoutMoney(actor: Actor, order: PurchaseOrderRow): PurchaseOrderRow {
  if (may(actor, "see-money")) return order;
  return { ...order, lines: order.lines.map((line) => ({ ...line, expectedMinor: null })) };
}

function bySupplierName(
  needed: readonly ItemOrdering[],
  drafts: readonly PurchaseOrderRow[],
): readonly SupplierNeeds[] {
  const groups = new Map<string, ItemOrdering[]>();
  for (const need of needed) {
    const key = nameKey(need.item.supplierName);
    groups.set(key, [...(groups.get(key) ?? []), need]);
  }
  return [...groups]
    .sort(([a], [b]) => a.localeCompare(b))
    .map(([key, needs]) => ({
      supplierName: needs[0]?.item.supplierName.trim() ?? "",
      needs,
      draftNumber: drafts.find((draft) => nameKey(draft.supplierName) === key)?.number ?? null,
    }));
}
