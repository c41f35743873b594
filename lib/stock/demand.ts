import { fromThousandths, inThousandths } from "./quantity";
import type { EntryKind } from "./words";

/** One line of the ledger on the shop's day, days counted from any one day. */
export type DatedEntry = {
  readonly day: number;
  readonly kind: EntryKind;
  /** signed: in is positive */
  readonly quantity: number;
};

/** Use day by day, from `firstDay` on; null on days when there was nothing to use, which say nothing of demand. */
export type DailyUse = {
  readonly firstDay: number;
  readonly days: readonly (number | null)[];
};

type Span = {
  /** the item's first day */
  readonly firstDay: number;
  /** the last whole day: yesterday */
  readonly lastDay: number;
  /** how far back is looked, whole days above 0 */
  readonly mostDays: number;
};

/**
 * What was used on each day. Days without use count as zero. Deliveries, counts and what spoiled are no use; what came
 * back unused is taken off the last uses before it. A day that began with nothing on hand, and on which nothing came
 * in, is left out: nobody knows what would have been used. A day on which it ran out counts as it was used, the least
 * that was wanted.
 *
 * @param entries the item's whole ledger, in order of time
 * @returns an empty list where the item is younger than a day
 * @example dailyUse([{ day: 0, kind: "RECEIVED", quantity: 10 }, { day: 1, kind: "USED", quantity: -4 }],
 *   { firstDay: 0, lastDay: 2, mostDays: 365 }).days // [0, 4, 0]
 */
export function dailyUse(entries: readonly DatedEntry[], span: Span): DailyUse {
  const from = Math.max(span.firstDay, span.lastDay - span.mostDays + 1);
  const length = Math.max(0, span.lastDay - from + 1);
  const used = new Map<number, number>();
  const moved = new Map<number, number>();
  const cameIn = new Set<number>();
  for (const entry of entries) {
    const steps = inThousandths(entry.quantity);
    moved.set(entry.day, (moved.get(entry.day) ?? 0) + steps);
    if (steps > 0) cameIn.add(entry.day);
    if (entry.kind === "USED") used.set(entry.day, (used.get(entry.day) ?? 0) - steps);
    if (entry.kind === "RETURNED") takeBack(used, entry.day, steps);
  }
  let held = [...moved].reduce((sum, [day, steps]) => (day < from ? sum + steps : sum), 0);
  const days = Array.from({ length }, (_, index) => {
    const day = from + index;
    const began = held;
    held += moved.get(day) ?? 0;
    if (began <= 0 && !cameIn.has(day)) return null;
    return fromThousandths(used.get(day) ?? 0);
  });
  return { firstDay: from, days };
}

/** Takes what came back off the uses up to its day, the latest first. */
function takeBack(used: Map<number, number>, day: number, steps: number): void {
  let left = steps;
  const before = [...used.keys()].filter((each) => each <= day).sort((a, b) => b - a);
  for (const each of before) {
    const taken = Math.min(left, used.get(each) ?? 0);
    used.set(each, (used.get(each) ?? 0) - taken);
    left -= taken;
    if (left <= 0) return;
  }
}

/** How use falls over days. */
export const DEMAND_PATTERNS = ["NONE", "SMOOTH", "INTERMITTENT", "ERRATIC", "LUMPY"] as const;
export type DemandPattern = (typeof DEMAND_PATTERNS)[number];

export type Demand = {
  /** mean use a day, in the item's unit */
  readonly perDay: number;
  /** standard deviation of one day's use */
  readonly deviation: number;
  /** days that are known */
  readonly days: number;
  /** days on which some was used */
  readonly usedDays: number;
  /** the most used on one day */
  readonly mostADay: number;
  readonly pattern: DemandPattern;
};

/** Bounds between patterns: mean days between uses, and squared coefficient of variation of what is used then. */
const MOST_DAYS_BETWEEN = 1.32;
const MOST_SQUARED_VARIATION = 0.49;

/**
 * Mean and spread of a day's use, and its pattern by Syntetos, Boylan and Croston, Journal of the Operational Research
 * Society 56 (2005) 495–503 (bounds 1.32 and 0.49, from memory).
 *
 * @example demandOf({ firstDay: 0, days: [2, 4, 6] }) // 4 a day, deviation 2, SMOOTH
 */
