/**
 * Money: a whole number of minor units (cents) in one ISO 4217 currency. No floating amounts anywhere;
 * fractions appear only inside a named rounding.
 */
export type Money = { readonly minor: number; readonly currency: string };

/** ISO 4217 minor-unit digits where they are not 2 (from memory of ISO 4217:2015 table A.1). */
const MINOR_DIGITS: ReadonlyMap<string, number> = new Map([
  ["JPY", 0],
  ["KRW", 0],
  ["CLP", 0],
  ["ISK", 0],
  ["BHD", 3],
  ["KWD", 3],
  ["OMR", 3],
  ["JOD", 3],
  ["TND", 3],
]);

/** @example minorDigits("JPY") // 0 */
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
 *
 * @example roundHalfEven(2.5) // 2
 */
export function roundHalfEven(value: number): number {
  const floor = Math.floor(value);
  const fraction = value - floor;
  if (Math.abs(fraction - 0.5) < 1e-9) return floor % 2 === 0 ? floor : floor + 1;
  return Math.round(value);
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

/**
 * Splits an amount by weights so that the shares always add up to it (largest remainder).
 *
 * @param weights each finite and not negative, at least one above zero
 * @throws RangeError otherwise
 * @example allocate(money(100, "EUR"), [1, 1, 1]) // 34, 33, 33
 */
export function allocate(amount: Money, weights: readonly number[]): readonly Money[] {
  const total = weights.reduce((a, b) => a + b, 0);
  if (!(total > 0) || weights.some((weight) => !(Number.isFinite(weight) && weight >= 0))) {
    throw new RangeError(`weights must be finite, not negative and not all zero, got [${weights}]`);
  }
  const exact = weights.map((weight) => (amount.minor * weight) / total);
  const shares = exact.map(Math.floor);
  let left = amount.minor - shares.reduce((a, b) => a + b, 0);
  const byRemainder = exact
    .map((value, index) => ({ index, remainder: value - Math.floor(value) }))
    .sort((a, b) => b.remainder - a.remainder || a.index - b.index);
  for (const { index } of byRemainder) {
    if (left <= 0) break;
    shares[index] = (shares[index] ?? 0) + 1;
    left -= 1;
  }
  return shares.map((minor) => money(minor, amount.currency));
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
  }).format(amount.minor / 10 ** digits);
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
