import { type Actor, requirePermission } from "@/lib/access";
import {
  type DatedEntry,
  type ItemRow,
  ledgerBefore,
  listItems,
  lotDays,
  reading,
  writtenLater,
} from "@/lib/data";
import { csv } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { majorUnits, money } from "@/lib/money";
import { averageCost, balance, fifoLayers, type Layer, UNIT_SIGNS } from "@/lib/stock";
import type { Worked } from "@/lib/units";
import { calendarDay, dateText, endOfDay } from "../calendar";
import { requireShop } from "../open-shop";

/** A layer with the day on which its delivery came. */
export type DatedLayer = Layer & { readonly receivedAt: Date };

/** One item at the end of a day. Money is whole minor units. */
export type ValuedItem = {
  readonly item: ItemRow;
  readonly onHand: number;
  /** first in, first out by the dates of the lines */
  readonly fifoMinor: number;
  readonly layers: readonly DatedLayer[];
  /** as the lots were drawn on when each line was written: what the ledger and the costs of jobs rest on */
  readonly drawnMinor: number;
  /** at moving weighted average; null where something went out, by its date, before it came in */
  readonly averageMinor: number | null;
  /** what went out by its date before it came in */
  readonly short: number;
};

export type StockValuation = {
  /** midnight UTC */
  readonly day: Date;
  /** by name; items that had nothing are left out */
  readonly items: readonly ValuedItem[];
  readonly fifo: Worked;
  readonly drawnMinor: number;
  /** null where one of the items has none */
  readonly averageMinor: number | null;
  /** lines dated to this day or before that were written after it */
  readonly writtenLater: number;
  readonly currency: string;
};

/**
 * What was on the shelves at the end of a day of the shop, and what that was worth, worked out anew from the lines
 * dated up to then, with all that was corrected since put right.
 *
 * The valuation goes by the dates of the lines, not by when they were written. A delivery written late, dated back,
 * counts from its date, and uses of later dates draw on it though they were written before. So a day that is over can
 * still change, by what is dated back and by corrections; `writtenLater` tells how many such lines there are, and 0
 * means that the shop could have printed the same on that evening.
 *
 * @param day midnight UTC, not after today
 * @throws Refusal not-allowed | invalid
 */
export async function stockValuation(actor: Actor, day: Date, now: Date): Promise<StockValuation> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const { currency, timeZone } = await requireShop(db);
    if (day > calendarDay(now, timeZone)) {
      throw new Refusal(
        "invalid",
        "Nobody knows what will be on the shelves. Choose a day up to today.",
      );
    }
    const end = endOfDay(day, timeZone);
    const [items, entries, received, later] = await Promise.all([
      listItems(db, { withRetired: true }),
      ledgerBefore(db, end),
      lotDays(db),
      writtenLater(db, end),
    ]);
    const byItem = entriesByItem(entries);
    const valued = items
      .map((item) => valuedItem(item, byItem.get(item.id) ?? [], received, currency))
      .filter(({ onHand, drawnMinor, short }) => onHand > 0 || drawnMinor !== 0 || short > 0);
    return {
      day,
      items: valued,
      fifo: workedFifo(valued, currency),
      drawnMinor: valued.reduce((total, { drawnMinor }) => total + drawnMinor, 0),
      averageMinor: valued.reduce<number | null>(
        (total, { averageMinor }) =>
          total === null || averageMinor === null ? null : total + averageMinor,
        0,
      ),
      writtenLater: later,
      currency,
    };
  });
}

function entriesByItem(entries: readonly DatedEntry[]): ReadonlyMap<string, DatedEntry[]> {
  const byItem = new Map<string, DatedEntry[]>();
  for (const entry of entries) {
    const own = byItem.get(entry.itemId);
    if (own) own.push(entry);
    else byItem.set(entry.itemId, [entry]);
  }
  return byItem;
}

function valuedItem(
  item: ItemRow,
  entries: readonly DatedEntry[],
  received: ReadonlyMap<string, Date>,
  currency: string,
): ValuedItem {
  const { layers, onHand, valueMinor, short } = fifoLayers(entries);
  return {
    item,
    onHand,
    fifoMinor: valueMinor,
    layers: layers.map((layer) => ({
      ...layer,
      receivedAt: received.get(layer.lotId) ?? new Date(0),
    })),
    drawnMinor: balance(entries).valueMinor,
    averageMinor: short > 0 ? null : averageMinor(entries, currency),
    short,
  };
}

function averageMinor(entries: readonly DatedEntry[], currency: string): number | null {
  try {
    return averageCost(entries, currency).value.minor;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function workedFifo(items: readonly ValuedItem[], currency: string): Worked {
  const inMajor = major(currency);
  return {
    name: "value of stock",
    value: inMajor(items.reduce((total, { fifoMinor }) => total + fifoMinor, 0)),
    unit: currency,
    formula: "sum over items of the cost of the newest deliveries that make up what is on hand",
    inputs: items.map(({ item, fifoMinor }) => ({
      name: item.name,
      value: inMajor(fifoMinor),
      unit: currency,
      standing: "entered here",
    })),
    standing: "entered here",
    source: "IAS 2 paragraph 25: first in, first out",
    note: "At cost. What could be sold for less than it cost is not written down here (IAS 2 paragraph 9).",
  };
}

const major =
  (currency: string) =>
  (minor: number): number =>
    majorUnits(money(minor, currency));

/**
 * A valuation as a CSV file: a row an item, or a row a layer.
 *
 * @throws Refusal not-allowed | invalid
 */
export async function stockValuationCsv(
  actor: Actor,
  asked: { readonly day: Date; readonly of: "items" | "layers" },
  now: Date,
): Promise<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly name: string }> {
  const valuation = await stockValuation(actor, asked.day, now);
  const bytes = asked.of === "items" ? itemRows(valuation) : layerRows(valuation);
  return { bytes, name: `stock-${asked.of}-${dateText(asked.day)}.csv` };
}

function itemRows({ items, currency }: StockValuation): Uint8Array<ArrayBuffer> {
  const inMajor = major(currency);
  return csv(
    [
      "item",
      "on hand",
      "unit",
      `first in first out (${currency})`,
      `as drawn (${currency})`,
      `moving average (${currency})`,
    ],
    items.map(({ item, onHand, fifoMinor, drawnMinor, averageMinor: average }) => [
      item.name,
      onHand,
      UNIT_SIGNS[item.unit],
      inMajor(fifoMinor),
      inMajor(drawnMinor),
      average === null ? null : inMajor(average),
    ]),
  );
}

function layerRows({ items, currency }: StockValuation): Uint8Array<ArrayBuffer> {
  const inMajor = major(currency);
  return csv(
    ["item", "delivered", "left of it", "unit", `cost of what is left (${currency})`],
    items.flatMap(({ item, layers }) =>
      layers.map(({ receivedAt, quantity, costMinor }) => [
        item.name,
        receivedAt,
        quantity,
        UNIT_SIGNS[item.unit],
        inMajor(costMinor),
      ]),
    ),
  );
}
