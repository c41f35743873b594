import { ROUNDING_WORDS } from "@/lib/money";
import { checkRange, type Worked } from "@/lib/units";
import { customerPrice } from "./customer-lines";
import {
  type CustomerLine,
  LINE_KINDS,
  type PricedPart,
  type PricedQuote,
  type QuoteOptions,
} from "./lines";
import {
  type Amounts,
  atHours,
  checkPart,
  costLines,
  partAmounts,
  partPrice,
  total,
} from "./part-price";
import { checkRateCard, type RateCard } from "./rate-card";
import type { TaxTotal } from "./tax";
import { moneyInput, percentInput, workedMoney } from "./worked-money";

/**
 * Prices a job: the shop's lines with their working, and what the customer reads (`customerPrice`). Each tax is taken
 * once of all that it applies to and shared out over the lines, so that lines, taxes and totals agree (`taxed`).
 *
 * @param parts one or more
 * @throws RangeError naming the figure that is out of its range
 * @example quoteLines([hinge], rates, { rush: true }).totalMinor
 */
export function quoteLines(
  parts: readonly PricedPart[],
  rates: RateCard,
  options: QuoteOptions = {},
): PricedQuote {
  check(parts, rates, options);
  const { currency, pricesIncludeTax } = rates;
  const price = customerPrice(parts, rates, options);
  const { lines, netMinor, taxMinor, totalMinor, taxes, discountPercent } = price;
  // If the hours were known there would be no gap, so no contingency; the discount is that of the quote.
  const at = (hours: (part: PricedPart) => number): number =>
    customerPrice(
      parts.map((part) => atHours(part, hours(part))),
      rates,
      { ...options, discountPercent },
    ).totalMinor;
  // Rounding each line may put the price a minor unit outside its own range; the range then ends at the price.
  const lowMinor = Math.min(
    totalMinor,
    at((part) => part.hoursP10 ?? part.hoursP50),
  );
  const highMinor = Math.max(
    totalMinor,
    at((part) => part.hoursP90),
  );
  const prices = parts.map((part) => partPrice(part, rates));
  return {
    currency,
    costs: costLines(parts, sumAmounts(parts, rates), rates),
    parts: prices,
    adjustmentMinor: netMinor - total(prices.map((price) => price.netMinor)),
    lines,
    netMinor,
    taxMinor,
    totalMinor,
    discountPercent,
    taxes,
    pricesIncludeTax,
    net: workedNet(lines, netMinor, currency),
    tax: workedTax(taxes, taxMinor, rates),
    total: workedTotal({ netMinor, taxMinor, totalMinor, lowMinor, highMinor }, currency),
    lowMinor,
    highMinor,
  };
}

function check(parts: readonly PricedPart[], rates: RateCard, options: QuoteOptions): void {
  if (parts.length === 0) throw new RangeError("a quote needs at least one part");
  parts.forEach(checkPart);
  checkRateCard(rates);
  checkRange("discountPercent", options.discountPercent ?? 0, 0, 100, "%");
}

function sumAmounts(parts: readonly PricedPart[], rates: RateCard): Amounts {
  const all = parts.map((part) => partAmounts(part, rates));
  return Object.fromEntries(
    LINE_KINDS.map((kind) => [kind, total(all.map((amounts) => amounts[kind]))]),
  ) as Amounts;
}

function workedNet(lines: readonly CustomerLine[], netMinor: number, currency: string): Worked {
  return workedMoney({
    name: "net",
    minor: netMinor,
    currency,
    formula: "N = Σ lines",
    inputs: lines.map((line) =>
      moneyInput(line.label, line.netMinor, currency, { standing: "assumption" }),
    ),
    standing: "assumption",
    note: "Each line is rounded to whole minor units before it is added.",
  });
}

function workedTax(taxes: readonly TaxTotal[], taxMinor: number, rates: RateCard): Worked {
  const { currency, pricesIncludeTax, rounding } = rates;
  return workedMoney({
    name: "tax",
    minor: taxMinor,
    currency,
    formula: pricesIncludeTax ? "T = Σ G · t / (100 + t)" : "T = Σ N · t / 100",
    inputs: taxes.flatMap(({ name, percent, baseMinor }) => [
      moneyInput(`net under ${name}`, baseMinor, currency, { standing: "assumption" }),
      percentInput(name, "t", percent),
    ]),
    standing: "entered here",
    note: `Each tax once of all that it applies to, rounded ${ROUNDING_WORDS[rounding]}; shared out over the lines by largest remainder.`,
  });
}

type Totals = Record<"netMinor" | "taxMinor" | "totalMinor" | "lowMinor" | "highMinor", number>;

function workedTotal(totals: Totals, currency: string): Worked {
  return workedMoney({
    name: "total",
    minor: totals.totalMinor,
    lowMinor: totals.lowMinor,
    highMinor: totals.highMinor,
    currency,
    formula: "total = N + T",
    inputs: [
      moneyInput("net", totals.netMinor, currency, { symbol: "N", standing: "assumption" }),
      moneyInput("tax", totals.taxMinor, currency, { symbol: "T", standing: "entered here" }),
    ],
    standing: "assumption",
    note: "The range is the total if the hours were the shortest and the longest expected.",
  });
}
