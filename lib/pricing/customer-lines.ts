import { money, percentOf, roundToStep } from "@/lib/money";
import type { CustomerLine, CustomerLineKind, PricedPart, QuoteOptions } from "./lines";
import { partAmounts, total } from "./part-price";
import { type RateCard, taxPolicy, usualDiscount } from "./rate-card";
import { type Taxed, taxed } from "./tax";

/** A line as it is told: with its tax where prices include it. */
type ToldLine = Omit<CustomerLine, "netMinor" | "taxMinor"> & { readonly amountMinor: number };

export type CustomerPrice = Pick<Taxed, "taxes" | "netMinor" | "taxMinor" | "totalMinor"> & {
  readonly lines: readonly CustomerLine[];
  /** as given, or as the job's size earns */
  readonly discountPercent: number;
};

/**
 * What the customer reads: one line a part; then what is missing to the minimum charge; the rush, % of all before; the
 * discount, % of all before. Rush and discount are told apart by how they are taxed, so that each lies on what it
 * belongs to. Every line is a multiple of the card's price step.
 *
 * @throws RangeError naming a tax code that the card does not have
 */
export function customerPrice(
  parts: readonly PricedPart[],
  rates: RateCard,
  options: QuoteOptions,
): CustomerPrice {
  const usual = options.taxCode ?? rates.taxRules[0]?.code ?? "";
  const lines: ToldLine[] = parts.map((part) => {
    const taxCode = part.taxCode ?? usual;
    const net = total(Object.values(partAmounts(part, rates)));
    const { partId, label, detail } = part;
    return { kind: "PART", partId, label, detail, taxCode, amountMinor: told(net, taxCode, rates) };
  });
  const missing = told(rates.minimumChargeMinor, usual, rates) - sumOf(lines);
  if (missing > 0) {
    const detail = "The least for which a job is taken in.";
    const label = "Up to the minimum charge";
    lines.push({
      kind: "MINIMUM_CHARGE",
      partId: null,
      label,
      detail,
      taxCode: usual,
      amountMinor: missing,
    });
  }
  if (options.rush) lines.push(...shares("RUSH", lines, rates.rushPercent, rates));
  const discountPercent =
    options.discountPercent ?? usualDiscount(rates, taxLines(lines, rates).netMinor);
  lines.push(...shares("DISCOUNT", lines, -discountPercent, rates));
  return { ...taxLines(lines, rates), discountPercent };
}

/** A net amount as it is told, to the card's price step. */
function told(netMinor: number, taxCode: string, rates: RateCard): number {
  const net = money(netMinor, rates.currency);
  const rule = rates.taxRules.find(({ code }) => code === taxCode);
  const percent = total((rule?.taxes ?? []).map((tax) => tax.percent));
  const tax = rates.pricesIncludeTax ? percentOf(net, percent, rates.rounding).minor : 0;
  return stepped(netMinor + tax, rates);
}

const stepped = (minor: number, { currency, priceStepMinor, rounding }: RateCard): number =>
  roundToStep(money(minor, currency), priceStepMinor, rounding).minor;

const sumOf = (lines: readonly ToldLine[]): number =>
  total(lines.map(({ amountMinor }) => amountMinor));

const SHARE_WORDS = {
  RUSH: { label: "Rush", detail: "This job goes first." },
  DISCOUNT: { label: "Discount", detail: "" },
} as const satisfies Partial<Record<CustomerLineKind, object>>;

/** A percentage of all lines so far, one line for each way of taxing; none where it comes to nothing. */
function shares(
  kind: keyof typeof SHARE_WORDS,
  lines: readonly ToldLine[],
  percent: number,
  rates: RateCard,
): readonly ToldLine[] {
  const codes = [...new Set(lines.map(({ taxCode }) => taxCode))];
  const { label, detail } = SHARE_WORDS[kind];
  return codes.flatMap((taxCode) => {
    const own = sumOf(lines.filter((line) => line.taxCode === taxCode));
    const exact = percentOf(money(own, rates.currency), percent, rates.rounding).minor;
    const amountMinor = stepped(exact, rates);
    if (amountMinor === 0) return [];
    const rule = rates.taxRules.find(({ code }) => code === taxCode);
    const on = codes.length > 1 ? `, on ${rule?.label ?? taxCode}` : "";
    const words = `${label}, ${Math.abs(percent)} %${on}`;
    return [{ kind, partId: null, label: words, detail, taxCode, amountMinor }];
  });
}

function taxLines(lines: readonly ToldLine[], rates: RateCard) {
  const { lines: each, ...totals } = taxed(lines, taxPolicy(rates), rates.currency);
  return {
    ...totals,
    lines: lines.map(({ amountMinor: _, ...line }, index): CustomerLine => ({
      ...line,
      netMinor: each[index]?.netMinor ?? 0,
      taxMinor: each[index]?.taxMinor ?? 0,
    })),
  };
}
