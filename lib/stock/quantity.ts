import { type StockUnit, UNIT_SIGNS } from "./words";

/** Stock is counted to this share of its unit, as `numeric(14, 3)` columns are. */
const STEPS_PER_UNIT = 1000;

/**
 * A quantity as a whole number of thousandths: sums of these are exact, sums of decimal fractions are not.
 *
 * @throws RangeError if it is not finite or too large to count exactly
 * @example inThousandths(0.3) // 300
 */
export function inThousandths(quantity: number): number {
  const steps = Math.round(quantity * STEPS_PER_UNIT);
  if (!Number.isSafeInteger(steps)) {
    throw new RangeError(`quantity must be a number that can be counted exactly, got ${quantity}`);
  }
  return steps === 0 ? 0 : steps;
}

/** @example fromThousandths(300) // 0.3 */
export function fromThousandths(steps: number): number {
  return steps / STEPS_PER_UNIT;
}

/** Rounded to a thousandth of the unit. @example roundQuantity(0.1 + 0.2) // 0.3 */
export function roundQuantity(quantity: number): number {
  return fromThousandths(inThousandths(quantity));
}

/** Adds up exactly, in thousandths. @example addQuantities([0.1, 0.2]) // 0.3 */
export function addQuantities(quantities: readonly number[]): number {
  return fromThousandths(quantities.reduce((total, each) => total + inThousandths(each), 0));
}

/** A quantity with its unit, for a sentence. @example quantityText(1250, "GRAM") // "1250 g" */
export function quantityText(quantity: number, unit: StockUnit): string {
  const rounded = roundQuantity(quantity);
  if (unit === "EACH" && rounded === 1) return "1 piece";
  return `${String(rounded)} ${UNIT_SIGNS[unit]}`;
}
