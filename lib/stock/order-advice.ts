import { checkNonNegative, type Worked } from "@/lib/units";
import { type PerishableLot } from "./expiry";
import { wholePacks } from "./order-quantity";
import { addQuantities, roundQuantity } from "./quantity";
import { type StockUnit, UNIT_SIGNS } from "./words";

const MS_PER_DAY = 86_400_000;

/** Why something is to be bought. */
export const ORDER_REASONS = ["OUT", "LOW", "EXPIRING"] as const;
export type OrderReason = (typeof ORDER_REASONS)[number];

export const ORDER_REASON_WORDS: Readonly<Record<OrderReason, string>> = {
  OUT: "none left",
  LOW: "running low",
  EXPIRING: "what is left goes off before it is used",
};

/** A lot of which some goes off before it is used. */
export type WastedLot = {
  readonly id: string;
  /** how much, in the item's unit, above 0 */
  readonly quantity: number;
  /** to its last good day, negative once past */
  readonly daysLeft: number;
};

/**
 * What goes off before it is used, when what goes off first is used first, at the mean use.
 *
 * @param perDay mean use, 0 or more: where nothing is used, all that has a last good day is lost in the end
 * @param today the shop's day, as midnight UTC
 * @example lotsWasted([{ id: "a", onHand: 100, expiresOn: new Date("2030-01-10") }], 5, new Date("2030-01-07"))
 *   // 80 of "a": its last four days use 20
 */
export function lotsWasted(
  lots: readonly PerishableLot[],
  perDay: number,
  today: Date,
): readonly WastedLot[] {
  checkNonNegative("perDay", perDay, "");
  const perishable = lots
    .flatMap(({ id, onHand, expiresOn }) =>
      expiresOn !== null && onHand > 0 ? [{ id, onHand, daysLeft: daysTo(expiresOn, today) }] : [],
    )
    .sort((a, b) => a.daysLeft - b.daysLeft);
  let usedBefore = 0;
  return perishable.flatMap(({ id, onHand, daysLeft }): WastedLot[] => {
    // The last good day is a day of use too.
    const usable = Math.max(0, perDay * Math.max(0, daysLeft + 1) - usedBefore);
    const quantity = roundQuantity(Math.max(0, onHand - usable));
    usedBefore += onHand - quantity;
    return quantity > 0 ? [{ id, quantity, daysLeft }] : [];
  });
}

const daysTo = (day: Date, today: Date): number =>
  Math.round((day.getTime() - today.getTime()) / MS_PER_DAY);

export type OrderAdviceInput = {
  readonly unit: StockUnit;
  readonly lots: readonly PerishableLot[];
  /** ordered and not yet come, 0 or more */
  readonly onOrder: number;
  /** mean use a day, 0 or more */
  readonly perDay: number;
  /** order when no more than this is left, 0 or more */
  readonly reorderPoint: number;
  /** what is ordered at a time, 0 or more; 0 where nobody said */
  readonly usualQuantity: number;
  readonly pack: number | null;
  /** days from ordering to having it, 0 or more */
  readonly leadDays: number;
  readonly today: Date;
};

export type OrderAdvice = {
  /** null while there is enough */
  readonly reason: OrderReason | null;
  /** what counts as there: on hand and good, on order, less what goes off within the lead time */
  readonly position: Worked;
  /** how much to order, whole packs; 0 while there is enough, or where nobody said how much is usual */
  readonly quantity: number;
  /** mean days until the reorder point is reached, 0 when it is; null while nothing is used */
  readonly daysToOrder: number | null;
  /** all that goes off before it is used, however far ahead */
  readonly wasted: readonly WastedLot[];
};

/**
 * Whether to order, and how much. What is past its last good day counts as gone; so does what will be before an order
 * made now has come, and before it is used.
 *
 * @throws RangeError if an amount is negative
 * @example orderAdvice({ unit: "EACH", lots: [{ id: "a", onHand: 20, expiresOn: null }], onOrder: 0, perDay: 2,
 *   reorderPoint: 30, usualQuantity: 100, pack: 50, leadDays: 5, today }) // LOW, order 100
 */
export function orderAdvice(input: OrderAdviceInput): OrderAdvice {
  const unit = UNIT_SIGNS[input.unit];
  for (const name of ["onOrder", "perDay", "reorderPoint", "usualQuantity", "leadDays"] as const) {
    checkNonNegative(name, input[name], unit);
  }
  const wasted = lotsWasted(input.lots, input.perDay, input.today);
  const gone = new Set(wasted.filter(({ daysLeft }) => daysLeft < 0).map(({ id }) => id));
  const good = addQuantities(
    input.lots.filter(({ id }) => !gone.has(id)).map(({ onHand }) => onHand),
  );
  const goingOff = addQuantities(
    wasted
      .filter(({ daysLeft }) => daysLeft >= 0 && daysLeft <= input.leadDays)
      .map(({ quantity }) => quantity),
  );
  const position = roundQuantity(good + input.onOrder - goingOff);
  const reason = reasonFor(input, good, goingOff, position);
  const least = Math.max(0, input.reorderPoint - position);
  return {
    reason,
    position: workedPosition(unit, { good, onOrder: input.onOrder, goingOff, position }),
    quantity: reason === null ? 0 : wholePacks(Math.max(input.usualQuantity, least), packOf(input)),
    daysToOrder:
      input.perDay > 0 ? Math.max(0, (position - input.reorderPoint) / input.perDay) : null,
    wasted,
  };
}

/** Nobody sells half a piece. */
const packOf = ({ pack, unit }: OrderAdviceInput): number | null =>
  pack ?? (unit === "EACH" ? 1 : null);

function reasonFor(
  { onOrder, reorderPoint }: OrderAdviceInput,
  good: number,
  goingOff: number,
  position: number,
): OrderReason | null {
  if (position > reorderPoint) return null;
  if (good === 0 && onOrder === 0) return "OUT";
  return position + goingOff > reorderPoint ? "EXPIRING" : "LOW";
}

type Position = {
  readonly good: number;
  readonly onOrder: number;
  readonly goingOff: number;
  readonly position: number;
};

function workedPosition(unit: string, { good, onOrder, goingOff, position }: Position): Worked {
  const rows = [
    ["on hand and good", "Q", good, "measured here"],
    ["on order", "O", onOrder, "entered here"],
    ["goes off before it is used, within the lead time", "W", goingOff, "measured here"],
  ] as const;
  return {
    name: "counts as there",
    value: position,
    unit,
    formula: "P = Q + O − W",
    inputs: rows.map(([name, symbol, value, standing]) => ({
      name,
      symbol,
      value,
      unit,
      standing,
    })),
    standing: "measured here",
    source: "inventory position of the textbooks, from memory",
    note: "Nothing is set aside for jobs: what a load takes leaves the shelf when it is taken.",
  };
}
