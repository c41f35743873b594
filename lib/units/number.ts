/** Plain numbers as people type and read them, before any unit. */

/** Digits with one point or comma; an exponent, since the forms themselves fill one in for very small values. */
const NUMBER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)(e[+-]?\d+)?$/i;
/** "1 234 567": a space, also a narrow or unbreakable one, between groups of three. */
const GROUPED = /^([+-]?\d{1,3})((\s\d{3})+)(?=$|[.,])/;
/** "1,234" is a thousand to some and about one to others: never guessed. */
const AMBIGUOUS = /^[+-]?[1-9]\d{0,2}(,\d{3})+$/;

/** Why an ambiguous number is refused. */
export const TYPE_WITHOUT_COMMA =
  "A comma before three digits can mean two things: leave it out, or write a point for decimals.";

/** Whether a number may mean two things. @example isAmbiguousNumber("1,234") // true */
export const isAmbiguousNumber = (typed: string): boolean => AMBIGUOUS.test(typed);

/**
 * One plain number, with a point or a comma; spaces may group the thousands.
 *
 * @returns NaN for anything else
 * @example plainNumber("1 234,5") // 1234.5
 */
export function plainNumber(typed: string): number {
  const joined = typed.replace(GROUPED, (group) => group.replace(/\s/g, "")).replace("−", "-");
  return NUMBER.test(joined) ? Number(joined.replace(",", ".")) : Number.NaN;
}

/** Number's own text has a power of ten below a millionth, which nobody at the bench reads. */
const SMALL = new Intl.NumberFormat("en", { maximumSignificantDigits: 2 });

/**
 * A measured number with about three figures, no more than it deserves.
 *
 * @example formatNumber(3.14159) // "3.14"
 * @example formatNumber(1234.5) // "1235"
 */
export function formatNumber(value: number): string {
  if (!Number.isFinite(value)) return "—";
  const size = Math.abs(value);
  if (size === 0) return "0";
  if (size >= 100) return String(Math.round(value));
  if (size >= 10) return value.toFixed(1).replace(/\.0$/, "");
  if (size >= 0.01) return Number(value.toPrecision(3)).toString();
  return SMALL.format(value);
}
