import { type Actor, requirePermission } from "@/lib/access";
import { type HeldLot, type ItemRow, listHeldLots, listItems, reading } from "@/lib/data";
import { addQuantities, type Pack, packOf, type StockUnit } from "@/lib/stock";

/** One thing to count: an item, or one lot of it where its lots expire and several are held. */
export type CountRow = {
  readonly itemId: string;
  readonly lotId: string | null;
  readonly name: string;
  readonly unit: StockUnit;
  readonly pack: Pack | null;
  /** what the ledger says is there, in the item's unit */
  readonly expected: number;
  /** of a single lot: when it came, and its last good day as midnight UTC */
  readonly lot: { readonly receivedAt: Date; readonly expiresOn: Date | null } | null;
};

/** What is kept in one place; empty where the shop has not said. */
export type CountPlace = { readonly place: string; readonly rows: readonly CountRow[] };

/**
 * All that was ever received, place by place as one walks along the shelves; what has no place comes last.
 *
 * @throws Refusal not-allowed
 */
export async function countSheet(actor: Actor): Promise<readonly CountPlace[]> {
  requirePermission(actor, "keep-stock");
  const [items, lots] = await reading(async (db) => Promise.all([listItems(db), listHeldLots(db)]));
  const places = new Map<string, CountRow[]>();
  for (const item of items) {
    const own = lots.filter(({ itemId }) => itemId === item.id);
    for (const { place, row } of rowsOf(item, own)) {
      places.set(place, [...(places.get(place) ?? []), row]);
    }
  }
  return [...places]
    .map(([place, rows]) => ({ place, rows }))
    .sort((a, b) => Number(a.place === "") - Number(b.place === "") || along(a.place, b.place));
}

/** "Shelf 2" before "Shelf 10". */
const along = (a: string, b: string): number =>
  a.localeCompare(b, undefined, { numeric: true, sensitivity: "base" });

function rowsOf(
  item: ItemRow,
  lots: readonly HeldLot[],
): readonly { readonly place: string; readonly row: CountRow }[] {
  const { id: itemId, name, unit, place } = item;
  const common = { itemId, name, unit, pack: packOf(item) };
  const held = lots.filter(({ onHand }) => onHand > 0);
  if (held.length > 1 && held.some(({ expiresOn }) => expiresOn !== null)) {
    return held.map(({ id, onHand, receivedAt, expiresOn, place: own }) => ({
      place: own || place,
      row: { ...common, lotId: id, expected: onHand, lot: { receivedAt, expiresOn } },
    }));
  }
  if (lots.length === 0) return []; // never delivered: a find would have no cost
  const expected = addQuantities(held.map(({ onHand }) => onHand));
  return [{ place, row: { ...common, lotId: null, expected, lot: null } }];
}
