/**
 * Treatment of one part: may it go in, how large is it, which tank, what bath, how long, what after.
 *
 * Pure: imports only `@/lib/units`, `@/lib/electrolysis`, `@/lib/field` and `@/lib/tanks`. Results are plain data that can be
 * stored as JSON; figures explain themselves.
 */
export { currentSpread } from "./candidate";
export * from "./codes";
export type { PlanFigures } from "./figures";
export * from "./field-bath";
export * from "./field-findings";
export { innerForms } from "./field-inner";
export * from "./field-types";
export * from "./hours";
export * from "./learned";
export * from "./part";
export * from "./plan";
export * from "./questions";
export * from "./relief-bake";
export type { FindingOutcome, Rule } from "./rule";
export { RULES } from "./rules";
export type { PlanStep } from "./steps";
export * from "./suitability";
export {
  cellOf,
  type ReadyTank,
  type TankMeasured,
  type TankOption,
  type Workshop,
} from "./tank-option";
export * from "./what-if";
