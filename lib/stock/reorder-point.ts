import { checkNonNegative, checkRange, type Worked, type WorkedInput } from "@/lib/units";
import { normalQuantile } from "./normal";
import { type StockUnit, UNIT_SIGNS } from "./words";

export type ReorderPointInput = {
  readonly unit: StockUnit;
  /** mean use a day, 0 or more */
  readonly usagePerDay: number;
  /** standard deviation of the use of one day, 0 or more */
  readonly usageDeviation: number;
  /** days from ordering to having it, 0 or more */
  readonly leadDays: number;
  /** standard deviation of the lead time, days, 0 or more */
  readonly leadDeviation: number;
  /** share of orders during which nothing runs out, from 0.5 to 0.999 */
  readonly serviceLevel: number;
  /** how the spread was found, and what speaks against it */
  readonly note?: string;
};

/** What may be asked for: half of all orders, up to all but one in a thousand. */
export const SERVICE_LEVELS = { least: 0.5, most: 0.999 } as const;

/**
 * The reorder point that lasts through the asked share of lead times.
 *
 *   s = d·L + z·√(L·σ_d² + d²·σ_L²)
 *
 * The four textbook cases in one: constant or variable use, constant or variable lead time. Use and lead time count as
 * independent of each other, and what is used during a lead time as normal.
 *
 * @throws RangeError if an amount is negative or the service level out of its range
 * @example reorderPoint({ unit: "EACH", usagePerDay: 15, usageDeviation: 5, leadDays: 2, leadDeviation: 0, serviceLevel: 0.97 }).value
 *   // 30 + 1.881 · 5 · √2 = 43.3
 */
export function reorderPoint(input: ReorderPointInput): Worked {
  const unit = UNIT_SIGNS[input.unit];
  checkNonNegative("usagePerDay", input.usagePerDay, unit);
  checkNonNegative("usageDeviation", input.usageDeviation, unit);
  checkNonNegative("leadDays", input.leadDays, "d");
  checkNonNegative("leadDeviation", input.leadDeviation, "d");
  checkRange("serviceLevel", input.serviceLevel, SERVICE_LEVELS.least, SERVICE_LEVELS.most, "");
  const z = normalQuantile(input.serviceLevel);
  const demand = input.usagePerDay * input.leadDays;
  const spread = Math.sqrt(
    input.leadDays * input.usageDeviation ** 2 + (input.usagePerDay * input.leadDeviation) ** 2,
  );
  const level = Number((100 * input.serviceLevel).toFixed(1));
  return {
    name: "reorder point",
    value: demand + z * spread,
    unit,
    formula: "s = d·L + z·√(L·σ_d² + d²·σ_L²)",
    inputs: [
      ...measured(input, unit),
      {
        name: `z for ${level} % of orders`,
        symbol: "z",
        value: z,
        standing: "standard",
        source: "normal distribution",
      },
      {
        name: "safety stock in it",
        symbol: "z·√…",
        value: z * spread,
        unit,
        standing: "measured here",
      },
    ],
    standing: "measured here",
    source: "Heizer, Render and Munson, Operations Management, chapter 12 (from memory)",
    note:
      input.note ?? "What is used during a lead time counts as normal, and as independent of it.",
  };
}

function measured(input: ReorderPointInput, unit: string): readonly WorkedInput[] {
  const rows = [
    ["usage", "d", input.usagePerDay, `${unit}/d`],
    ["spread of a day's usage", "σ_d", input.usageDeviation, `${unit}/d`],
    ["lead time", "L", input.leadDays, "d"],
    ["spread of the lead time", "σ_L", input.leadDeviation, "d"],
  ] as const;
  return rows.map(([name, symbol, value, of]) => ({
    name,
    symbol,
    value,
    unit: of,
    standing: "measured here",
  }));
}
