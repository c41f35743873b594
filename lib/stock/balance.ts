import { money, type Money, roundHalfEven } from "@/lib/money";
import { fromThousandths, inThousandths } from "./quantity";
import type { EntryKind } from "./words";

/** One line of the ledger. In is positive, out is negative, for the quantity and for its cost. */
export type StockEntry = {
  readonly lotId: string;
  readonly kind: EntryKind;
  readonly quantity: number;
  /** whole minor units */
  readonly costMinor: number;
};

/** What is left of one lot, or of all of them. */
export type Balance = { readonly onHand: number; readonly valueMinor: number };

/**
 * What a ledger leaves on hand, and what that cost.
 *
 * @example balance([received20kg, used500g]) // { onHand: 19500, valueMinor: 3900 }
 */
export function balance(entries: readonly StockEntry[]): Balance {
  let steps = 0;
  let valueMinor = 0;
  for (const entry of entries) {
    steps += inThousandths(entry.quantity);
    valueMinor += entry.costMinor;
  }
  return { onHand: fromThousandths(steps), valueMinor };
}

/** The same for each lot, in the order in which the lots first appear. */
export function lotBalances(entries: readonly StockEntry[]): ReadonlyMap<string, Balance> {
  const byLot = new Map<string, StockEntry[]>();
  for (const entry of entries) {
    byLot.set(entry.lotId, [...(byLot.get(entry.lotId) ?? []), entry]);
  }
  return new Map([...byLot].map(([lotId, own]) => [lotId, balance(own)]));
}

/** What the same ledger would say at average cost. */
export type AverageCost = {
  readonly onHand: number;
  /** cost of what is left */
  readonly value: Money;
  /** cost of all that went out, less what came back */
  readonly out: Money;
};

/**
 * Values a ledger at the moving weighted average, for comparison with first in, first out: each delivery changes
 * the average, everything else moves at the average of its moment. Both are allowed by IAS 2 paragraph 25; the
 * ledger itself is kept first in, first out.
 *
 * @param entries in order of time
 * @throws RangeError if more went out than was there
 * @example averageCost([received(10, 1000), received(10, 2000), used(5)], "EUR").out // 7.50 EUR
 */
export function averageCost(entries: readonly StockEntry[], currency: string): AverageCost {
  let steps = 0;
  let value = 0; // exact minor units: rounded once, at the end
  let receivedMinor = 0;
  for (const entry of entries) {
    const moved = inThousandths(entry.quantity);
    if (steps + moved < 0) {
      throw new RangeError(
        `${entry.kind} of ${entry.quantity} takes more than the ${fromThousandths(steps)} on hand`,
      );
    }
    if (entry.kind === "RECEIVED" || steps === 0) {
      value += entry.costMinor;
      receivedMinor += entry.costMinor;
    } else {
      value = steps + moved === 0 ? 0 : value + (value / steps) * moved;
    }
    steps += moved;
  }
  const left = roundHalfEven(value);
  return {
    onHand: fromThousandths(steps),
    value: money(left, currency),
    out: money(receivedMinor - left, currency),
  };
}
