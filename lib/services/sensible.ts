import { Refusal } from "@/lib/errors";

/**
 * Runs a calculation on what a person entered: a value out of its range becomes a refusal that names it.
 *
 * @throws Refusal invalid, with the calculation's own words
 * @example sensible(() => checkShape(shape))
 */
export function sensible<T>(calculation: () => T): T {
  try {
    return calculation();
  } catch (error) {
    if (error instanceof RangeError) {
      throw new Refusal(
        "invalid",
        `${error.message.charAt(0).toUpperCase()}${error.message.slice(1)}.`,
      );
    }
    throw error;
  }
}
