/**
 * How much of the part's mean current a place gets, in six steps of half a decade. The tones run from magnetite by
 * iron oxide and brass to soda, each clearly lighter than the one before: told apart by lightness alone, and so in grey
 * and by eyes that mix up red and green.
 */
export const SHADES = [
  { below: 0.03, colour: "#201815", words: "under 3 %" },
  { below: 0.1, colour: "#692e17", words: "3 to 10 %" },
  { below: 0.3, colour: "#96511f", words: "10 to 30 %" },
  { below: 1, colour: "#b68136", words: "30 to 100 %" },
  { below: 3, colour: "#d9b463", words: "1 to 3 times" },
  { below: Infinity, colour: "#faf0d2", words: "over 3 times" },
] as const;

/** Place in `SHADES` of a share of the mean. @example shadeOf(0.05) // 1 */
export function shadeOf(ratio: number): number {
  return SHADES.findIndex(({ below }) => ratio < below);
}

/** A share of the mean in words. @example ratioWords(0.046) // "5 % of the mean" */
export function ratioWords(ratio: number): string {
  if (ratio >= 1.95) return `${ratio.toFixed(1)} times the mean`;
  const percent = 100 * ratio;
  return `${percent < 1 ? percent.toFixed(1) : percent.toFixed(0)} % of the mean`;
}
