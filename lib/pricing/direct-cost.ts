import { roundHalfEven } from "@/lib/money";
import type { Standing, Worked } from "@/lib/units";
import { LINE_KIND_WORDS, type LineKind, type PricedPart } from "./lines";
import type { RateCard } from "./rate-card";
import { rateInput, workedMoney } from "./worked-money";

/** The kinds whose cost is an amount times a rate. */
export type DirectKind = Exclude<LineKind, "CONTINGENCY" | "OVERHEAD" | "MARGIN">;

type DirectCost = {
  readonly amountName: string;
  readonly unit: string;
  /** amount that one part takes, in `unit` */
  readonly amount: (part: PricedPart, rates: RateCard) => number;
  readonly rate: (rates: RateCard) => number;
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
    rate: (rates) => rates.energyPerKwhMinor,
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

function labourHours(part: PricedPart, rates: RateCard): number {
  const perRun = (rates.loadMinutesPerRun + rates.pullMinutesPerRun) * part.tankShare;
  const minutes =
    rates.intakeMinutesPerPart +
    part.runs * perRun +
    rates.finishMinutesPerM2 * part.areaM2 +
    (part.extraLabourMinutes ?? 0);
  return minutes / MINUTES_PER_HOUR;
}

/** Whole minor units of one direct cost of one part, rounded half-even. */
export function directMinor(kind: DirectKind, part: PricedPart, rates: RateCard): number {
  const cost = DIRECT_COSTS[kind];
  return roundHalfEven(cost.amount(part, rates) * cost.rate(rates));
}

/** The working of a direct cost: how much, at which rate. */
export function workedDirect(
  kind: DirectKind,
  amount: number,
  minor: number,
  rates: RateCard,
  standing: Standing,
): Worked {
  const { amountName, unit, rate, note } = DIRECT_COSTS[kind];
  return workedMoney({
    name: LINE_KIND_WORDS[kind],
    minor,
    currency: rates.currency,
    formula: "C = q · r",
    inputs: [
      { name: amountName, symbol: "q", value: amount, unit, standing },
      rateInput("r", rate(rates), unit === "pieces" ? "piece" : unit, rates.currency),
    ],
    standing,
    ...(note && { note }),
  });
}
