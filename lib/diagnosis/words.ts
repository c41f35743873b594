/** @example amps(0.25) // "0.25 A" */
export const amps = (value: number): string => `${value.toFixed(Math.abs(value) < 1 ? 2 : 1)} A`;

/** @example volts(12.46) // "12.5 V" */
export const volts = (value: number): string => `${value.toFixed(1)} V`;

/** Whole per cent, but never a nought or a hundred that is not one. @example percent(0.999) // "over 99 %" */
export function percent(share: number): string {
  if (share > 0.99 && share < 1) return "over 99 %";
  if (share > 0 && share < 0.01) return "under 1 %";
  return `${Math.round(100 * share)} %`;
}

/** How sure, in a word. @example likelihoodWord(0.8) // "likely" */
export function likelihoodWord(probability: number): string {
  if (probability >= 0.95) return "almost sure";
  if (probability >= 0.7) return "likely";
  if (probability >= 0.3) return "perhaps";
  if (probability >= 0.1) return "less likely";
  return "hardly";
}
