import type { Worked } from "@/lib/units";
import type { TaxTotal } from "./tax";

/** What a price is made of, in the order in which the shop reads it. The first seven are direct cost. */
export const LINE_KINDS = [
  "LABOUR",
  "TANK_TIME",
  "SODA",
  "ANODE_STEEL",
  "ENERGY",
  "CONSUMABLES",
  "DISPOSAL",
  "CONTINGENCY",
  "OVERHEAD",
  "MARGIN",
] as const;
export type LineKind = (typeof LINE_KINDS)[number];

/** How each kind is said. */
export const LINE_KIND_WORDS: Readonly<Record<LineKind, string>> = {
  LABOUR: "labour",
  TANK_TIME: "tank time",
  SODA: "soda",
  ANODE_STEEL: "anode steel",
  ENERGY: "energy",
  CONSUMABLES: "consumables",
  DISPOSAL: "disposal",
  CONTINGENCY: "contingency for longer hours",
  OVERHEAD: "overhead",
  MARGIN: "margin",
};

/** One part of a job as it is priced. All amounts are for all its pieces together. */
export type PricedPart = {
  /** null for work that belongs to no part */
  readonly partId: string | null;
  /** as the customer reads it: "A: gate hinge" */
  readonly label: string;
  /** what will be done, as the customer reads it */
  readonly detail: string;
  /** pieces, a whole number of 1 or more */
  readonly quantity: number;
  /** m², wetted area */
  readonly areaM2: number;
  /** times it is loaded and pulled, 0 or more: 2 when it goes in end for end */
  readonly runs: number;
  /** share of the tank's time that this part bears, above 0 up to 1: below 1 when others go in with it */
  readonly tankShare: number;
  /** h under current: nine in ten take longer than P10, half take longer than P50, one in ten longer than P90 */
  readonly hoursP10?: number;
  readonly hoursP50: number;
  readonly hoursP90: number;
  /** g of soda that this part uses up */
  readonly sodaG: number;
  /** g of anode steel lost in P50 hours */
  readonly anodeLossG: number;
  /** kW·h at the wall in P50 hours */
  readonly energyKwh: number;
  /** L of spent bath that this part bears */
  readonly disposalL: number;
  /** minutes since Monday 00:00, by the shop's clock, at which its load is booked to begin; none while it is not */
  readonly startMinute?: number;
  /** how it is taxed; the card's usual way where left out */
  readonly taxCode?: string;
  /** min of labour beside take-in, load, pull and finish: masking, a difficult coat */
  readonly extraLabourMinutes?: number;
};

/** One line as the shop reads it. */
export type CostLine = {
  readonly kind: LineKind;
  /** whole minor units */
  readonly minor: number;
  /** the same in whole currency units, with its working */
  readonly worked: Worked;
};

/** Why a line stands on the customer's quote. */
export const CUSTOMER_LINE_KINDS = ["PART", "MINIMUM_CHARGE", "RUSH", "DISCOUNT"] as const;
export type CustomerLineKind = (typeof CUSTOMER_LINE_KINDS)[number];

/** One line as the customer reads it. */
export type CustomerLine = {
  readonly kind: CustomerLineKind;
  readonly partId: string | null;
  readonly label: string;
  readonly detail: string;
  /** whole minor units; a discount is negative */
  readonly netMinor: number;
  readonly taxMinor: number;
  /** the tax rule that it falls under */
  readonly taxCode: string;
};

export type QuoteOptions = {
  readonly rush?: boolean;
  /** 0 to 100, off everything before it; what the job's size earns where left out */
  readonly discountPercent?: number;
  /** how lines are taxed that say nothing themselves; the card's first rule where left out */
  readonly taxCode?: string;
};

/** A price: plain data, stored with the quote. */
export type PricedQuote = {
  readonly currency: string;
  /** the shop's lines by kind over all parts; with `adjustmentMinor` they add up to `netMinor` */
  readonly costs: readonly CostLine[];
  readonly parts: readonly PartPrice[];
  /** minimum charge, rush, discount and the rounding of prices together */
  readonly adjustmentMinor: number;
  /** what the customer sees: net and tax of the lines add up to the totals */
  readonly lines: readonly CustomerLine[];
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
  readonly discountPercent: number;
  readonly taxes: readonly TaxTotal[];
  /** whether the customer is told prices with their tax in them */
  readonly pricesIncludeTax: boolean;
  readonly net: Worked;
  readonly tax: Worked;
  /** with `low` and `high`: the total if the hours were the P10 (P50 where none is given) and the P90 */
  readonly total: Worked;
  readonly lowMinor: number;
  readonly highMinor: number;
};

/** What one part costs and is priced at. */
export type PartPrice = {
  readonly partId: string | null;
  readonly label: string;
  readonly netMinor: number;
  readonly costs: readonly CostLine[];
};

/** What a job took, as the shop wrote it down. */
export type JobActuals = {
  /** from the labour entries, at the rate of their day */
  readonly labourMinor: number;
  readonly labourMinutes: number;
  /** h in tanks, each times the job's share of the run */
  readonly tankHours: number;
  /** from the stock ledger */
  readonly sodaMinor: number;
  readonly anodeSteelMinor: number;
  readonly consumablesMinor: number;
  /** kW·h at the wall, the job's share */
  readonly energyKwh: number;
  /** minor units that those cost, at the tariff of their hours */
  readonly energyMinor: number;
  /** L of spent bath, the job's share */
  readonly disposalL: number;
};

/** One kind of cost, estimated against actual. */
export type CostComparison = {
  readonly kind: LineKind;
  readonly estimatedMinor: number;
  readonly actualMinor: number;
  /** actual less estimated: positive took more */
  readonly varianceMinor: number;
  /** of the estimate; null where nothing was estimated */
  readonly variancePercent: number | null;
  readonly worked: Worked;
};

export type JobCost = {
  readonly currency: string;
  /** every kind but the margin */
  readonly lines: readonly CostComparison[];
  readonly estimatedMinor: number;
  readonly actualMinor: number;
  readonly varianceMinor: number;
  /** what the customer pays before tax; null before a quote */
  readonly quotedNetMinor: number | null;
  /** quoted net less actual cost */
  readonly marginMinor: number | null;
  /** of the quoted net; null where that is 0 or unknown */
  readonly marginPercent: number | null;
  readonly cost: Worked;
  readonly margin: Worked | null;
};
