import { checkNonNegative, checkPositive, type Worked } from "@/lib/units";
import { roundQuantity } from "./quantity";
import { type StockUnit, UNIT_SIGNS } from "./words";

/** How an item stands against its reorder point. */
export const STOCK_STATES = ["OUT", "LOW", "ENOUGH"] as const;
export type StockState = (typeof STOCK_STATES)[number];

/** How each state is said. */
export const STOCK_STATE_WORDS: Readonly<Record<StockState, string>> = {
  OUT: "none left",
  LOW: "running low",
  ENOUGH: "enough",
};

export type StockLevelInput = {
  readonly unit: StockUnit;
  readonly onHand: number;
  /** order when no more than this is left; 0 never asks before it is gone */
  readonly reorderPoint: number;
  /** how much is usually ordered; 0 where the shop has not said */
  readonly reorderQuantity: number;
  /** used during the period, 0 or more */
  readonly used: number;
  /** days of the period, above 0 */
  readonly periodDays: number;
};

export type StockLevelAdvice = {
  readonly state: StockState;
  /** in the item's unit a day */
  readonly usage: Worked;
  /** days that what is on hand lasts; null while nothing is used */
  readonly cover: Worked | null;
  /** how much to order now; 0 while there is enough */
  readonly order: number;
};

/**
 * Whether an item runs low, how long it lasts at the usage of late, and how much to order.
 *
 * @throws RangeError if an amount is negative or the period is not above 0
 * @example stockLevelAdvice({ unit: "GRAM", onHand: 900, reorderPoint: 1000, reorderQuantity: 5000, used: 900, periodDays: 90 })
 *   // LOW, 10 g a day, 90 days of cover, order 5000
 */
export function stockLevelAdvice(level: StockLevelInput): StockLevelAdvice {
  const unit = UNIT_SIGNS[level.unit];
  for (const name of ["onHand", "reorderPoint", "reorderQuantity", "used"] as const) {
    checkNonNegative(name, level[name], unit);
  }
  checkPositive("periodDays", level.periodDays, "d");
  const state = level.onHand === 0 ? "OUT" : level.onHand <= level.reorderPoint ? "LOW" : "ENOUGH";
  const shortfall = Math.max(0, level.reorderPoint - level.onHand);
  return {
    state,
    usage: workedUsage(level, unit),
    cover: level.used > 0 ? workedCover(level, unit) : null,
    order: state === "ENOUGH" ? 0 : roundQuantity(Math.max(level.reorderQuantity, shortfall)),
  };
}

function workedUsage(level: StockLevelInput, unit: string): Worked {
  return {
    name: "usage of late",
    value: level.used / level.periodDays,
    unit: `${unit}/d`,
    formula: "d = Q_used / T",
    inputs: [
      { name: "used", symbol: "Q_used", value: level.used, unit, standing: "measured here" },
      { name: "period", symbol: "T", value: level.periodDays, unit: "d", standing: "entered here" },
    ],
    standing: "measured here",
    note: "What was spoiled or counted off is left out: it says nothing about the work.",
  };
}

function workedCover(level: StockLevelInput, unit: string): Worked {
  const usage = level.used / level.periodDays;
  return {
    name: "days of cover",
    value: level.onHand / usage,
    unit: "d",
    formula: "t = Q / d",
    inputs: [
      { name: "on hand", symbol: "Q", value: level.onHand, unit, standing: "measured here" },
      { name: "usage", symbol: "d", value: usage, unit: `${unit}/d`, standing: "measured here" },
    ],
    standing: "measured here",
    note: "Holds while the shop works as it did in the period.",
  };
}
