/** Lists to buy: drafts, what is ordered, and what came for which line. */
import type { Db } from "./client";
import type { Prisma, PurchaseState, StockUnit } from "./generated/client";
import { sameName } from "./same-name";

export type { PurchaseState };

/** One item of a list. */
export type PurchaseLineRow = {
  readonly id: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly unit: StockUnit;
  /** asks for a last good day when it comes */
  readonly perishable: boolean;
  /** in the item's unit */
  readonly quantity: number;
  readonly packQuantity: number | null;
  /** for all of the line */
  readonly expectedMinor: number | null;
  /** what came in its lots, as the ledger received it */
  readonly received: number;
  readonly place: string;
};

export type PurchaseOrderRow = {
  readonly id: string;
  readonly number: number;
  readonly supplierName: string;
  readonly state: PurchaseState;
  readonly createdAt: Date;
  readonly createdBy: string;
  readonly orderedAt: Date | null;
  /** as midnight UTC */
  readonly expectedOn: Date | null;
  readonly closedAt: Date | null;
  readonly note: string;
  readonly lines: readonly PurchaseLineRow[];
};

export type NewPurchaseLine = {
  readonly itemId: string;
  readonly quantity: number;
  readonly packQuantity: number | null;
  readonly expectedMinor: number | null;
};

const WHOLE = {
  createdBy: { select: { name: true } },
  lines: {
    orderBy: [{ item: { name: "asc" } }],
    include: {
      item: true,
      lots: { select: { entries: { where: { kind: "RECEIVED" }, select: { quantity: true } } } },
    },
  },
} as const satisfies Prisma.PurchaseOrderInclude;

type WholeOrder = Prisma.PurchaseOrderGetPayload<{ include: typeof WHOLE }>;

function asOrder({ createdBy, createdById: _by, lines, ...order }: WholeOrder): PurchaseOrderRow {
  return { ...order, createdBy: createdBy.name, lines: lines.map(asLine) };
}

function asLine({ item, lots, ...line }: WholeOrder["lines"][number]): PurchaseLineRow {
  return {
    id: line.id,
    itemId: line.itemId,
    itemName: item.name,
    unit: item.unit,
    perishable: item.kind === "EPOXY",
    quantity: line.quantity.toNumber(),
    packQuantity: line.packQuantity?.toNumber() ?? null,
    expectedMinor: line.expectedMinor,
    received: total(lots.flatMap(({ entries }) => entries.map(({ quantity }) => quantity))),
    place: item.place,
  };
}

/** Added up in whole thousandths, which is exact. */
const total = (quantities: readonly Prisma.Decimal[]): number =>
  quantities.reduce((sum, each) => sum + Math.round(1000 * each.toNumber()), 0) / 1000;

export async function findPurchaseOrder(db: Db, id: string): Promise<PurchaseOrderRow | null> {
  const order = await db.purchaseOrder.findUnique({ where: { id }, include: WHOLE });
  return order && asOrder(order);
}

/**
 * The list, locked to the end of the transaction: whoever changes, orders, cancels or receives it lines up here, and
 * reads what the one before left.
 */
export async function lockPurchaseOrder(db: Db, id: string): Promise<PurchaseOrderRow | null> {
  await db.$queryRaw`SELECT "id" FROM "purchase_order" WHERE "id" = ${id}::uuid FOR UPDATE`;
  return findPurchaseOrder(db, id);
}

/** The draft of a supplier, whatever the case of its name; locked to the end of the transaction. */
export async function lockDraftOf(db: Db, supplierName: string): Promise<PurchaseOrderRow | null> {
  const [found] = await db.$queryRaw<{ id: string }[]>`
    SELECT "id" FROM "purchase_order"
     WHERE "state" = 'DRAFT' AND lower("supplier_name") = lower(${supplierName}) FOR UPDATE`;
  return found ? findPurchaseOrder(db, found.id) : null;
}

/**
 * Lines up everybody who begins a list for one supplier, to the end of the transaction: the second then finds the
 * first's draft, instead of being refused by `purchase_order_one_draft`.
 */
