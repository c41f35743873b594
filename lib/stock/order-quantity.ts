import { checkNonNegative, checkPositive, type Worked } from "@/lib/units";
import { fromThousandths, inThousandths, roundQuantity } from "./quantity";
import { type StockUnit, UNIT_SIGNS } from "./words";

/** Days of a year, for yearly amounts. */
export const DAYS_PER_YEAR = 365;

export type EconomicOrderInput = {
  readonly unit: StockUnit;
  /** used in a year, in the item's unit, above 0 */
  readonly annualDemand: number;
  /** what one order costs besides the goods, minor units, above 0 */
  readonly orderCostMinor: number;
  /** what one unit costs to keep for a year, minor units, above 0; fractions are usual */
  readonly holdingMinor: number;
  /** sold in packs of so many units, above 0; null where any amount can be bought */
  readonly pack: number | null;
  /** days from coming in to the last good day, above 0; null where it keeps */
  readonly shelfLifeDays: number | null;
};

export type EconomicOrder = {
  /** what to order: whole packs, and no more than is used while it is good */
  readonly quantity: number;
  readonly ordersPerYear: number;
  /** ordering and keeping, minor units a year, at that quantity */
  readonly yearlyMinor: number;
  readonly limitedByShelfLife: boolean;
  /** the formula's own quantity, before packs and shelf life */
  readonly worked: Worked;
};

/**
 * The order that costs least in ordering and keeping together.
 *
 *   Q* = √(2·D·S / H)       C(Q) = S·D/Q + H·Q/2
 *
 * Of the two whole numbers of packs beside Q* the cheaper is taken. What would go off before it is used at the mean is
 * not ordered, but never less than one pack.
 *
 * @throws RangeError if an amount is not above 0
 * @example economicOrder({ unit: "EACH", annualDemand: 1000, orderCostMinor: 1000, holdingMinor: 50, pack: null, shelfLifeDays: null })
 *   // 200 pieces, 5 orders a year, 10000 a year
 */
export function economicOrder(input: EconomicOrderInput): EconomicOrder {
  const unit = UNIT_SIGNS[input.unit];
  checkPositive("annualDemand", input.annualDemand, unit);
  checkPositive("orderCostMinor", input.orderCostMinor, "minor units");
  checkPositive("holdingMinor", input.holdingMinor, "minor units");
  if (input.pack !== null) checkPositive("pack", input.pack, unit);
  if (input.shelfLifeDays !== null) checkPositive("shelfLifeDays", input.shelfLifeDays, "d");
  const best = Math.sqrt((2 * input.annualDemand * input.orderCostMinor) / input.holdingMinor);
  const most =
    input.shelfLifeDays === null
      ? Number.POSITIVE_INFINITY
      : (input.annualDemand / DAYS_PER_YEAR) * input.shelfLifeDays;
  const yearly = (quantity: number): number =>
    (input.orderCostMinor * input.annualDemand) / quantity + (input.holdingMinor * quantity) / 2;
  const quantity = buyable(best, most, input.pack ?? leastStep(input.unit), yearly);
  return {
    quantity,
    ordersPerYear: input.annualDemand / quantity,
    yearlyMinor: yearly(quantity),
    limitedByShelfLife: best > most,
    worked: workedOrder(input, best, unit),
  };
}

/** What cannot be bought in part comes by the piece; the rest to a thousandth, as it is counted. */
const leastStep = (unit: StockUnit): number => (unit === "EACH" ? 1 : 0.001);

/** The cheaper of the two whole numbers of packs beside the best amount, within what is used while it is good. */
function buyable(
  best: number,
  most: number,
  pack: number,
  yearly: (quantity: number) => number,
): number {
  const below = Math.max(1, Math.floor(best / pack));
  const cheaper = yearly(below * pack) <= yearly((below + 1) * pack) ? below : below + 1;
  const good = Number.isFinite(most) ? Math.max(1, Math.floor(most / pack)) : cheaper;
  return roundQuantity(Math.min(cheaper, good) * pack);
}

function workedOrder(input: EconomicOrderInput, best: number, unit: string): Worked {
  return {
    name: "economic order",
    value: best,
    unit,
    formula: "Q* = √(2·D·S / H)",
    inputs: [
      {
        name: "used in a year",
        symbol: "D",
        value: input.annualDemand,
        unit,
        standing: "measured here",
      },
      {
        name: "cost of one order, in the smallest coin",
        symbol: "S",
        value: input.orderCostMinor,
        standing: "entered here",
      },
      {
        name: "keeping one unit for a year, in the smallest coin",
        symbol: "H",
        value: input.holdingMinor,
        standing: "entered here",
      },
    ],
    standing: "entered here",
    source:
      "Harris 1913; Heizer, Render and Munson, Operations Management, chapter 12 (from memory)",
    note: "Before it is rounded to whole packs and held to what is used while it is good. The price is the same for any amount.",
  };
}

/**
 * The least that can be bought and is at least so much.
 *
 * @param quantity 0 or more
 * @param pack above 0; null where any amount can be bought
 * @example wholePacks(1200, 500) // 1500
 */
export function wholePacks(quantity: number, pack: number | null): number {
  checkNonNegative("quantity", quantity, "");
  if (pack === null) return roundQuantity(quantity);
  checkPositive("pack", pack, "");
  const step = inThousandths(pack);
  return fromThousandths(Math.ceil(inThousandths(quantity) / step) * step);
}
