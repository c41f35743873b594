import { Refusal } from "@/lib/errors";
import { parseMoney } from "@/lib/money";

/** What was typed as whole minor units. @throws Refusal invalid naming the field and what was expected */
export function typedAmount(name: string, typed: string, currency: string): number {
  try {
    return parseMoney(typed, currency).minor;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new Refusal("invalid", "Please look at the marked fields.", {
      [name]: `Expected an amount in ${currency}, such as 12.50; not “${typed}”.`,
    });
  }
}
