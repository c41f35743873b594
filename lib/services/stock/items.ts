import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findItem,
  insertItem,
  inTransaction,
  type ItemKind,
  type ItemRow,
  lockItem,
  lockLots,
  type NewItem,
  recordAudit,
  setItemRetired,
  updateItem,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addQuantities, ITEM_CATEGORIES, quantityText } from "@/lib/stock";

/**
 * Adds a thing to keep in stock; it starts empty.
 *
 * @returns its id
 * @throws Refusal not-allowed | invalid | conflict (another item has the name)
 */
export async function addItem(actor: Actor, item: NewItem, now: Date): Promise<string> {
  requirePermission(actor, "keep-stock");
  checkItem(item);
  return inTransaction(async (db) => {
    const { id } = await insertItem(db, item, now);
    await audit(db, actor, now, "item.added", id, { name: item.name });
    return id;
  });
}

/**
 * Changes what is said about an item. Its unit cannot change: everything in the ledger is counted in it.
 *
 * @throws Refusal not-allowed | not-found | invalid | conflict
 */
export async function changeItem(
  actor: Actor,
  itemId: string,
  item: Omit<NewItem, "unit">,
  now: Date,
): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    const { unit } = await requireItem(db, itemId);
    checkItem({ ...item, unit });
    await updateItem(db, itemId, item);
    await audit(db, actor, now, "item.changed", itemId, { name: item.name });
  });
}

/**
 * Takes an empty item off the list; its ledger stays, and it can be brought back.
 *
 * @throws Refusal not-allowed | not-found | conflict while some of it is on hand
 */
export async function retireItem(actor: Actor, itemId: string, now: Date): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    // The item's lock keeps deliveries out, the lots' locks everybody who draws or counts, until it is retired.
    const item = await lockedItem(db, itemId);
    const lots = await lockLots(db, itemId);
    const onHand = addQuantities(lots.map((lot) => lot.onHand));
    if (onHand > 0) {
      throw new Refusal(
        "conflict",
        `${quantityText(onHand, item.unit)} of ${item.name} are still on hand. Use them up, or count them to 0 first.`,
      );
    }
    await setItemRetired(db, itemId, now);
    await audit(db, actor, now, "item.retired", itemId, { name: item.name });
  });
}

/** Puts a retired item back on the list. @throws Refusal not-allowed | not-found */
export async function bringBackItem(actor: Actor, itemId: string, now: Date): Promise<void> {
  requirePermission(actor, "keep-stock");
  await inTransaction(async (db) => {
    const item = await requireItem(db, itemId);
    await setItemRetired(db, itemId, null);
    await audit(db, actor, now, "item.brought-back", itemId, { name: item.name });
  });
}

/** @throws Refusal not-found */
export async function requireItem(db: Db, itemId: string): Promise<ItemRow> {
  const item = await findItem(db, itemId);
  if (!item) throw new Refusal("not-found", "This item is not in the stock list.");
  return item;
}

/** The same, locked to the end of the transaction. */
export async function lockedItem(db: Db, itemId: string): Promise<ItemRow> {
  const item = await lockItem(db, itemId);
  if (!item) throw new Refusal("not-found", "This item is not in the stock list.");
  return item;
}

function checkItem(item: NewItem): void {
  const fields: Record<string, string> = {};
  if (item.name.trim() === "") fields["name"] = "Give it a name.";
  if (!(item.reorderPoint >= 0)) fields["reorderPoint"] = "Enter 0 or more.";
  if (!(item.reorderQuantity >= 0)) fields["reorderQuantity"] = "Enter 0 or more.";
  checkSalt(item, fields);
  if (item.kind === "ANODE_STEEL" && !(item.gramsPerUnit !== null && item.gramsPerUnit > 0)) {
    fields["gramsPerUnit"] = "Enter the mass of one unit, so that anodes can be weighed from it.";
  }
  if (item.category !== "" && !categoriesOf(item.kind).includes(item.category)) {
    fields["kind"] = "Choose what it is from the list.";
  }
  checkPack(item, fields);
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "Some of this does not fit together yet.", fields);
  }
}

function checkSalt({ kind, saltGrade, unit }: NewItem, fields: Record<string, string>): void {
  if (kind !== "SALT") return;
  if (!saltGrade) fields["saltGrade"] = "Say which salt it is.";
  if (unit !== "GRAM") fields["unit"] = "Salt is kept by the gram.";
}

/** What an item of this kind can be more exactly. */
function categoriesOf(kind: ItemKind): readonly string[] {
  return kind === "CONSUMABLE" || kind === "PROTECTION" ? ITEM_CATEGORIES[kind] : [];
}

function checkPack({ packName, packQuantity }: NewItem, fields: Record<string, string>): void {
  if (packName !== "" && packQuantity === null) {
    fields["packQuantity"] = "Say how much one holds, or leave both empty.";
  }
  if (packQuantity === null) return;
  if (!(packQuantity > 0)) fields["packQuantity"] = "Enter more than 0.";
  if (packName === "") fields["packName"] = "Say what it comes in, such as sack.";
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, string>>,
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "item", subjectId, detail });
}
