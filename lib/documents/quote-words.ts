import { formatMoney, money } from "@/lib/money";
import type { DocumentTax, QuoteDocument, QuoteDocumentOption } from "./types";
import { printable } from "./wrap";

/** Writes amounts of a quote in its currency and customs. */
export const amountWriter =
  ({ currency, locale }: Pick<QuoteDocument, "currency" | "locale">) =>
  (minor: number): string =>
    printable(formatMoney(money(minor, currency), locale));

/** @example taxName({ name: "VAT", percent: 20, … }, "en-GB") // "VAT, 20 %" */
export function taxName({ name, percent }: DocumentTax, locale: string): string {
  const written = new Intl.NumberFormat(locale, { maximumFractionDigits: 6 }).format(percent);
  return `${name}, ${written} %`;
}

/** What the hours could make of a price, and what is asked before work begins, in sentences. */
export function rangeWords(
  { totalMinor, lowMinor, highMinor, depositMinor }: QuoteDocumentOption,
  amount: (minor: number) => string,
): readonly string[] {
  const range =
    lowMinor < highMinor
      ? [
          `By the hours it could come to ${amount(lowMinor)} with the shortest that we expect and ${amount(highMinor)} with the longest. The price offered is ${amount(totalMinor)}, however long it takes.`,
        ]
      : [];
  const deposit =
    depositMinor > 0
      ? [`Deposit before work begins: ${amount(depositMinor)}, part of this price.`]
      : [];
  return [...range, ...deposit];
}
