import { type Actor, may, requirePermission } from "@/lib/access";
import {
  type Db,
  type ItemRow,
  listItems,
  listLedger,
  listLots,
  listStockCounts,
  type LedgerLine,
  type LotRow,
  ledgerOfItem,
  reading,
  type StockLevel,
  stockLevels,
} from "@/lib/data";
import { majorUnits, money } from "@/lib/money";
import {
  averageCost,
  expiringLots,
  type StockLevelAdvice,
  stockLevelAdvice,
  type StockState,
} from "@/lib/stock";
import type { Worked } from "@/lib/units";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { workedPoints } from "../purchasing/levels";
import { requireItem } from "./items";

/** Days of use that cover is judged by. */
const USAGE_DAYS = 90;
const DAY_MS = 86_400_000;
/** How near an expiry is pointed out, days. */
const EXPIRY_DAYS = 30;

/** One item as the stock list shows it. */
export type StockItem = {
  readonly item: ItemRow;
  readonly onHand: number;
  /** the one that holds: set by hand, or worked out */
  readonly reorderPoint: number;
  readonly advice: StockLevelAdvice;
  /** null for people who may not see money */
  readonly valueMinor: number | null;
  /** days to the first expiry of something still held; negative once past; null where none is near */
  readonly expiryDays: number | null;
};

const URGENCY: Readonly<Record<StockState, number>> = { OUT: 0, LOW: 1, ENOUGH: 2 };

export type StockOverview = {
  readonly items: readonly StockItem[];
  /** value of all of it at cost, with its working; null for people who may not see money */
  readonly value: Worked | null;
};

/**
 * Every item in use: what is on hand, how long it lasts, what it is worth; what runs low first.
 *
 * @throws Refusal not-allowed
 */
export async function stockOverview(actor: Actor, now: Date): Promise<StockOverview> {
  requirePermission(actor, "see-shop");
  return reading(async (db) => {
    const [items, shop] = await Promise.all([itemsWithLevels(db, now), requireShop(db)]);
    const sorted = [...items].sort(
      (a, b) =>
        URGENCY[a.advice.state] - URGENCY[b.advice.state] || a.item.name.localeCompare(b.item.name),
    );
    if (may(actor, "see-money"))
      return { items: sorted, value: workedValue(sorted, shop.currency) };
    return { items: sorted.map((item) => ({ ...item, valueMinor: null })), value: null };
  });
}

/** Items at or under their reorder point, the emptiest first. @throws Refusal not-allowed */
export async function runningLow(actor: Actor, now: Date): Promise<readonly StockItem[]> {
  const { items } = await stockOverview(actor, now);
  return items.filter(({ advice }) => advice.state !== "ENOUGH");
}

async function itemsWithLevels(db: Db, now: Date): Promise<StockItem[]> {
  const since = new Date(now.getTime() - USAGE_DAYS * DAY_MS);
  const [items, levels, { timeZone }, points] = await Promise.all([
    listItems(db),
    stockLevels(db, since),
    requireShop(db),
    workedPoints(db, now),
  ]);
  const today = calendarDay(now, timeZone);
  return items.map((item) =>
    asStockItem(item, levels.get(item.id), now, today, points.get(item.id)),
  );
}

function asStockItem(
  item: ItemRow,
  level: StockLevel | undefined,
  now: Date,
  today: Date,
  reorderPoint = item.reorderPoint,
): StockItem {
  const onHand = level?.onHand ?? 0;
  const known = Math.max(1, (now.getTime() - item.createdAt.getTime()) / DAY_MS);
  const expiry = level?.nextExpiry;
  const [first] = expiry
    ? expiringLots([{ id: item.id, onHand, expiresOn: expiry }], today, EXPIRY_DAYS)
    : [];
  return {
    item,
    onHand,
    reorderPoint,
    advice: stockLevelAdvice({
      unit: item.unit,
      onHand,
      reorderPoint,
      reorderQuantity: item.reorderQuantity,
      used: level?.used ?? 0,
      // A new item has not been used for longer than it exists.
      periodDays: Math.min(USAGE_DAYS, known),
    }),
    valueMinor: level?.valueMinor ?? 0,
    expiryDays: first?.daysLeft ?? null,
  };
}

function workedValue(items: readonly StockItem[], currency: string): Worked {
  const total = items.reduce((sum, { valueMinor }) => sum + (valueMinor ?? 0), 0);
  const inMajor = (minor: number): number => majorUnits(money(minor, currency));
  return {
    name: "value of stock",
    value: inMajor(total),
    unit: currency,
    formula: "sum over lots of cost in less cost out, first in first out",
    inputs: items.map(({ item, valueMinor }) => ({
      name: item.name,
      value: inMajor(valueMinor ?? 0),
      unit: currency,
      standing: "entered here",
    })),
    standing: "entered here",
    source: "IAS 2 paragraph 25: first in, first out",
  };
}

/** One item with its lots and a page of its ledger. */
export type StockItemPage = StockItem & {
  /** oldest first; used-up ones too */
  readonly lots: readonly LotRow[];
  readonly ledger: { readonly lines: readonly LedgerLine[]; readonly total: number };
  /** value at moving weighted average, for comparison; null where it cannot be told, and for people who may not see money */
  readonly averageMinor: number | null;
  readonly currency: string;
  /** when it was last counted, or one of its lots was, and by whom; null where nobody has */
  readonly lastCount: { readonly at: Date; readonly by: string } | null;
};

/**
 * @param window which lines of the ledger, newest first
 * @throws Refusal not-allowed | not-found
 */
export async function stockItemPage(
  actor: Actor,
  itemId: string,
  window: { readonly skip: number; readonly take: number },
  now: Date,
): Promise<StockItemPage> {
  requirePermission(actor, "see-shop");
  const seesMoney = may(actor, "see-money");
  return reading(async (db) => {
    const item = await requireItem(db, itemId);
    const since = new Date(now.getTime() - USAGE_DAYS * DAY_MS);
    const [points, levels, lots, ledger, shop, counts] = await Promise.all([
      workedPoints(db, now, itemId),
      stockLevels(db, since),
      listLots(db, itemId),
      listLedger(db, { itemId }, window),
      requireShop(db),
      listStockCounts(db, { itemId }, { skip: 0, take: 1 }),
    ]);
    const [counted] = counts.rows;
    const today = calendarDay(now, shop.timeZone);
    const level = asStockItem(item, levels.get(itemId), now, today, points.get(itemId));
    return {
      ...level,
      valueMinor: seesMoney ? level.valueMinor : null,
      averageMinor: seesMoney ? await averageMinor(db, itemId, shop.currency) : null,
      lots,
      ledger,
      currency: shop.currency,
      lastCount: counted ? { at: counted.at, by: counted.enteredBy } : null,
    };
  });
}

/** null where the ledger's times do not line up: something is written down as used before its delivery. */
async function averageMinor(db: Db, itemId: string, currency: string): Promise<number | null> {
  try {
    return averageCost(await ledgerOfItem(db, itemId), currency).value.minor;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