export function demandOf({ days }: DailyUse): Demand {
  const known = days.filter((used) => used !== null);
  const uses = known.filter((used) => used > 0);
  return {
    perDay: mean(known),
    deviation: Math.sqrt(variance(known)),
    days: known.length,
    usedDays: uses.length,
    mostADay: Math.max(0, ...uses),
    pattern: patternOf(known.length, uses),
  };
}

function patternOf(days: number, uses: readonly number[]): DemandPattern {
  if (uses.length === 0) return "NONE";
  const seldom = days / uses.length > MOST_DAYS_BETWEEN;
  const uneven = variance(uses) / mean(uses) ** 2 > MOST_SQUARED_VARIATION;
  if (seldom) return uneven ? "LUMPY" : "INTERMITTENT";
  return uneven ? "ERRATIC" : "SMOOTH";
}

/** Spread of use over a lead time, and how it was found. */
export type LeadDemandSpread = {
  /** standard deviation of one day that gives the spread of the lead time by the square root of time */
  readonly deviationPerDay: number;
  readonly method: "BLOCKS" | "SQUARE_ROOT";
  /** days in a block; 1 where the square root of time is used */
  readonly blockDays: number;
  /** blocks that were summed */
  readonly blocks: number;
};

/** So many blocks must fit side by side into what is known before their sums are trusted. */
const LEAST_BLOCKS = 8;

/**
 * Spread of what is used in `leadDays`. Where the history holds eight such spans or more it is the spread of the sums
 * of all spans, overlapping ones too, with the correction for overlap of Lo and MacKinlay, Review of Financial Studies 1
 * (1988) 41–66 (from memory): uses that come in clusters, or that rest after a big one, then count as they are. Else
 * days are taken as independent: σ·√L. A span with a day left out is no span.
 *
 * @param leadDays above 0
 * @example leadDemandSpread({ firstDay: 0, days }, 7).method // "BLOCKS" with 56 days or more
 */
export function leadDemandSpread(use: DailyUse, leadDays: number): LeadDemandSpread {
  const demand = demandOf(use);
  const width = Math.max(1, Math.round(leadDays));
  const sums = blockSums(use.days, width);
  if (width === 1 || demand.days < LEAST_BLOCKS * width || sums.length < LEAST_BLOCKS) {
    return {
      deviationPerDay: demand.deviation,
      method: "SQUARE_ROOT",
      blockDays: 1,
      blocks: demand.days,
    };
  }
  const expected = demand.perDay * width;
  const squares = sums.reduce((total, sum) => total + (sum - expected) ** 2, 0);
  const freedom = sums.length * (1 - width / demand.days);
  return {
    deviationPerDay: Math.sqrt(squares / freedom / width),
    method: "BLOCKS",
    blockDays: width,
    blocks: sums.length,
  };
}

/**
 * Of the spans of a lead time that are known, the share that used no more than `level`: what a reorder point would have
 * done in the past, whatever the shape of the use.
 *
 * @returns 0 to 1; null where no such span is known
 * @example shareCovered({ firstDay: 0, days: [1, 2, 3] }, 1, 2) // 2/3
 */
export function shareCovered({ days }: DailyUse, leadDays: number, level: number): number | null {
  const sums = blockSums(days, Math.max(1, Math.round(leadDays)));
  if (sums.length === 0) return null;
  return sums.filter((sum) => sum <= level + HAIR).length / sums.length;
}

/** Sums of fractions miss by less than this; stock is counted to a thousandth. */
const HAIR = 1e-6;

/** Sums of every `width` days in a row that are all known. */
function blockSums(days: readonly (number | null)[], width: number): number[] {
  const sums: number[] = [];
  let sum = 0;
  let run = 0;
  days.forEach((used, index) => {
    if (used === null) {
      sum = 0;
      run = 0;
      return;
    }
    sum += used;
    run += 1;
    if (run > width) sum -= days[index - width] ?? 0;
    if (run >= width) sums.push(sum);
  });
  return sums;
}

/** 0 for none. */
const mean = (values: readonly number[]): number =>
  values.length === 0 ? 0 : values.reduce((total, each) => total + each, 0) / values.length;

/** Of a sample (divided by n − 1); 0 for fewer than two. */
function variance(values: readonly number[]): number {
  if (values.length < 2) return 0;
  const middle = mean(values);
  return values.reduce((total, each) => total + (each - middle) ** 2, 0) / (values.length - 1);
}
