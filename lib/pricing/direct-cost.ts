import { roundHalfEven } from "@/lib/money";
import type { Standing, Worked } from "@/lib/units";
import { LINE_KIND_WORDS, type LineKind, type PricedPart } from "./lines";
import { labourRate, type RateCard } from "./rate-card";
import { energyRate } from "./tariff";
import { rateInput, workedMoney } from "./worked-money";

/** The kinds whose cost is an amount times a rate. */
export type DirectKind = Exclude<LineKind, "CONTINGENCY" | "OVERHEAD" | "MARGIN">;

type DirectCost = {
  readonly amountName: string;
  readonly unit: string;
  /** amount that one part takes, in `unit` */
  readonly amount: (part: PricedPart, rates: RateCard) => number;
  /** what one unit of it costs, minor units */
  readonly rate: (rates: RateCard) => number;
  /** exact minor units of one part, where that is not amount × rate */
  readonly cost?: (part: PricedPart, rates: RateCard) => number;
  /** how the amount comes about, where that is not plain */
  readonly note?: string;
};

const MINUTES_PER_HOUR = 60;
const GRAMS_PER_KILOGRAM = 1000;

/**
 * Each direct cost as amount × rate. Loading and pulling are shared by what lies in the tank together, take-in counts
 * once a part however many pieces it has, finishing goes by area.
 */
export const DIRECT_COSTS: Readonly<Record<DirectKind, DirectCost>> = {
  LABOUR: {
    amountName: "time worked",
    unit: "h",
    amount: labourHours,
    rate: (rates) => rates.labourPerHourMinor,
    cost: labourCost,
    note: "take-in per part + (load + pull) per run × share of the tank + finishing per m² + what was added by hand",
  },
  TANK_TIME: {
    amountName: "tank time at P50 × share of the tank",
    unit: "h",
    amount: (part) => part.hoursP50 * part.tankShare,
    rate: (rates) => rates.tankHourMinor,
  },
  SODA: {
    amountName: "soda used up",
    unit: "kg",
    amount: (part) => part.sodaG / GRAMS_PER_KILOGRAM,
    rate: (rates) => rates.sodaPerKgMinor,
  },
  ANODE_STEEL: {
    amountName: "anode steel lost at P50",
    unit: "kg",
    amount: (part) => part.anodeLossG / GRAMS_PER_KILOGRAM,
    rate: (rates) => rates.anodeSteelPerKgMinor,
  },
  ENERGY: {
    amountName: "energy at the wall at P50",
    unit: "kW·h",
    amount: (part) => part.energyKwh,
    rate: (rates) => energyRate(rates, null, 0),
    cost: (part, rates) =>
      part.energyKwh * energyRate(rates, part.startMinute ?? null, part.hoursP50),
    note: "At the tariff of the hours in the bath where those are booked, otherwise at the mean of a week.",
  },
  CONSUMABLES: {
    amountName: "pieces",
    unit: "pieces",
    amount: (part) => part.quantity,
    rate: (rates) => rates.consumablesPerPartMinor,
  },
  DISPOSAL: {
    amountName: "spent bath",
    unit: "L",
    amount: (part) => part.disposalL,
    rate: (rates) => rates.disposalPerLitreMinor,
  },
};

export const DIRECT_KINDS = Object.keys(DIRECT_COSTS) as readonly DirectKind[];

/** Minutes of each task that one part takes. */
function labourMinutes(part: PricedPart, rates: RateCard) {
  return [
    { task: "take in", minutes: rates.intakeMinutesPerPart },
    { task: "load", minutes: part.runs * part.tankShare * rates.loadMinutesPerRun },
    { task: "pull", minutes: part.runs * part.tankShare * rates.pullMinutesPerRun },
    { task: "finish", minutes: rates.finishMinutesPerM2 * part.areaM2 },
    { task: "other", minutes: part.extraLabourMinutes ?? 0 },
  ] as const;
}

function labourHours(part: PricedPart, rates: RateCard): number {
  const all = labourMinutes(part, rates).reduce((sum, { minutes }) => sum + minutes, 0);
  return all / MINUTES_PER_HOUR;
}

function labourCost(part: PricedPart, rates: RateCard): number {
  return labourMinutes(part, rates).reduce(
    (sum, { task, minutes }) => sum + (minutes / MINUTES_PER_HOUR) * labourRate(rates, task),
    0,
  );
}

/** Exact minor units of one direct cost of one part. */
export function exactCost(kind: DirectKind, part: PricedPart, rates: RateCard): number {
  const { amount, rate, cost } = DIRECT_COSTS[kind];
  return cost ? cost(part, rates) : amount(part, rates) * rate(rates);
}

/** Whole minor units of one direct cost of one part, rounded half-even. */
export function directMinor(kind: DirectKind, part: PricedPart, rates: RateCard): number {
  return roundHalfEven(exactCost(kind, part, rates));
}

/** How much of a direct cost, at which rate. */
type DirectAmount = {
  readonly amount: number;
  /** minor units for one unit of it, the mean where there were several */
  readonly rate: number;
  /** whole minor units of all of it */
  readonly minor: number;
};

/** Of some parts together. */
export function directAmount(
  kind: DirectKind,
  parts: readonly PricedPart[],
  minor: number,
  rates: RateCard,
): DirectAmount {
  const { amount, rate } = DIRECT_COSTS[kind];
  const all = parts.reduce((sum, part) => sum + amount(part, rates), 0);
  const exact = parts.reduce((sum, part) => sum + exactCost(kind, part, rates), 0);
  return { amount: all, rate: all > 0 ? exact / all : rate(rates), minor };
}

/** The working of a direct cost. */
export function workedDirect(
  kind: DirectKind,
  { amount, rate, minor }: DirectAmount,
  rates: RateCard,
  standing: Standing,
): Worked {
  const { amountName, unit, note } = DIRECT_COSTS[kind];
  return workedMoney({
    name: LINE_KIND_WORDS[kind],
    minor,
    currency: rates.currency,
    formula: "C = q · r",
    inputs: [
      { name: amountName, symbol: "q", value: amount, unit, standing },
      rateInput("r", rate, unit === "pieces" ? "piece" : unit, rates.currency),
    ],
    standing,
    ...(note && { note }),
  });
}
