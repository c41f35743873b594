import { allocate, apportion, money, percentOf, percentWithin, type Rounding } from "@/lib/money";
import { checkRange } from "@/lib/units";

/** One tax as it is printed: "VAT" at 20 %. */
export type Tax = { readonly name: string; readonly percent: number };

/** How a line is taxed: none, one or several taxes on the same net ("GST" 5 % and "PST" 7 %). */
export type TaxRule = {
  /** short, unique on its card, and kept with every line: "standard" */
  readonly code: string;
  /** as somebody chooses it: "Reduced rate for repairs" */
  readonly label: string;
  readonly taxes: readonly Tax[];
};

export type TaxPolicy = {
  /** one or more; the first is the usual one */
  readonly rules: readonly TaxRule[];
  /** whether amounts already contain their tax */
  readonly pricesInclude: boolean;
  readonly rounding: Rounding;
};

/** An amount as it stands on a line: with its tax where prices include it. Whole minor units, negative for a discount. */
export type TaxableLine = { readonly amountMinor: number; readonly taxCode: string };

export type TaxedLine = {
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly grossMinor: number;
};

/** One tax over the whole document. */
export type TaxTotal = {
  readonly code: string;
  readonly name: string;
  readonly percent: number;
  /** net that it is taken of */
  readonly baseMinor: number;
  readonly taxMinor: number;
};

export type Taxed = {
  /** in the order of the lines given */
  readonly lines: readonly TaxedLine[];
  /** by rule, in the order of the rules; what is not taxed stands there too, at 0 % */
  readonly taxes: readonly TaxTotal[];
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly totalMinor: number;
};

/** Taxes on one line may come to this, %. */
export const MOST_TAX_PERCENT = 100;

/**
 * Taxes the lines of a document. Each tax is taken once of all that it applies to and rounded by name; the lines'
 * shares are whole minor units that add up to it (largest remainder). So the lines, the taxes and the totals agree
 * whichever way they are added, with or without the tax in the prices.
 *
 * @throws RangeError naming a code that no rule has
 * @example taxed([{ amountMinor: 10000, taxCode: "standard" }], policy, "EUR").totalMinor // 12000 at 20 %
 */
export function taxed(lines: readonly TaxableLine[], policy: TaxPolicy, currency: string): Taxed {
  checkCodes(lines, policy.rules);
  const shares = new Array<TaxedLine>(lines.length);
  const taxes: TaxTotal[] = [];
  for (const rule of policy.rules) {
    const own = lines.flatMap((line, index) =>
      line.taxCode === rule.code ? [{ index, amountMinor: line.amountMinor }] : [],
    );
    if (own.length === 0) continue;
    const amounts = own.map(({ amountMinor }) => amountMinor);
    const { totals, lineTaxes } = taxRule(amounts, rule, policy, currency);
    taxes.push(...totals);
    own.forEach(({ index, amountMinor }, place) => {
      const taxMinor = lineTaxes[place] ?? 0;
      const netMinor = policy.pricesInclude ? amountMinor - taxMinor : amountMinor;
      shares[index] = { netMinor, taxMinor, grossMinor: netMinor + taxMinor };
    });
  }
  const netMinor = shares.reduce((sum, line) => sum + line.netMinor, 0);
  const taxMinor = shares.reduce((sum, line) => sum + line.taxMinor, 0);
  return { lines: shares, taxes, netMinor, taxMinor, totalMinor: netMinor + taxMinor };
}

function taxRule(
  amounts: readonly number[],
  { code, label, taxes }: TaxRule,
  { pricesInclude, rounding }: TaxPolicy,
  currency: string,
): { readonly totals: readonly TaxTotal[]; readonly lineTaxes: readonly number[] } {
  const all = money(
    amounts.reduce((sum, amount) => sum + amount, 0),
    currency,
  );
  const percent = taxes.reduce((sum, tax) => sum + tax.percent, 0);
  const each = pricesInclude
    ? parts(percentWithin(all, percent, rounding).minor, taxes, currency)
    : taxes.map((tax) => percentOf(all, tax.percent, rounding).minor);
  const taxMinor = each.reduce((sum, tax) => sum + tax, 0);
  const share = pricesInclude ? percent / (100 + percent) : percent / 100;
  const base = { code, baseMinor: pricesInclude ? all.minor - taxMinor : all.minor };
  return {
    totals:
      taxes.length === 0
        ? [{ ...base, name: label, percent: 0, taxMinor: 0 }]
        : taxes.map((tax, index) => ({ ...base, ...tax, taxMinor: each[index] ?? 0 })),
    lineTaxes: spread(taxMinor, amounts, share, currency),
  };
}

/** What prices contain of all taxes together, split by their percentages. */
function parts(taxMinor: number, taxes: readonly Tax[], currency: string): readonly number[] {
  const weights = taxes.map(({ percent }) => percent);
  if (weights.every((weight) => weight === 0)) return taxes.map(() => 0);
  return allocate(money(taxMinor, currency), weights).map(({ minor }) => minor);
}

/** Tax by line: each line's exact share, brought to whole minor units that add up. */
function spread(
  taxMinor: number,
  amounts: readonly number[],
  share: number,
  currency: string,
): readonly number[] {
  const exact = amounts.map((amount) => amount * share);
  // Roundings toward one side, and several taxes rounded each, leave the exact sum by more than the lines can take up.
  const off = taxMinor - exact.reduce((sum, each) => sum + each, 0);
  const even = exact.map((each) => each + off / exact.length);
  return apportion(money(taxMinor, currency), even).map(({ minor }) => minor);
}

function checkCodes(lines: readonly TaxableLine[], rules: readonly TaxRule[]): void {
  const known = new Set(rules.map(({ code }) => code));
  for (const { taxCode } of lines) {
    if (!known.has(taxCode)) {
      throw new RangeError(
        `no tax rule has the code “${taxCode}”: there are ${[...known].join(", ")}`,
      );
    }
  }
}

/** @throws RangeError naming the rule that cannot be */
export function checkTaxRules(rules: readonly TaxRule[]): void {
  if (rules.length === 0) throw new RangeError("taxRules must have at least one rule");
  const codes = new Set<string>();
  for (const { code, label, taxes } of rules) {
    if (code === "" || codes.has(code)) {
      throw new RangeError(`taxRules must have different codes, got “${code}” twice or empty`);
    }
    if (label.trim() === "") throw new RangeError(`taxRules: “${code}” must have a label`);
    codes.add(code);
    let together = 0;
    for (const { name, percent } of taxes) {
      if (name.trim() === "") throw new RangeError(`taxRules: a tax of “${label}” has no name`);
      checkRange(`tax ${name} of ${label}`, percent, 0, MOST_TAX_PERCENT, "%");
      together += percent;
    }
    checkRange(`taxes of ${label}`, together, 0, MOST_TAX_PERCENT, "%");
  }
}
