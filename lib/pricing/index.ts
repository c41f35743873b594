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
export { checkRateCard, MOST_MARGIN_PERCENT, type RateCard } from "./rate-card";
