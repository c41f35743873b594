import { checkNonNegative } from "@/lib/units";

/** 90th percentile of the standard normal distribution (from memory of the usual table). */
export const NORMAL_P90 = 1.2816;

/** How fast something is used up: what is usual a week, and what the coming weeks are booked for. */
export type WeeklyUse = {
  /** each of the last whole weeks, idle ones too */
  readonly past: readonly number[];
  /** this week first; what runs are booked for, 0 in a week without; may be empty */
  readonly booked: readonly number[];
};

/** Mean of the past weeks and its standard error; a single week may be as far off as it is large. */
export function meanWeek(past: readonly number[]): {
  readonly mean: number;
  readonly errorOfMean: number;
} {
  if (past.length === 0) return { mean: 0, errorOfMean: 0 };
  const mean = past.reduce((total, week) => total + week, 0) / past.length;
  const squares = past.reduce((total, week) => total + (week - mean) ** 2, 0);
  const variance = past.length > 1 ? squares / (past.length - 1) : mean ** 2;
  return { mean, errorOfMean: Math.sqrt(variance / past.length) };
}

/**
 * Weeks until an amount is used up. A week is worth what it is booked for, or the usual week where that is more:
 * bookings of weeks to come are seldom all made yet.
 *
 * @param amount 0 and up, in the unit of the weekly use
 * @returns weeks from now; Infinity where nothing is usual and the bookings do not reach it
 * @throws RangeError if the amount or a week is negative or not finite
 * @example weeksUntil(100, { past: [20, 20], booked: [60] }) // 3: 60, 20, 20
 */
export function weeksUntil(amount: number, { past, booked }: WeeklyUse): number {
  checkNonNegative("amount left", amount, "of the weekly use");
  for (const week of [...past, ...booked]) checkNonNegative("weekly use", week, "a week");
  if (amount === 0) return 0;
  const { mean } = meanWeek(past);
  let left = amount;
  for (const [week, bookedUse] of booked.entries()) {
    const use = Math.max(bookedUse, mean);
    if (left <= use) return week + left / use;
    left -= use;
  }
  return mean === 0 ? Number.POSITIVE_INFINITY : booked.length + left / mean;
}

/** Weeks as one in ten, half and nine in ten. */
export type WeeksBand = { readonly p10: number; readonly p50: number; readonly p90: number };

/**
 * The same as a band: the amount left is taken smaller and larger by the joint relative error of amount and week.
 *
 *   amount · exp(∓1.2816·e),   e² = e_amount² + e_week²
 *
 * A log-normal band cannot fall below zero.
 *
 * @param errorShare relative error of the amount, 0 and up
 * @returns null where it is never used up
 * @example weeksBand(100, { past: [20, 20, 20, 20], booked: [] }, 0) // { p10: 5, p50: 5, p90: 5 }
 */
export function weeksBand(amount: number, use: WeeklyUse, errorShare: number): WeeksBand | null {
  checkNonNegative("error of the amount left", errorShare, "of it");
  const p50 = weeksUntil(amount, use);
  if (!Number.isFinite(p50)) return null;
  const { mean, errorOfMean } = meanWeek(use.past);
  const spread = Math.exp(NORMAL_P90 * Math.hypot(errorShare, mean > 0 ? errorOfMean / mean : 0));
  return {
    p10: weeksUntil(amount / spread, use),
    p50,
    p90: weeksUntil(amount * spread, use),
  };
}
