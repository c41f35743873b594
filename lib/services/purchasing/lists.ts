import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type Db,
  deletePurchaseLine,
  findItem,
  insertPurchaseLines,
  insertPurchaseOrder,
  inTransaction,
  type LastLot,
  lastLots,
  lockDraftOf,
  lockPurchaseOrder,
  lockSupplierName,
  nextNumber,
  type NewPurchaseLine,
  type PurchaseLineRow,
  type PurchaseOrderRow,
  recordAudit,
  updatePurchaseLine,
  updatePurchaseOrder,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { roundQuantity, wholePacks } from "@/lib/stock";
import { nameKey } from "./levels";

/** An item to put on a list, and how much of it. */
export type Wanted = {
  readonly itemId: string;
  /** in the item's unit, above 0; rounded up to whole packs */
  readonly quantity: number;
};

export type Listed = {
  readonly orderId: string;
  readonly number: number;
  /** items that stood on the supplier's draft before and were left as they are */
  readonly already: number;
};

/**
 * Puts items on the draft of one supplier, and begins it where there is none. Who presses twice, or at the same moment
 * as somebody else, finds the first one's draft: what is on it stays as it is.
 *
 * @param supplierName as the items name it; a list without a name is for whom the buyer knows
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function listToBuy(
  actor: Actor,
  supplierName: string,
  wanted: readonly Wanted[],
  now: Date,
): Promise<Listed> {
  requirePermission(actor, "keep-stock");
  requireSome(wanted);
  return inTransaction(async (db) =>
    putOnDraft(db, actor, supplierName.trim(), await linesFor(db, wanted), now),
  );
}

/**
 * The same for items of any suppliers: each goes on the draft of its own, all in one transaction.
 *
 * @returns a list a supplier, by name
 * @throws Refusal not-allowed | not-found | invalid
 */
export async function listBySupplier(
  actor: Actor,
  wanted: readonly Wanted[],
  now: Date,
): Promise<readonly Listed[]> {
  requirePermission(actor, "keep-stock");
  requireSome(wanted);
  return inTransaction(async (db) => {
    const groups = new Map<string, { name: string; lines: ListedLine[] }>();
    for (const line of await linesFor(db, wanted)) {
      const name = line.supplierName.trim();
      const group = groups.get(nameKey(name)) ?? { name, lines: [] };
      group.lines.push(line);
      groups.set(nameKey(name), group);
    }
    const listed: Listed[] = [];
    // In one order of names, so that two who list at once cannot wait for each other.
    for (const [, { name, lines }] of [...groups].sort(([a], [b]) => (a < b ? -1 : 1))) {
      listed.push(await putOnDraft(db, actor, name, lines, now));
    }
    return listed;
  });
}

function requireSome(wanted: readonly Wanted[]): void {
  if (wanted.length === 0) throw new Refusal("invalid", "Choose at least one item.");
}

async function putOnDraft(
  db: Db,
  actor: Actor,
  supplierName: string,
  lines: readonly ListedLine[],
  now: Date,
): Promise<Listed> {
  await lockSupplierName(db, supplierName);
  const draft =
    (await lockDraftOf(db, supplierName)) ?? (await beginDraft(db, actor, supplierName, now));
  const listed = new Set(draft.lines.map(({ itemId }) => itemId));
  const fresh = lines.filter(({ itemId }) => !listed.has(itemId));
  await insertPurchaseLines(
    db,
    draft.id,
    fresh.map(({ supplierName: _own, ...line }) => line),
  );
  await audit(db, actor, now, "purchase.listed", draft, { items: fresh.length });
  return { orderId: draft.id, number: draft.number, already: lines.length - fresh.length };
}

async function beginDraft(
  db: Db,
  actor: Actor,
  supplierName: string,
  now: Date,
): Promise<PurchaseOrderRow> {
  const number = await nextNumber(db, "purchase");
  const id = await insertPurchaseOrder(db, {
    number,
    supplierName,
    createdAt: now,
    createdById: actor.personId,
  });
  return lockedOrder(db, id);
}

/** A line with its item's supplier. */
type ListedLine = NewPurchaseLine & { readonly supplierName: string };

