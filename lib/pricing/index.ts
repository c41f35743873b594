/**
 * Pricing: what a job should cost, what the customer is asked, and what it really took.
 *
 * Pure; takes plain numbers. Every line is rounded once, half to even, to whole minor units; everything above it is
 * a sum of whole numbers, so totals always add up.
 *
 *   quoteLines(parts, rates, options?) → PricedQuote
 *   jobCost(estimate, actuals, rates, quotedNetMinor) → JobCost
 */
export * from "./balance";
export * from "./billing";
export * from "./job-cost";
export * from "./lines";
export * from "./quote";
export { type Effect, laidTo, type Piece, type Variance, varianceOf } from "./variance";
export { OVERHEAD_BASIS_WORDS } from "./overhead";
export {
  checkRateCard,
  type DiscountStep,
  LABOUR_TASKS,
  labourRate,
  type LabourTask,
  MOST_MARGIN_PERCENT,
  OVERHEAD_BASES,
  type OverheadBasis,
  type RateCard,
  type Skill,
  taxPolicy,
} from "./rate-card";
export { type EnergyBand, energyRate } from "./tariff";
export {
  MOST_TAX_PERCENT,
  type Tax,
  type TaxableLine,
  type Taxed,
  taxed,
  type TaxPolicy,
  type TaxRule,
  type TaxTotal,
} from "./tax";
