import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type Db,
  deliveredLines,
  type DeliveredLine,
  findSupplier,
  insertSupplier,
  inTransaction,
  listItems,
  listPurchaseOrders,
  listSuppliers,
  type ItemRow,
  type NewSupplier,
  openOrdersBySupplier,
  type PurchaseOrderRow,
  reading,
  recordAudit,
  type SupplierRow,
  updateSupplier,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { daysThatSpeak, type LeadTime, learnLeadTime } from "@/lib/stock";
import { addDays } from "../calendar";
import { bySupplier, nameKey } from "./levels";
import { withoutMoney } from "./what-to-buy";

const DELIVERY_DAYS = 3 * 365;

/** A supplier as the list shows it. */
export type SupplierLine = {
  readonly name: string;
  /** null for a name that stands on items or orders only */
  readonly supplier: SupplierRow | null;
  readonly items: readonly ItemRow[];
  readonly lead: LeadTime;
  readonly openOrders: number;
};

/**
 * Everybody who is bought from: those with a row, and those that items name.
 *
 * @throws Refusal not-allowed
 */
export async function seeSuppliers(actor: Actor, now: Date): Promise<readonly SupplierLine[]> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const [rows, items, deliveries, open] = await Promise.all([
      listSuppliers(db),
      listItems(db),
      deliveredLines(db, addDays(now, -DELIVERY_DAYS)),
      openOrdersBySupplier(db),
    ]);
    const came = bySupplier(deliveries);
    const openOf = new Map(open.map(({ name, orders }) => [name, orders]));
    return named(rows, items).map(({ key, name, supplier }) => ({
      name,
      supplier: supplier && ownMoney(actor, supplier),
      items: items.filter((item) => nameKey(item.supplierName) === key),
      lead: leadOf(supplier, came.get(key)),
      openOrders: openOf.get(key) ?? 0,
    }));
  });
}

type Named = {
  readonly key: string;
  readonly name: string;
  readonly supplier: SupplierRow | null;
};

function named(rows: readonly SupplierRow[], items: readonly ItemRow[]): readonly Named[] {
  const found = new Map<string, Named>();
  for (const supplier of rows) {
    const key = nameKey(supplier.name);
    found.set(key, { key, name: supplier.name, supplier });
  }
  for (const { supplierName } of items) {
    const key = nameKey(supplierName);
    if (key !== "" && !found.has(key)) {
      found.set(key, { key, name: supplierName.trim(), supplier: null });
    }
  }
  return [...found.values()].sort((a, b) => a.name.localeCompare(b.name));
}

const leadOf = (
  supplier: SupplierRow | null,
  deliveries: readonly DeliveredLine[] | undefined,
): LeadTime => learnLeadTime(supplier?.leadDays ?? null, daysThatSpeak(deliveries ?? [], null));

const ownMoney = (actor: Actor, supplier: SupplierRow): SupplierRow =>
  may(actor, "see-money") ? supplier : { ...supplier, orderCostMinor: null };

/** One supplier with what it is bought from it, how long it takes, and what is on its way. */
export type SupplierView = {
  readonly supplier: SupplierRow;
  readonly items: readonly ItemRow[];
  readonly lead: LeadTime;
  /** days that its deliveries took, the newest order last */
  readonly deliveries: readonly number[];
  readonly orders: readonly PurchaseOrderRow[];
  readonly ordersTotal: number;
};

/** @throws Refusal not-allowed | not-found */
export async function seeSupplier(
  actor: Actor,
  supplierId: string,
  window: { readonly skip: number; readonly take: number },
  now: Date,
): Promise<SupplierView> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const supplier = await requireSupplier(db, supplierId);
    const key = nameKey(supplier.name);
    const [items, deliveries, { orders, total }] = await Promise.all([
      listItems(db),
      deliveredLines(db, addDays(now, -DELIVERY_DAYS)),
      listPurchaseOrders(
        db,
        {
          states: ["DRAFT", "ORDERED", "RECEIVED", "CANCELLED"],
          supplierName: supplier.name,
        },
        window,
      ),
    ]);
    const own = bySupplier(deliveries).get(key);
    return {
      supplier: ownMoney(actor, supplier),
      items: items.filter((item) => nameKey(item.supplierName) === key),
      lead: leadOf(supplier, own),
      deliveries: daysThatSpeak(own ?? [], null),
      orders: orders.map((order) => withoutMoney(actor, order)),
      ordersTotal: total,
    };
  });
}

async function requireSupplier(db: Db, supplierId: string): Promise<SupplierRow> {
  const supplier = await findSupplier(db, supplierId);
  if (!supplier) throw new Refusal("not-found", "There is no such supplier.");
  return supplier;
}

/**
 * Adds what is known of a supplier. Items and orders that name it are its own from then on.
 *
 * @returns its id
 * @throws Refusal not-allowed | invalid | conflict (another has the name)
 */
export async function addSupplier(actor: Actor, supplier: NewSupplier, now: Date): Promise<string> {
  requirePermission(actor, "keep-stock");
  checkSupplier(supplier);
  return inTransaction(async (db) => {
    const id = await insertSupplier(db, supplier, now);
    await audit(db, actor, now, "supplier.added", { id, name: supplier.name });
    return id;
  });
}

/**
 * Changes what is known of a supplier. A changed name does not change what items and past orders say: they are matched
 * by name. Who may not see money leaves the cost of an order as it is.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function changeSupplier(
  actor: Actor,
  supplierId: string,
  supplier: NewSupplier,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  checkSupplier(supplier);
  await inTransaction(async (db) => {
    const before = await requireSupplier(db, supplierId);
    const orderCostMinor = may(actor, "see-money")
      ? supplier.orderCostMinor
      : before.orderCostMinor;
    await updateSupplier(db, supplierId, { ...supplier, orderCostMinor });
    await audit(db, actor, now, "supplier.changed", { id: supplierId, name: supplier.name });
  });
}

/** The longest lead time that is believed, days. */
const MOST_LEAD_DAYS = 730;

function checkSupplier({ name, leadDays, orderCostMinor }: NewSupplier): void {
  const fields: Record<string, string> = {};
  if (name.trim() === "" || name !== name.trim()) fields["name"] = "Give it a name.";
  if (leadDays !== null && !(leadDays >= 0 && leadDays <= MOST_LEAD_DAYS)) {
    fields["leadDays"] = `Enter 0 to ${MOST_LEAD_DAYS} days, or nothing.`;
  }
  if (orderCostMinor !== null && !(Number.isSafeInteger(orderCostMinor) && orderCostMinor >= 0)) {
    fields["orderCost"] = "Enter 0 or more, or nothing.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  { id, name }: { readonly id: string; readonly name: string },
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "supplier",
    subjectId: id,
    detail: { name },
  });
}
