import { type Rounding, roundRatio } from "./rounding";

/**
 * Money: a whole number of minor units (cents) in one ISO 4217 currency. No floating amounts anywhere;
 * fractions appear only inside a named rounding.
 */
export type Money = { readonly minor: number; readonly currency: string };

/** ISO 4217 minor-unit digits where they are not 2 (from memory of ISO 4217:2015 table A.1). */
const OTHER_THAN_TWO: Readonly<Record<number, string>> = {
  0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
  3: "BHD IQD JOD KWD LYD OMR TND",
  4: "CLF UYW",
};
const MINOR_DIGITS: ReadonlyMap<string, number> = new Map(
  Object.entries(OTHER_THAN_TWO).flatMap(([digits, codes]) =>
    codes.split(" ").map((code): [string, number] => [code, Number(digits)]),
  ),
);

/** Decimal places of a currency. @example minorDigits("JPY") // 0 */
export function minorDigits(currency: string): number {
  return MINOR_DIGITS.get(currency) ?? 2;
}

/**
 * @param minor whole minor units, safe integer
 * @throws RangeError if `minor` is not a safe integer or `currency` is not three capital letters
 * @example money(1250, "EUR") // 12.50 EUR
 */
export function money(minor: number, currency: string): Money {
  if (!Number.isSafeInteger(minor)) {
    throw new RangeError(`minor must be a whole number of minor units, got ${minor}`);
  }
  if (!/^[A-Z]{3}$/.test(currency)) {
    throw new RangeError(`currency must be an ISO 4217 code such as EUR, got “${currency}”`);
  }
  return { minor: minor === 0 ? 0 : minor, currency };
}

export function zero(currency: string): Money {
  return money(0, currency);
}

/** @throws RangeError if the currencies differ */
export function add(a: Money, b: Money): Money {
  checkSameCurrency(a, b);
  return money(a.minor + b.minor, a.currency);
}

/** @throws RangeError if the currencies differ */
export function subtract(a: Money, b: Money): Money {
  checkSameCurrency(a, b);
  return money(a.minor - b.minor, a.currency);
}

/** Adds up a list; an empty list is zero of `currency`. */
export function sum(amounts: readonly Money[], currency: string): Money {
  return amounts.reduce(add, zero(currency));
}

/**
 * Rounds halves to the even neighbour (IEEE 754 roundTiesToEven), so that many roundings do not drift.
 * What is nearer than 1e-9 to a half counts as one: 1.005 × 100 is a half to a person.
 *
 * @example roundHalfEven(2.5) // 2
 */
export function roundHalfEven(value: number): number {
  const floor = Math.floor(value);
  const fraction = value - floor;
  const rounded =
    Math.abs(fraction - 0.5) < 1e-9 ? (floor % 2 === 0 ? floor : floor + 1) : Math.round(value);
  return rounded === 0 ? 0 : rounded; // never −0, which would be written "-0.00"
}

/**
 * An amount times a plain number, rounded half-even to whole minor units.
 *
 * @example times(money(999, "EUR"), 0.5) // 5.00 EUR (499.5 → 500)
 */
export function times(amount: Money, factor: number): Money {
  if (!Number.isFinite(factor)) throw new RangeError(`factor must be finite, got ${factor}`);
  return money(roundHalfEven(amount.minor * factor), amount.currency);
}

/** Percentages are taken as whole millionths of a percent: exact to six decimals. */
const PER_PERCENT = 1_000_000;
const HUNDRED_PERCENT = BigInt(100 * PER_PERCENT);

/**
 * A percentage of an amount in whole minor units: exact for percentages of up to six decimals, however large the
 * amount.
 *
 * @param percent finite; 19 is 19 %
 * @throws RangeError if it is not finite
 * @example percentOf(money(1250, "EUR"), 19) // 2.38 EUR (237.5 → 238)
 */
export function percentOf(
  amount: Money,
  percent: number,
  rounding: Rounding = "TIES_TO_EVEN",
): Money {
  const product = BigInt(amount.minor) * millionths(percent);
  return money(Number(roundRatio(product, HUNDRED_PERCENT, rounding)), amount.currency);
}

/**
 * The percentage that an amount already contains: of 119 at 19 %, 19.
 *
 * @param percent finite, 0 or more
 * @throws RangeError if it is not
 * @example percentWithin(money(11900, "EUR"), 19) // 19.00 EUR
 */
export function percentWithin(
  amount: Money,
  percent: number,
  rounding: Rounding = "TIES_TO_EVEN",
): Money {
  const share = millionths(percent);
  if (share < 0n) throw new RangeError(`percent must be 0 or more, got ${percent}`);
  const product = BigInt(amount.minor) * share;
  return money(Number(roundRatio(product, HUNDRED_PERCENT + share, rounding)), amount.currency);
}

