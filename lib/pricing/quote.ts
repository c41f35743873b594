import { apportion, money, percentOf } from "@/lib/money";
import { checkRange, type Worked } from "@/lib/units";
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
import { moneyInput, percentInput, workedMoney } from "./worked-money";

type NetLine = Omit<CustomerLine, "taxMinor">;

/**
 * Prices a job: the shop's lines with their working, and what the customer reads.
 *
 * The customer sees one line a part; then what is missing to the minimum charge; the rush, % of all before; the
 * discount, % of all before. Tax is taken once of the whole net, rounded half-even, and shared out over the lines by
 * largest remainder, so that the lines' tax adds up to it.
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
  const { currency, taxName, taxPercent } = rates;
  const lines = withTax(netLines(parts, rates, options), rates);
  const { netMinor, taxMinor, totalMinor } = totalsOf(lines);
  const at = (hours: (part: PricedPart) => number): number =>
    totalAt(
      parts.map((part) => atHours(part, hours(part))),
      rates,
      options,
    );
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
    taxName,
    taxPercent,
    net: workedNet(lines, netMinor, currency),
    tax: workedTax(netMinor, taxMinor, rates),
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

function netLines(
  parts: readonly PricedPart[],
  rates: RateCard,
  { rush = false, discountPercent = 0 }: QuoteOptions,
): readonly NetLine[] {
  const lines: NetLine[] = parts.map((part) => ({
    kind: "PART",
    partId: part.partId,
    label: part.label,
    detail: part.detail,
    netMinor: total(Object.values(partAmounts(part, rates))),
  }));
  const soFar = (): number => total(lines.map((line) => line.netMinor));
  const percent = (share: number): number => percentOf(money(soFar(), rates.currency), share).minor;
  const extra = (kind: NetLine["kind"], label: string, netMinor: number, detail = ""): void => {
    if (netMinor !== 0) lines.push({ kind, partId: null, label, detail, netMinor });
  };
  const missing = Math.max(0, rates.minimumChargeMinor - soFar());
  extra(
    "MINIMUM_CHARGE",
    "Up to the minimum charge",
    missing,
    "The least for which a job is taken in.",
  );
  if (rush)
    extra(
      "RUSH",
      `Rush, ${rates.rushPercent} %`,
      percent(rates.rushPercent),
      "This job goes first.",
    );
  extra("DISCOUNT", `Discount, ${discountPercent} %`, -percent(discountPercent));
  return lines;
}

function withTax(
  lines: readonly NetLine[],
  { currency, taxPercent }: RateCard,
): readonly CustomerLine[] {
  const net = money(total(lines.map((line) => line.netMinor)), currency);
  const taxes = apportion(
    percentOf(net, taxPercent),
    lines.map((line) => (line.netMinor * taxPercent) / 100),
  );
  return lines.map((line, index) => ({ ...line, taxMinor: taxes[index]?.minor ?? 0 }));
}

function totalsOf(lines: readonly CustomerLine[]) {
  const netMinor = total(lines.map((line) => line.netMinor));
  const taxMinor = total(lines.map((line) => line.taxMinor));
  return { netMinor, taxMinor, totalMinor: netMinor + taxMinor };
}

/** The total with tax if the hours were known: there is no gap, so no contingency. */
function totalAt(parts: readonly PricedPart[], rates: RateCard, options: QuoteOptions): number {
  return totalsOf(withTax(netLines(parts, rates, options), rates)).totalMinor;
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

function workedTax(netMinor: number, taxMinor: number, rates: RateCard): Worked {
  return workedMoney({
    name: rates.taxName,
    minor: taxMinor,
    currency: rates.currency,
    formula: "T = N · t / 100",
    inputs: [
      moneyInput("net", netMinor, rates.currency, { symbol: "N", standing: "assumption" }),
      percentInput(rates.taxName, "t", rates.taxPercent),
    ],
    standing: "entered here",
    note: "Of the whole net, rounded half to even; shared out over the lines by largest remainder.",
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
