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