async function linesFor(db: Db, wanted: readonly Wanted[]): Promise<readonly ListedLine[]> {
  const last = await lastLots(db);
  const lines = new Map<string, ListedLine>();
  for (const { itemId, quantity: asked } of wanted) {
    const item = await findItem(db, itemId);
    if (!item) throw new Refusal("not-found", "An item of this list is not in the stock list.");
    if (lines.has(itemId)) throw new Refusal("invalid", `${item.name} is chosen twice.`);
    const { packQuantity } = item;
    const quantity = amountOf(asked, packQuantity, item.name);
    lines.set(itemId, {
      itemId,
      supplierName: item.supplierName,
      quantity,
      packQuantity,
      expectedMinor: priceOf(last.get(itemId), quantity),
    });
  }
  return [...lines.values()];
}

/** By the last delivery; null where none came. */
function priceOf(last: LastLot | undefined, quantity: number): number | null {
  return last && last.costMinor > 0
    ? Math.round((last.costMinor / last.quantity) * quantity)
    : null;
}

/** The most that a column of three decimals holds with room to spare. */
const MOST = 1_000_000_000;

function amountOf(wanted: number, pack: number | null, name: string): number {
  if (!(wanted > 0 && wanted <= MOST) || roundQuantity(wanted) === 0) {
    throw new Refusal("invalid", `Say how much ${name} to buy, more than 0.`);
  }
  return wholePacks(roundQuantity(wanted), pack);
}

export type LineChange = {
  readonly orderId: string;
  readonly lineId: string;
  /** in the item's unit; 0 takes the item off the list */
  readonly quantity: number;
  /** for all of it; undefined leaves it, or moves it with the quantity */
  readonly expectedMinor?: number | null | undefined;
};

/**
 * Changes one line of a draft, or takes it off.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict once the list is ordered
 */
export async function changeLine(actor: Actor, change: LineChange, now: Date): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    const order = await lockedOrder(db, change.orderId);
    requireState(order, "DRAFT");
    const line = order.lines.find(({ id }) => id === change.lineId);
    if (!line) throw new Refusal("not-found", "This line is not on the list any more.");
    if (change.quantity === 0) {
      await deletePurchaseLine(db, line.id);
    } else {
      const quantity = amountOf(change.quantity, line.packQuantity, line.itemName);
      await updatePurchaseLine(db, line.id, {
        quantity,
        expectedMinor: expectedFor(actor, line, quantity, change.expectedMinor),
      });
    }
    const detail = { item: line.itemName, quantity: change.quantity };
    await audit(db, actor, now, "purchase.line-changed", order, detail);
  });
}

/**
 * What was typed by somebody who may see prices; else the price moves with the quantity. So does one that a form sends
 * back as it was.
 */
function expectedFor(
  actor: Actor,
  line: PurchaseLineRow,
  quantity: number,
  typed: number | null | undefined,
): number | null {
  const isNew = typed !== undefined && typed !== line.expectedMinor;
  if (isNew && may(actor, "see-money")) return typed;
  if (line.expectedMinor === null) return null;
  return Math.round((line.expectedMinor * quantity) / line.quantity);
}

/** A remark for the supplier, printed on the list. @throws Refusal not-allowed | not-found */
export async function noteOnList(
  actor: Actor,
  orderId: string,
  note: string,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    const order = await lockedOrder(db, orderId);
    await updatePurchaseOrder(db, orderId, { note });
    await audit(db, actor, now, "purchase.noted", order, {});
  });
}

/** The list, locked to the end of the transaction. @throws Refusal not-found */
export async function lockedOrder(db: Db, orderId: string): Promise<PurchaseOrderRow> {
  return asFound(await lockPurchaseOrder(db, orderId));
}

function asFound(order: PurchaseOrderRow | null): PurchaseOrderRow {
  if (!order) throw new Refusal("not-found", "There is no such order.");
  return order;
}

const STATE_WORDS = {
  DRAFT: "not ordered yet",
  ORDERED: "ordered",
  RECEIVED: "closed: what came is in stock",
  CANCELLED: "cancelled",
} as const;

/** @throws Refusal conflict, saying in what state it is */
export function requireState(order: PurchaseOrderRow, state: PurchaseOrderRow["state"]): void {
  if (order.state === state) return;
  throw new Refusal(
    "conflict",
    `Order ${order.number} is ${STATE_WORDS[order.state]}. Open it again to see how it stands.`,
  );
}

export async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  order: PurchaseOrderRow,
  detail: Readonly<Record<string, string | number | boolean | null>>,
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "purchase",
    subjectId: order.id,
    detail: { number: order.number, ...detail },
  });
}
