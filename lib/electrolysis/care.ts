import { checkNonNegative, type Worked } from "@/lib/units";
import { type WeeklyUse, weeksBand } from "./forecast";

/** What keeps a tank in order between loads. */
export const CARES = ["CLAMPS", "ANODE_BRUSHED", "SLUDGE_OUT"] as const;
export type Care = (typeof CARES)[number];

/**
 * Charge after which each is due again, A·h: assumption. Scale grows on the anode with every run, so it is brushed
 * after two or three; clamps corrode where the bath splashes them, looked at after some five; 1 to 2 g of sludge fall
 * for each A·h that dissolves iron.
 */
export const CARE_EVERY_AH: Readonly<Record<Care, number>> = {
  CLAMPS: 300,
  ANODE_BRUSHED: 150,
  SLUDGE_OUT: 1500,
};

export const CARE_NAMES: Readonly<Record<Care, string>> = {
  CLAMPS: "clamps looked at and scraped bright",
  ANODE_BRUSHED: "anode brushed",
  SLUDGE_OUT: "sludge taken out",
};

/** The next time of one care. */
export type CareDue = {
  /** charge since it was last done, A·h */
  readonly sinceAh: number;
  /** weeks until it is due, 0 where it is; null where no charge is usual or booked */
  readonly weeks: Worked | null;
};

/**
 * When a tank needs looking after again.
 *
 *   t: the charge booked and usual in the weeks to come reaches what is left of the interval
 *
 * @param sinceAh charge since it was last done, A·h, ≥ 0
 * @param use     A·h a week, past and booked
 * @throws RangeError if a charge is negative or not finite
 * @example careDue("CLAMPS", 40, { past: [20, 20], booked: [] }).weeks?.value // 3
 */
export function careDue(care: Care, sinceAh: number, use: WeeklyUse): CareDue {
  checkNonNegative("charge since it was last done", sinceAh, "A·h");
  const every = CARE_EVERY_AH[care];
  const left = Math.max(0, every - sinceAh);
  const band = weeksBand(left, use, 0);
  if (!band) return { sinceAh, weeks: null };
  return {
    sinceAh,
    weeks: {
      name: `weeks until due: ${CARE_NAMES[care]}`,
      value: band.p50,
      low: band.p10,
      high: band.p90,
      unit: "weeks",
      formula: "t: Σ max(booked, usual) a week reaches Q_every − Q_since",
      inputs: [
        {
          name: "charge between two",
          symbol: "Q_every",
          value: every,
          unit: "A·h",
          standing: "assumption",
        },
        {
          name: "charge since",
          symbol: "Q_since",
          value: sinceAh,
          unit: "A·h",
          standing: "measured here",
        },
        ...weeklyInputs(use),
      ],
      standing: "assumption",
      note: "Low and high are P10 and P90. Look sooner whenever the current falls without a reason.",
    },
  };
}

/** The weeks a forecast rests on. */
export function weeklyInputs({ past, booked }: WeeklyUse): Worked["inputs"] {
  const total = (weeks: readonly number[]): number => weeks.reduce((sum, week) => sum + week, 0);
  return [
    {
      name: `usual a week, over ${past.length} weeks`,
      value: past.length === 0 ? 0 : total(past) / past.length,
      unit: "A·h",
      standing: "measured here",
    },
    {
      name: `booked in the next ${booked.length} weeks`,
      value: total(booked),
      unit: "A·h",
      standing: "entered here",
    },
  ];
}
