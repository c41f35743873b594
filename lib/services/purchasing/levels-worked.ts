/** Reorder point and order quantity of one item, worked out of its use, its lead times and its costs. */
import type { ItemRow, LastLot, PolicyRow, SupplierRow } from "@/lib/data";
import {
  DAYS_PER_YEAR,
  type DailyUse,
  type Demand,
  demandOf,
  economicOrder,
  type EconomicOrder,
  leadDemandSpread,
  type LeadTime,
  quantityText,
  reorderPoint,
  shareCovered,
  type StockUnit,
} from "@/lib/stock";
import type { Worked } from "@/lib/units";

/** What is used in a lead time, and safety stock for the service level asked. */
export function workedPointOf(
  item: ItemRow,
  policy: PolicyRow,
  use: DailyUse,
  lead: LeadTime,
): Worked {
  const demand = demandOf(use);
  const spread = leadDemandSpread(use, lead.days);
  const input = {
    unit: item.unit,
    usagePerDay: demand.perDay,
    usageDeviation: spread.deviationPerDay,
    leadDays: lead.days,
    leadDeviation: lead.deviation,
    serviceLevel: policy.serviceLevel,
  };
  const { value } = reorderPoint(input);
  const covered = shareCovered(use, lead.days, value);
  return reorderPoint({ ...input, note: pointNote(item.unit, demand, spread, covered) });
}

function pointNote(
  unit: StockUnit,
  demand: Demand,
  spread: ReturnType<typeof leadDemandSpread>,
  covered: number | null,
): string {
  const found =
    spread.method === "BLOCKS"
      ? `The spread is that of what was used in ${spread.blocks} spans of ${spread.blockDays} days, told for one day.`
      : "The spread is that of single days, which count as independent.";
  const past =
    covered === null
      ? ""
      : ` In ${Math.floor(100 * covered)} % of the spans of a lead time that are known, no more than this was used.`;
  const lumps = ["LUMPY", "INTERMITTENT"].includes(demand.pattern)
    ? ` It is used seldom, up to ${measured(demand.mostADay, unit)} on a day: the normal distribution says little of that, so look at the share before this.`
    : "";
  return found + past + lumps;
}

/** In braces, which a screen says in its own units; pieces are the same in all. */
const measured = (quantity: number, unit: StockUnit): string =>
  unit === "EACH" ? quantityText(quantity, unit) : `{${quantityText(quantity, unit)}}`;

type Costs = {
  readonly policy: PolicyRow;
  readonly supplier: SupplierRow | undefined;
  readonly demand: Demand;
  readonly unitMinor: number | null;
  readonly last: LastLot | undefined;
};

/** null where what an order and keeping cost are not both said, or nothing is used. */
export function economicOf(item: ItemRow, costs: Costs): EconomicOrder | null {
  const { policy, supplier, demand, last } = costs;
  const orderCostMinor = policy.orderCostMinor ?? supplier?.orderCostMinor ?? 0;
  const holdingMinor = holdingOf(costs);
  if (!(orderCostMinor > 0 && holdingMinor > 0 && demand.perDay > 0)) return null;
  const keeps = last?.shelfLifeDays ?? 0;
  return economicOrder({
    unit: item.unit,
    annualDemand: demand.perDay * DAYS_PER_YEAR,
    orderCostMinor,
    holdingMinor,
    pack: item.packQuantity,
    shelfLifeDays: keeps > 0 ? keeps : null,
  });
}

/** Of one unit for a year, minor units; 0 where nobody said, or its price is not known. */
function holdingOf({ policy, unitMinor }: Costs): number {
  if (policy.holdingMinor !== null) return policy.holdingMinor;
  return ((policy.holdingPercent ?? 0) / 100) * (unitMinor ?? 0);
}
