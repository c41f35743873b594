import { Refusal } from "@/lib/errors";
import { parseMoney } from "@/lib/money";

/** What was typed as whole minor units; null where it is no amount. @example minorOf("12,50", "EUR") // 1250 */
export function minorOf(typed: string, currency: string): number | null {
  try {
    return parseMoney(typed, currency).minor;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return null;
  }
}

/**
 * The same, of the field of a form.
 *
 * @param least whole minor units; any amount where left out
 * @throws Refusal invalid naming the field and what was expected
 */
export function typedAmount(
  name: string,
  typed: string,
  currency: string,
  least = Number.NEGATIVE_INFINITY,
): number {
  const minor = minorOf(typed, currency);
  if (minor !== null && minor >= least) return minor;
  throw new Refusal("invalid", "Please look at the marked fields.", {
    [name]: `Expected an amount in ${currency}, such as 12.50; not “${typed}”.`,
  });
}
