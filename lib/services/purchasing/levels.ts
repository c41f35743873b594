import {
  deliveredLines,
  type DeliveredLine,
  type Db,
  type HeldLotRow,
  heldLots,
  type ItemRow,
  type LastLot,
  lastLots,
  ledgerDays,
  listItems,
  listSuppliers,
  openPurchaseLines,
  type OpenLine,
  policiesOf,
  type PolicyRow,
  type SupplierRow,
} from "@/lib/data";
import {
  dailyUse,
  type DailyUse,
  type DatedEntry,
  daysThatSpeak,
  type Demand,
  demandOf,
  type EconomicOrder,
  type LeadTime,
  learnLeadTime,
  type OrderAdvice,
  orderAdvice,
  roundQuantity,
} from "@/lib/stock";
import type { Worked } from "@/lib/units";
import { addDays, calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { economicOf, workedPointOf } from "./levels-worked";

const DAY_MS = 86_400_000;
/** How far back use is looked at, and how far back deliveries are, days. */
const USE_DAYS = 365;
const DELIVERY_DAYS = 3 * 365;
/** Days that must be known before a reorder point is worked out. */
const LEAST_DAYS = 28;

/** One item as it is ordered: how it is used, how long it takes to come, and what follows. */
export type ItemOrdering = {
  readonly item: ItemRow;
  readonly policy: PolicyRow;
  readonly use: DailyUse;
  readonly demand: Demand;
  readonly lead: LeadTime;
  /** null where too little is known: the one set by hand then holds, whatever the policy says */
  readonly workedPoint: Worked | null;
  /** the one that holds */
  readonly reorderPoint: number;
  /** null where what an order and keeping cost are not both said, or nothing is used */
  readonly economic: EconomicOrder | null;
  readonly onHand: number;
  readonly onOrder: number;
  /** lists that it is on: drafts and open orders */
  readonly open: readonly OpenLine[];
  readonly advice: OrderAdvice;
  /** of one unit, minor units, by the last delivery; null where none came or the shop got it for nothing */
  readonly unitMinor: number | null;
};

/** Names are matched so. */
export const nameKey = (name: string): string => name.trim().toLowerCase();

/** By hand, with nothing said: what an item without a policy has. */
const noPolicy = (itemId: string): PolicyRow => ({
  itemId,
  mode: "BY_HAND",
  serviceLevel: 0.95,
  holdingPercent: null,
  holdingMinor: null,
  orderCostMinor: null,
});

type Sources = {
  readonly now: Date;
  /** the shop's day, as midnight UTC, and as days since 1970 */
  readonly today: Date;
  readonly dayNumber: number;
  readonly timeZone: string;
  readonly policies: ReadonlyMap<string, PolicyRow>;
  readonly suppliers: ReadonlyMap<string, SupplierRow>;
  readonly deliveries: ReadonlyMap<string, readonly DeliveredLine[]>;
  readonly ledgers: ReadonlyMap<string, readonly DatedEntry[]>;
  readonly lots: ReadonlyMap<string, readonly HeldLotRow[]>;
  readonly last: ReadonlyMap<string, LastLot>;
  readonly open: readonly OpenLine[];
};

async function readSources(db: Db, items: readonly ItemRow[], now: Date): Promise<Sources> {
  const { timeZone } = await requireShop(db);
  const today = calendarDay(now, timeZone);
  const itemIds = items.map(({ id }) => id);
  const [policies, suppliers, deliveries, ledgers, lots, last, open] = await Promise.all([
    policiesOf(db),
    listSuppliers(db),
    deliveredLines(db, addDays(now, -DELIVERY_DAYS)),
    ledgerDays(db, itemIds, timeZone),
    heldLots(db),
    lastLots(db),
    openPurchaseLines(db),
  ]);
  return {
    now,
    today,
    dayNumber: today.getTime() / DAY_MS,
    timeZone,
    policies,
    suppliers: new Map(suppliers.map((row) => [nameKey(row.name), row])),
    deliveries: bySupplier(deliveries),
    ledgers,
    lots,
    last,
    open,
  };
}

/** Deliveries by their supplier's name, whatever its case. */
export function bySupplier(
  deliveries: readonly DeliveredLine[],
): ReadonlyMap<string, readonly DeliveredLine[]> {
  const found = new Map<string, DeliveredLine[]>();
  for (const line of deliveries) {
    const key = nameKey(line.supplierName);
    found.set(key, [...(found.get(key) ?? []), line]);
  }
  return found;
}

/** Every item in use as it is ordered, by name. */
export async function orderingOfAll(db: Db, now: Date): Promise<readonly ItemOrdering[]> {
  const items = await listItems(db);
  const sources = await readSources(db, items, now);
  return items.map((item) => orderingOf(item, sources));
}

/** One item as it is ordered. */
export async function orderingOfItem(db: Db, item: ItemRow, now: Date): Promise<ItemOrdering> {
  return orderingOf(item, await readSources(db, [item], now));
}

/** Reorder points that hold instead of those set by hand, by item: of all that are worked out, or of one. */
export async function workedPoints(
  db: Db,
  now: Date,
  itemId?: string,
): Promise<ReadonlyMap<string, number>> {
  const policies = await policiesOf(db, {
    mode: "WORKED_OUT",
    ...(itemId === undefined ? {} : { itemId }),
  });
  if (policies.size === 0) return new Map();
  const items = (await listItems(db, { withRetired: true })).filter(({ id }) => policies.has(id));
  const sources = await readSources(db, items, now);
  return new Map(items.map((item) => [item.id, orderingOf(item, sources).reorderPoint]));
}

function orderingOf(item: ItemRow, sources: Sources): ItemOrdering {
  const policy = sources.policies.get(item.id) ?? noPolicy(item.id);
  const supplier = sources.suppliers.get(nameKey(item.supplierName));
  const use = useOf(item, sources);
  const demand = demandOf(use);
  const lead = learnLeadTime(
    supplier?.leadDays ?? null,
    daysThatSpeak(sources.deliveries.get(nameKey(item.supplierName)) ?? [], item.id),
  );
  const workedPoint = demand.days < LEAST_DAYS ? null : workedPointOf(item, policy, use, lead);
  const last = sources.last.get(item.id);
  const unitMinor = last && last.costMinor > 0 ? last.costMinor / last.quantity : null;
  const economic = economicOf(item, { policy, supplier, demand, unitMinor, last });
  const { holds, usual } = whatHolds(item, policy, workedPoint, economic);
  const open = sources.open.filter((line) => line.itemId === item.id);
  const onOrder = sumMissing(open.filter(({ state }) => state === "ORDERED"));
  const lots = sources.lots.get(item.id) ?? [];
  return {
    item,
    policy,
    use,
    demand,
    lead,
    workedPoint,
    reorderPoint: holds,
    economic,
    onHand: roundQuantity(lots.reduce((sum, lot) => sum + lot.onHand, 0)),
    onOrder,
    open,
    unitMinor,
    advice: orderAdvice({
      unit: item.unit,
      lots,
      onOrder,
      perDay: demand.perDay,
      reorderPoint: holds,
      usualQuantity: usual,
      pack: item.packQuantity,
      leadDays: lead.days,
      today: sources.today,
    }),
  };
}

/** Reorder point and usual quantity by the policy; by hand wherever nothing could be worked out. */
function whatHolds(
  item: ItemRow,
  { mode }: PolicyRow,
  point: Worked | null,
  economic: EconomicOrder | null,
): { readonly holds: number; readonly usual: number } {
  if (mode === "BY_HAND") return { holds: item.reorderPoint, usual: item.reorderQuantity };
  return {
    holds: roundQuantity(point?.value ?? item.reorderPoint),
    usual: economic?.quantity ?? item.reorderQuantity,
  };
}

const sumMissing = (lines: readonly OpenLine[]): number =>
  roundQuantity(lines.reduce((sum, { missing }) => sum + missing, 0));

/** Up to yesterday: today is not over. */
function useOf(item: ItemRow, { ledgers, dayNumber, timeZone }: Sources): DailyUse {
  const entries = ledgers.get(item.id) ?? [];
  const added = calendarDay(item.createdAt, timeZone).getTime() / DAY_MS;
  return dailyUse(entries, {
    firstDay: Math.min(added, entries[0]?.day ?? added),
    lastDay: dayNumber - 1,
    mostDays: USE_DAYS,
  });
}
