/** How the example shop's shelves were filled: suppliers, the orders that its deliveries came for, and one on its way. */
import type { ExampleRows } from "@/lib/data";
import { DAY, HOUR } from "./calendar";
import type { Random } from "./random";
import { ITEM_NAMES } from "./stockroom";
import type { World } from "./world";

type LotRow = ExampleRows["lots"][number];

type ExampleSupplier = {
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly note: string;
  /** what it says, and what it takes: least and most */
  readonly saysDays: number;
  readonly takesDays: readonly [number, number];
  readonly orderCostMinor: number;
};

const SUPPLIERS: readonly ExampleSupplier[] = [
  {
    name: "Quarry Lane Supplies",
    email: "orders@quarrylane.example",
    phone: "+353 1 555 0110",
    note: "Customer 2041",
    saysDays: 4,
    takesDays: [5, 8.5],
    orderCostMinor: 900,
  },
  {
    name: "Tarn Steel",
    email: "desk@tarnsteel.example",
    phone: "+353 1 555 0127",
    note: "Cuts to length for a charge",
    saysDays: 10,
    takesDays: [8, 15],
    orderCostMinor: 1800,
  },
  {
    name: "Bright & Lathe",
    email: "hello@brightlathe.example",
    phone: "+353 1 555 0164",
    note: "",
    saysDays: 4,
    takesDays: [3, 5],
    orderCostMinor: 600,
  },
];

/** Items whose reorder point is worked out. */
const WORKED_OUT = [ITEM_NAMES.sodaAsh, ITEM_NAMES.wool] as const;

/** The order that is on its way: how much of each. */
const ON_ITS_WAY = {
  supplierName: "Bright & Lathe",
  lines: [
    { name: ITEM_NAMES.oil, quantity: 5000, expectedMinor: 3900 },
    { name: ITEM_NAMES.wool, quantity: 100, expectedMinor: 2200 },
  ],
} as const;

/** Gloves: the one thing that runs low. Of 60 pairs, two go every week. */
const GLOVES = { name: "Nitrile gloves, pairs", pairs: 60, costMinor: 2400, aWeek: 2 } as const;

function addGloves(rows: ExampleRows, chance: Random, span: Span): void {
  const { from, now, people } = span;
  const itemId = chance.uuid();
  const lotId = chance.uuid();
  const supplierName = "Bright & Lathe";
  rows.items.push({
    id: itemId,
    name: GLOVES.name,
    kind: "CONSUMABLE",
    unit: "EACH",
    reorderPoint: 20,
    reorderQuantity: 50,
    supplierName,
    place: "Shelf 2",
    createdAt: from,
  });
  const { pairs, costMinor } = GLOVES;
  rows.lots.push({
    id: lotId,
    itemId,
    receivedAt: from,
    quantity: pairs,
    costMinor,
    supplierName,
    place: "Shelf 2",
  });
  const entry = { itemId, lotId, enteredById: people.benchId };
  rows.ledger.push({
    ...entry,
    at: from,
    kind: "RECEIVED",
    quantity: pairs,
    costMinor,
    note: "delivery",
  });
  const each = costMinor / pairs;
  for (let at = from.getTime() + 7 * DAY; at < now.getTime(); at += 7 * DAY) {
    const quantity = -GLOVES.aWeek;
    rows.ledger.push({
      ...entry,
      at: new Date(at),
      kind: "USED",
      quantity,
      costMinor: quantity * each,
      note: "new gloves",
    });
  }
}

type Span = Pick<World, "now" | "from" | "people">;

/** Writes suppliers and policies, and an order for each delivery after the first, which the shop opened with. */
export function addPurchasing(
  rows: ExampleRows,
  chance: Random,
  { now, from, people }: Span,
): void {
  addGloves(rows, chance, { now, from, people });
  for (const { saysDays, takesDays: _takes, ...supplier } of SUPPLIERS) {
    rows.suppliers.push({ ...supplier, id: chance.uuid(), leadDays: saysDays, createdAt: from });
  }
  for (const name of WORKED_OUT) {
    const item = rows.items.find((row) => row.name === name);
    if (!item?.id) continue;
    rows.policies.push({ itemId: item.id, mode: "WORKED_OUT", holdingPercent: 25 });
  }
  const came = rows.lots.filter((lot) => new Date(lot.receivedAt) > from);
  const orders = [...vans(came)]
    .map(([, lots]) => ({ lots, orderedAt: orderedFor(lots, chance, from) }))
    .sort((a, b) => a.orderedAt.getTime() - b.orderedAt.getTime());
  orders.forEach(({ lots, orderedAt }, index) => {
    const [{ supplierName = "", receivedAt } = { receivedAt: now }] = lots;
    const orderId = chance.uuid();
    rows.purchaseOrders.push({
      id: orderId,
      number: index + 1,
      supplierName,
      state: "RECEIVED",
      createdAt: new Date(orderedAt.getTime() - HOUR),
      createdById: people.deskId,
      orderedAt,
      closedAt: receivedAt,
    });
    for (const lot of lots) lineFor(rows, lot, orderId, chance.uuid());
  });
  addOpenOrder(rows, chance, orders.length + 1, { now, deskId: people.deskId });
}

/** What came from one supplier at one time came in one van. */
function vans(lots: readonly LotRow[]): ReadonlyMap<string, readonly LotRow[]> {
  const found = new Map<string, LotRow[]>();
  for (const lot of lots) {
    const key = `${lot.supplierName ?? ""} ${new Date(lot.receivedAt).toISOString()}`;
    found.set(key, [...(found.get(key) ?? []), lot]);
  }
  return found;
}

function orderedFor([lot]: readonly LotRow[], chance: Random, from: Date): Date {
  const supplier = SUPPLIERS.find(({ name }) => name === lot?.supplierName);
  const [least, most] = supplier?.takesDays ?? [4, 8];
  const received = new Date(lot?.receivedAt ?? from).getTime();
  return new Date(received - chance.between(least, most) * DAY);
}

function lineFor(rows: ExampleRows, lot: LotRow, orderId: string, id: string): void {
  rows.purchaseLines.push({
    id,
    orderId,
    itemId: lot.itemId,
    quantity: lot.quantity,
    expectedMinor: lot.costMinor,
  });
  lot.purchaseLineId = id;
}

function addOpenOrder(
  rows: ExampleRows,
  chance: Random,
  number: number,
  { now, deskId }: { readonly now: Date; readonly deskId: string },
): void {
  const orderId = chance.uuid();
  const orderedAt = new Date(now.getTime() - 2 * DAY);
  rows.purchaseOrders.push({
    id: orderId,
    number,
    supplierName: ON_ITS_WAY.supplierName,
    state: "ORDERED",
    createdAt: new Date(orderedAt.getTime() - HOUR),
    createdById: deskId,
    orderedAt,
    expectedOn: new Date(`${new Date(now.getTime() + 2 * DAY).toISOString().slice(0, 10)}T00:00Z`),
    note: "Ring before you come, please.",
  });
  for (const { name, quantity, expectedMinor } of ON_ITS_WAY.lines) {
    const itemId = rows.items.find((row) => row.name === name)?.id;
    if (itemId)
      rows.purchaseLines.push({ id: chance.uuid(), orderId, itemId, quantity, expectedMinor });
  }
}
