import { checkNonNegative, type Worked } from "@/lib/units";

/** How long one order took to come. */
export type Delivered = {
  /** the order it came under: what comes in one van is told of once */
  readonly orderId: string;
  readonly itemId: string;
  /** from ordering to having it, days, 0 or more */
  readonly days: number;
};

export type LeadTime = {
  /** expected days from ordering to having it, 0 or more */
  readonly days: number;
  /** standard deviation of the next one, days */
  readonly deviation: number;
  /** deliveries that it rests on besides what the supplier says */
  readonly deliveries: number;
  readonly worked: Worked;
};

/** What a supplier says counts as much as so many deliveries. */
const PRIOR_DELIVERIES = 2;
/** Half the freedom of the prior: the least whole number at which the next delivery has a spread. */
const PRIOR_SHAPE = 2;
/** Spread of deliveries against their mean, until there are some. */
const PRIOR_VARIATION = 0.3;
/** Taken where neither the supplier nor the shop has said anything, days. */
const UNSAID_DAYS = 7;
/** From so many deliveries on an item speaks for itself. */
const OWN_DELIVERIES = 4;

/**
 * The lead time that the next order is expected to take: what the supplier says, moved by what deliveries took.
 *
 *   κ_n = κ_0 + n        μ_n = (κ_0·μ_0 + n·x̄) / κ_n        α_n = α_0 + n/2
 *   β_n = β_0 + ½·Σ(x − x̄)² + κ_0·n·(x̄ − μ_0)² / (2·κ_n)
 *   L = μ_n              σ_L² = β_n·(κ_n + 1) / ((α_n − 1)·κ_n)
 *
 * The normal-gamma model; σ_L is that of the next delivery, a Student t. The prior counts as two deliveries that spread
 * by 30 %. An order that came in parts counts as its last.
 *
 * @param statedDays what the supplier says, days of 0 or more; null where nobody said: 7 are taken
 * @param days what deliveries took, each 0 or more
 * @throws RangeError if one is negative
 * @example learnLeadTime(5, [7, 9, 8]).days // 6.8
 */
export function learnLeadTime(statedDays: number | null, days: readonly number[]): LeadTime {
  const stated = statedDays ?? UNSAID_DAYS;
  checkNonNegative("statedDays", stated, "d");
  for (const each of days) checkNonNegative("days", each, "d");
  const n = days.length;
  const sampleMean = n === 0 ? stated : days.reduce((sum, each) => sum + each, 0) / n;
  const squares = days.reduce((sum, each) => sum + (each - sampleMean) ** 2, 0);
  const kappa = PRIOR_DELIVERIES + n;
  const prior =
    ((PRIOR_SHAPE - 1) * PRIOR_DELIVERIES * (PRIOR_VARIATION * stated) ** 2) /
    (PRIOR_DELIVERIES + 1);
  const beta =
    prior + squares / 2 + (PRIOR_DELIVERIES * n * (sampleMean - stated) ** 2) / (2 * kappa);
  const expected = (PRIOR_DELIVERIES * stated + n * sampleMean) / kappa;
  const shape = PRIOR_SHAPE + n / 2;
  const deviation = Math.sqrt((beta * (kappa + 1)) / ((shape - 1) * kappa));
  return {
    days: expected,
    deviation,
    deliveries: n,
    worked: workedLead({ statedDays, sampleMean, n, expected, deviation }),
  };
}

type Learned = {
  readonly statedDays: number | null;
  readonly sampleMean: number;
  readonly n: number;
  readonly expected: number;
  readonly deviation: number;
};

function workedLead({ statedDays, sampleMean, n, expected, deviation }: Learned): Worked {
  return {
    name: "lead time",
    value: expected,
    unit: "d",
    low: Math.max(0, expected - deviation),
    high: expected + deviation,
    formula: "L = (κ_0·μ_0 + n·x̄) / (κ_0 + n)",
    inputs: [
      {
        name: statedDays === null ? "nobody said: a week is taken" : "stated by the supplier",
        symbol: "μ_0",
        value: statedDays ?? UNSAID_DAYS,
        unit: "d",
        standing: statedDays === null ? "assumption" : "entered here",
      },
      {
        name: "deliveries that what was stated counts as",
        symbol: "κ_0",
        value: PRIOR_DELIVERIES,
        standing: "assumption",
      },
      { name: "deliveries", symbol: "n", value: n, standing: "measured here" },
      ...(n === 0
        ? []
        : [
            {
              name: "mean of the deliveries",
              symbol: "x̄",
              value: sampleMean,
              unit: "d",
              standing: "measured here" as const,
            },
          ]),
      {
        name: "spread of the next one",
        symbol: "σ_L",
        value: deviation,
        unit: "d",
        standing: n < PRIOR_DELIVERIES ? "assumption" : "measured here",
      },
    ],
    standing: n > 0 ? "measured here" : statedDays === null ? "assumption" : "entered here",
    source: "normal-gamma model with a Student t for the next: textbook statistics, from memory",
    note: "The range is one spread to either side. An order that came in parts counts as its last.",
  };
}

/**
 * Which deliveries speak for an item: its own from four on, else all of its supplier's, those that came together once.
 *
 * @param deliveries of one supplier
 * @returns days that each took
 * @example daysThatSpeak(deliveries, item.id)
 */
export function daysThatSpeak(
  deliveries: readonly Delivered[],
  itemId: string | null,
): readonly number[] {
  const own = deliveries.filter((each) => each.itemId === itemId);
  const speaking = own.length >= OWN_DELIVERIES ? own : deliveries;
  const together = new Map(
    speaking.map((each) => [`${each.orderId} ${each.days.toFixed(1)}`, each.days]),
  );
  return [...together.values()];
}
