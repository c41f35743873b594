import { formatNumber } from "@/lib/units";

/**
 * Tones of the steps, quick to slow: from soda by brass and iron oxide to magnetite, each clearly darker than the one
 * before. They are told apart by lightness alone, and so in grey and by eyes that mix up colours.
 */
export const TONES = ["#faf0d2", "#d9b463", "#b68136", "#96511f", "#692e17", "#201815"] as const;
/** Above the level, where no current comes. */
export const DRY_TONE = "#8d959b";

/** Round numbers of hours, as one says them. */
const ROUND_HOURS = [
  0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 15, 18, 24, 30, 36, 48, 60, 72, 96, 120, 168,
  240, 336, 504, 720,
] as const;
const MOST_LIMITS = TONES.length - 1;

/** Steps of hours: below the first limit, between two, and longer than the last. */
export type HourSteps = {
  /** h, rising; 1 to 5 of them. */
  readonly limits: readonly number[];
  /** One for each step, quick to slow. */
  readonly tones: readonly string[];
};

/**
 * Steps for what takes from so many to so many hours: round numbers, about evenly spread by ratio.
 *
 * @param shortest h, > 0
 * @param longest  h, ≥ shortest; may be infinite
 * @example hourSteps(3.4, 26).limits // [4, 6, 10, 15, 24]
 */
export function hourSteps(shortest: number, longest: number): HourSteps {
  const within = ROUND_HOURS.filter((limit) => limit > shortest && limit < longest);
  const limits =
    within.length > MOST_LIMITS
      ? spread(within, MOST_LIMITS)
      : within.length > 0
        ? within
        : [ROUND_HOURS.find((limit) => limit >= longest) ?? Math.max(1, Math.ceil(shortest))];
  return { limits, tones: spread(TONES, limits.length + 1) };
}

/** So many of a list, first and last among them. */
function spread<Item>(items: readonly Item[], count: number): readonly Item[] {
  return Array.from(
    { length: count },
    (_, at) => items[Math.round((at * (items.length - 1)) / Math.max(1, count - 1))],
  ).filter((item) => item !== undefined);
}

/** Which step so many hours are in. @example stepOf([4, 8], 5) // 1 */
export function stepOf(limits: readonly number[], hours: number): number {
  const step = limits.findIndex((limit) => hours < limit);
  return step < 0 ? limits.length : step;
}

/**
 * Place on a scale on which every step is as long as the others, 0 to 1: between limits by ratio.
 * @example onScale([4, 9], 6) // 0.5
 */
export function onScale(limits: readonly number[], hours: number): number {
  const step = stepOf(limits, hours);
  const low = limits[step - 1] ?? (limits[0] ?? 1) / 2;
  const high = limits[step] ?? 2 * (limits.at(-1) ?? 1);
  const share = Math.log(hours / low) / Math.log(high / low);
  return (step + Math.min(0.999, Math.max(0.001, share))) / (limits.length + 1);
}

/** Colour of so many hours; NaN is dry. @example toneAt(hourSteps(3, 9), 20) // "#201815" */
export function toneAt({ limits, tones }: HourSteps, hours: number): string {
  return Number.isNaN(hours) ? DRY_TONE : (tones[stepOf(limits, hours)] ?? DRY_TONE);
}

/** @example stepWords([4, 8], 1) // "4 to 8 h" */
export function stepWords(limits: readonly number[], step: number): string {
  const [low, high] = [limits[step - 1], limits[step]];
  if (low === undefined) return `under ${formatNumber(high ?? 0)} h`;
  if (high === undefined) return `longer than ${formatNumber(low)} h`;
  return `${formatNumber(low)} to ${formatNumber(high)} h`;
}

/** Hours as one says them: two figures. @example hoursWords(14.2) // "14 h" */
export function hoursWords(hours: number): string {
  if (!Number.isFinite(hours)) return "never";
  return `${formatNumber(Number(hours.toPrecision(2)))} h`;
}
