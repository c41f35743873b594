import type { Supply } from "@/lib/electrolysis";

/** One reading of a run's meter; null where it was not taken. */
export type RunReading = {
  readonly atMs: number;
  readonly voltsV: number;
  readonly currentA: number;
  readonly temperatureC: number | null;
  readonly levelMm: number | null;
};

/** What this tank should show. */
export type Expectation = {
  readonly currentLowA: number;
  readonly currentHighA: number;
  readonly supply: Supply;
  readonly workingLevelMm: number;
  /** Charge this bath has seen since it was mixed, over its volume, A·h/L. */
  readonly bathChargeAhPerL: number;
};

/** How pressing a finding is. */
export type Severity = "look now" | "watch";

export type FindingCode =
  | "REVERSED"
  | "SHORT"
  | "OPEN_LEAD"
  | "NO_SUPPLY"
  | "OVERLOAD"
  | "HOT"
  | "LEVEL_LOW"
  | "FALLING"
  | "BATH_SPENT"
  | "BATH_WEAK"
  | "BATH_STRONG"
  | "COLD";

export type Finding = {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** The likeliest cause, in a few words. */
  readonly title: string;
  /** What the readings show, with numbers. */
  readonly seen: string;
  /** The one thing to check next, safest step first. */
  readonly nextCheck: string;
};

/** Where the rules draw their lines: common practice and assumption, no source. */
export const DIAGNOSIS_LIMITS = {
  /** A; a meter's least step. Below it nothing flows. */
  noCurrentA: 0.05,
  /** Of the open voltage: at or above is "full volts". */
  fullVoltsShare: 0.9,
  /** Of the open voltage: below is "low volts". */
  lowVoltsShare: 0.6,
  /** V; below it the supply gives nothing. */
  noVoltsV: 1,
  /** Times the top of the expected band: at or above, with low volts, is a short. */
  shortTimes: 1.5,
  /** V; current at fewer volts than this does not come from electrolysis. */
  touchVoltsV: 1.5,
  /** Outside the band by this share before it is named: a clamp meter's error. */
  bandMarginShare: 0.1,
  /** Lost since the first of the last readings: a steady fall. */
  fallShare: 0.3,
  /** Readings a fall is judged by, and the least time they span, min. */
  fallReadings: 3,
  fallMinutes: 30,
  /** °C: plastic softens and bicarbonate breaks down; soda drops out of a cold bath. */
  hotC: 50,
  warmC: 40,
  coldC: 5,
  /** mm under the working level. */
  levelWatchMm: 10,
  levelNowMm: 30,
  /** A·h/L: sludge of some 5 to 15 g/L. */
  spentAhPerL: 20,
} as const;
