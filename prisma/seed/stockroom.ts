/** The example shop's shelves: items, deliveries over six months, and what is taken from them, first in first out. */
import type { ExampleRows } from "@/lib/data";
import { DAY } from "./calendar";
import type { Random } from "./random";

type ItemRow = ExampleRows["items"][number];

type ShelfItem = {
  readonly item: Omit<ItemRow, "id" | "createdAt">;
  /** One delivery: amount in the item's unit, its cost in minor units, and days between deliveries. */
  readonly delivery: readonly [quantity: number, costMinor: number, everyDays: number];
  readonly shelfLifeDays?: number;
};

export const ITEM_NAMES = {
  sodaAsh: "Soda ash, light",
  bakingSoda: "Baking soda",
  anodeBar: "Flat bar 25 × 5, mild steel",
  oil: "Protective oil",
  wool: "Steel wool pads",
  epoxy: "Two-part epoxy",
} as const;
export type ItemName = (typeof ITEM_NAMES)[keyof typeof ITEM_NAMES];

const SHELF: readonly ShelfItem[] = [
  {
    item: {
      name: ITEM_NAMES.sodaAsh,
      kind: "SALT",
      saltGrade: "SODA_ASH_LIGHT",
      unit: "GRAM",
      packName: "sack",
      packQuantity: 12_500,
      reorderPoint: 5000,
      reorderQuantity: 25_000,
      supplierName: "Quarry Lane Supplies",
      place: "Shelf 1",
    },
    delivery: [25_000, 4100, 75],
  },
  {
    item: {
      name: ITEM_NAMES.bakingSoda,
      kind: "SALT",
      saltGrade: "BAKING_SODA",
      unit: "GRAM",
      packName: "bag",
      packQuantity: 1000,
      reorderPoint: 1000,
      reorderQuantity: 5000,
      supplierName: "Quarry Lane Supplies",
      place: "Shelf 1",
    },
    delivery: [5000, 1650, 120],
  },
  {
    item: {
      name: ITEM_NAMES.anodeBar,
      kind: "ANODE_STEEL",
      unit: "MILLIMETRE",
      gramsPerUnit: 0.981,
      packName: "bar",
      packQuantity: 3000,
      reorderPoint: 4000,
      reorderQuantity: 12_000,
      supplierName: "Tarn Steel",
      place: "Rack by the door",
    },
    delivery: [24_000, 9600, 100],
  },
  {
    item: {
      name: ITEM_NAMES.oil,
      kind: "PROTECTION",
      unit: "MILLILITRE",
      category: "OIL",
      packName: "can",
      packQuantity: 5000,
      reorderPoint: 1000,
      reorderQuantity: 5000,
      supplierName: "Bright & Lathe",
      place: "Shelf 2",
    },
    delivery: [5000, 3900, 90],
  },
  {
    item: {
      name: ITEM_NAMES.wool,
      kind: "CONSUMABLE",
      unit: "EACH",
      category: "WOOL",
      packName: "bag",
      packQuantity: 20,
      reorderPoint: 30,
      reorderQuantity: 100,
      supplierName: "Bright & Lathe",
      place: "Shelf 2",
    },
    delivery: [100, 2200, 60],
  },
  {
    item: {
      name: ITEM_NAMES.epoxy,
      kind: "EPOXY",
      unit: "GRAM",
      reorderPoint: 200,
      reorderQuantity: 500,
      supplierName: "Tarn Steel",
      place: "Cupboard",
    },
    delivery: [500, 2900, 130],
    shelfLifeDays: 365,
  },
];

type Lot = {
  readonly id: string;
  readonly receivedAt: Date;
  readonly quantity: number;
  readonly costMinor: number;
  left: number;
  costLeft: number;
};

export type Usage = {
  readonly name: ItemName;
  readonly quantity: number;
  readonly at: Date;
  readonly note: string;
  readonly enteredById: string;
  readonly runId?: string;
  readonly jobId?: string;
  readonly tankId?: string;
};

export type Stockroom = {
  /** Takes from the oldest lots received by then; takes what there is when there is less. Gives its cost. */
  readonly use: (usage: Usage) => number;
  /** What is left of an item by delivery, oldest first. */
  readonly shelf: (name: ItemName) => {
    readonly itemId: string;
    readonly lots: readonly { readonly id: string; readonly left: number }[];
  };
};

/** Stocks the shelves from `from` up to `now` and returns what draws on them. */
export function openStockroom(
  rows: ExampleRows,
  chance: Random,
  span: { readonly from: Date; readonly now: Date; readonly ownerId: string },
): Stockroom {
  const shelves = new Map<string, { itemId: string; lots: Lot[] }>();
  for (const entry of SHELF) {
    const itemId = chance.uuid();
    rows.items.push({ ...entry.item, id: itemId, createdAt: span.from });
    shelves.set(entry.item.name, { itemId, lots: deliver(rows, chance, entry, itemId, span) });
  }
  const shelfOf = (name: ItemName) => {
    const shelf = shelves.get(name);
    if (!shelf) throw new RangeError(`the example shop does not keep “${name}”`);
    return shelf;
  };
  return {
    use: (usage) => {
      const { itemId, lots } = shelfOf(usage.name);
      return takeOldestFirst(rows, itemId, lots, usage);
    },
    shelf: shelfOf,
  };
}

function deliver(
  rows: ExampleRows,
  chance: Random,
  entry: ShelfItem,
  itemId: string,
  span: { readonly from: Date; readonly now: Date; readonly ownerId: string },
): Lot[] {
  const [quantity, costMinor, everyDays] = entry.delivery;
  const lots: Lot[] = [];
  for (let at = span.from.getTime(); at < span.now.getTime(); at += everyDays * DAY) {
    const receivedAt = new Date(at);
    const cost = Math.round(costMinor * chance.between(0.94, 1.08));
    const lot = {
      id: chance.uuid(),
      receivedAt,
      quantity,
      costMinor: cost,
      left: quantity,
      costLeft: cost,
    };
    rows.lots.push({
      id: lot.id,
      itemId,
      receivedAt,
      quantity,
      costMinor: cost,
      supplierName: entry.item.supplierName ?? "",
      place: entry.item.place ?? "",
      expiresOn: entry.shelfLifeDays ? new Date(at + entry.shelfLifeDays * DAY) : null,
    });
    rows.ledger.push({
      itemId,
      lotId: lot.id,
      at: receivedAt,
      kind: "RECEIVED",
      quantity,
      costMinor: cost,
      note: "delivery",
      enteredById: span.ownerId,
    });
    lots.push(lot);
  }
  return lots;
}

function takeOldestFirst(rows: ExampleRows, itemId: string, lots: Lot[], usage: Usage): number {
  let wanted = Math.round(usage.quantity);
  let cost = 0;
  for (const lot of lots) {
    if (wanted <= 0 || lot.receivedAt > usage.at) break;
    const taken = Math.min(wanted, lot.left);
    if (taken <= 0) continue;
    // The last of a lot carries what is left of its cost, so that the value is conserved.
    const share = taken === lot.left ? lot.costLeft : Math.round((lot.costLeft * taken) / lot.left);
    lot.left -= taken;
    lot.costLeft -= share;
    wanted -= taken;
    cost += share;
    rows.ledger.push({
      itemId,
      lotId: lot.id,
      at: usage.at,
      kind: "USED",
      quantity: -taken,
      costMinor: -share,
      note: usage.note,
      enteredById: usage.enteredById,
      runId: usage.runId ?? null,
      jobId: usage.jobId ?? null,
      tankId: usage.tankId ?? null,
    });
  }
  return cost;
}