export async function lockSupplierName(db: Db, supplierName: string): Promise<void> {
  await db.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('purchase:' || lower(${supplierName})))`;
}

export type PurchaseFilter = {
  readonly states: readonly PurchaseState[];
  readonly supplierName?: string;
};

/** Lists, the newest first. */
export async function listPurchaseOrders(
  db: Db,
  { states, supplierName }: PurchaseFilter,
  { skip, take }: { readonly skip: number; readonly take: number },
): Promise<{ readonly orders: readonly PurchaseOrderRow[]; readonly total: number }> {
  const where: Prisma.PurchaseOrderWhereInput = {
    state: { in: [...states] },
    ...(supplierName === undefined ? {} : { supplierName: sameName(supplierName) }),
  };
  const [total, orders] = await Promise.all([
    db.purchaseOrder.count({ where }),
    db.purchaseOrder.findMany({ where, skip, take, orderBy: { number: "desc" }, include: WHOLE }),
  ]);
  return { orders: orders.map(asOrder), total };
}

/** A new draft, empty. @returns its id */
export async function insertPurchaseOrder(
  db: Db,
  order: {
    readonly number: number;
    readonly supplierName: string;
    readonly createdAt: Date;
    readonly createdById: string;
  },
): Promise<string> {
  const row = await db.purchaseOrder.create({ data: order, select: { id: true } });
  return row.id;
}

/** @throws a refusal of the database where the step is none (`purchase_order_steps`) */
export async function updatePurchaseOrder(
  db: Db,
  id: string,
  change: {
    readonly state?: PurchaseState;
    readonly orderedAt?: Date | null;
    readonly expectedOn?: Date | null;
    readonly closedAt?: Date | null;
    readonly note?: string;
  },
): Promise<void> {
  await db.purchaseOrder.update({ where: { id }, data: change });
}

export async function insertPurchaseLines(
  db: Db,
  orderId: string,
  lines: readonly NewPurchaseLine[],
): Promise<void> {
  await db.purchaseLine.createMany({ data: lines.map((line) => ({ ...line, orderId })) });
}

export async function updatePurchaseLine(
  db: Db,
  lineId: string,
  change: { readonly quantity: number; readonly expectedMinor?: number | null },
): Promise<void> {
  await db.purchaseLine.update({ where: { id: lineId }, data: change });
}

export async function deletePurchaseLine(db: Db, lineId: string): Promise<void> {
  await db.purchaseLine.delete({ where: { id: lineId } });
}

/** An item on a list that is not done: how much is still to come, or to be ordered. */
export type OpenLine = {
  readonly itemId: string;
  readonly orderId: string;
  readonly number: number;
  readonly state: PurchaseState;
  readonly expectedOn: Date | null;
  /** in the item's unit, 0 or more */
  readonly missing: number;
};

/** Lines of drafts and open orders, the oldest list first. */
export async function openPurchaseLines(db: Db): Promise<readonly OpenLine[]> {
  return db.$queryRaw<OpenLine[]>`
    SELECT p."item_id" AS "itemId", o."id" AS "orderId", o."number", o."state"::text AS "state",
           o."expected_on" AS "expectedOn",
           GREATEST(0, p."quantity" - COALESCE((SELECT SUM(e."quantity")
             FROM "lot" l JOIN "ledger_entry" e ON e."lot_id" = l."id" AND e."kind" = 'RECEIVED'
            WHERE l."purchase_line_id" = p."id"), 0))::float8 AS "missing"
      FROM "purchase_line" p JOIN "purchase_order" o ON o."id" = p."order_id"
     WHERE o."state" IN ('DRAFT', 'ORDERED') ORDER BY o."number"`;
}

/** How many orders of each supplier are on their way, by its name in lower case. */
export async function openOrdersBySupplier(
  db: Db,
): Promise<readonly { readonly name: string; readonly orders: number }[]> {
  return db.$queryRaw<{ name: string; orders: number }[]>`
    SELECT lower(btrim("supplier_name")) AS "name", COUNT(*)::int AS "orders"
      FROM "purchase_order" WHERE "state" = 'ORDERED' GROUP BY 1`;
}