function millionths(percent: number): bigint {
  if (!Number.isFinite(percent)) throw new RangeError(`percent must be finite, got ${percent}`);
  return BigInt(Math.round(percent * PER_PERCENT));
}

/**
 * An amount to the nearest multiple of a step, as where the smallest coin is five cents.
 *
 * @param stepMinor whole minor units, 1 or more
 * @throws RangeError if it is not
 * @example roundToStep(money(1248, "CHF"), 5, "TIES_TO_EVEN") // 12.50 CHF
 */
export function roundToStep(amount: Money, stepMinor: number, rounding: Rounding): Money {
  if (!(Number.isSafeInteger(stepMinor) && stepMinor >= 1)) {
    throw new RangeError(`a step is a whole number of minor units of 1 or more, got ${stepMinor}`);
  }
  const steps = roundRatio(BigInt(amount.minor), BigInt(stepMinor), rounding);
  return money(Number(steps) * stepMinor, amount.currency);
}

/**
 * Splits an amount by weights so that the shares always add up to it (largest remainder, the earlier of equals first).
 *
 * @param weights each finite and not negative, at least one above zero
 * @throws RangeError otherwise
 * @example allocate(money(100, "EUR"), [1, 1, 1]) // 34, 33, 33
 */
export function allocate(amount: Money, weights: readonly number[]): readonly Money[] {
  const total = weights.reduce((a, b) => a + b, 0);
  const usable = weights.every((weight) => Number.isFinite(weight) && weight >= 0);
  if (!(usable && total > 0 && Number.isFinite(total))) {
    const given = weights.join(", ");
    throw new RangeError(`weights must be finite, not negative and not all zero, got [${given}]`);
  }
  return apportion(
    amount,
    weights.map((weight) => amount.minor * (weight / total)),
  );
}

/**
 * Rounds exact shares to whole minor units that add up to `amount`: each is rounded down, and what is left goes to the
 * largest remainders first. For tax by line, where a discount's share is negative.
 *
 * @param exact shares in minor units, whose sum is within a minor unit a share of `amount`
 * @throws RangeError if they are not
 * @example apportion(money(10, "EUR"), [12.6, -2.6]) // 13, -3
 */
export function apportion(amount: Money, exact: readonly number[]): readonly Money[] {
  const shares = exact.map(Math.floor);
  const left = amount.minor - shares.reduce((a, b) => a + b, 0);
  if (!(left >= 0 && left <= shares.length)) {
    const given = exact.join(", ");
    throw new RangeError(`shares must add up to ${amount.minor} minor units, got [${given}]`);
  }
  const byRemainder = exact
    .map((value, index) => ({ index, remainder: value - Math.floor(value) }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index);
  const favoured = new Set(byRemainder.slice(0, left).map(({ index }) => index));
  return shares.map((share, index) =>
    money(favoured.has(index) ? share + 1 : share, amount.currency),
  );
}

function checkSameCurrency(a: Money, b: Money): void {
  if (a.currency !== b.currency) {
    throw new RangeError(`cannot combine ${a.currency} with ${b.currency}`);
  }
}

/**
 * Written for a person, in the customs of `locale`.
 *
 * @example formatMoney(money(1250, "EUR"), "en-GB") // "€12.50"
 */
export function formatMoney(amount: Money, locale: string): string {
  const digits = minorDigits(amount.currency);
  return new Intl.NumberFormat(locale, {
    style: "currency",
    currency: amount.currency,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(majorUnits(amount));
}

/**
 * An amount in whole currency units, for a figure with its unit. Not for sums: those stay in minor units.
 *
 * @example majorUnits(money(1250, "EUR")) // 12.5
 */
export function majorUnits(amount: Money): number {
  return amount.minor / 10 ** minorDigits(amount.currency);
}

/**
 * Reads what a person typed ("12.50", "12,50", "1 250") as money.
 *
 * @throws RangeError naming the text when it is not an amount or has too many decimals
 */
export function parseMoney(text: string, currency: string): Money {
  const digits = minorDigits(currency);
  const plain = text
    .trim()
    .replace(/[\s\u00a0\u202f]/g, "")
    .replace(",", ".");
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(plain);
  const decimals = match?.[3] ?? "";
  if (!match || decimals.length > digits) {
    throw new RangeError(
      `“${text}” is not an amount in ${currency}: write digits, with at most ${digits} decimals`,
    );
  }
  const minor = Number(`${match[2]}${decimals.padEnd(digits, "0")}`);
  return money(match[1] ? -minor : minor, currency);
}
