import type { Cell, Supply } from "@/lib/electrolysis";
import type { Cause } from "./causes";

/** One reading of a run's meter; null where it was not taken. */
export type RunReading = {
  readonly atMs: number;
  readonly voltsV: number;
  readonly currentA: number;
  readonly temperatureC: number | null;
  readonly levelMm: number | null;
};

/** What this tank should show, and what is known of it beside the meter. */
export type Expectation = {
  /** The tank with its load, all as it should be; its middle operating point is the current planned for. */
  readonly cell: Cell;
  /** The band planned for, A. */
  readonly currentLowA: number;
  readonly currentHighA: number;
  /**
   * Standard deviation of ln(resistance of the bath) when nothing is wrong, > 0: wide in a new tank, narrower once
   * its earlier runs are known (`usualCurrent`).
   */
  readonly bathErrorLog: number;
  readonly loadedMs: number;
  /** °C that the cell's conductivity holds at. */
  readonly bathTemperatureC: number;
  readonly workingLevelMm: number;
  /** Charge this bath has seen since it was mixed, over its volume, A·h/L. */
  readonly bathChargeAhPerL: number;
  /** What the anode has lost over what it may lose before it is replaced; null where it is not known. */
  readonly anodeWearShare: number | null;
  /** Hours under current since somebody looked at the clamps; null where nobody wrote it down. */
  readonly clampHours: number | null;
  /** Hours under current since the anode was brushed or hung; null where nobody wrote it down. */
  readonly brushedHours: number | null;
  /** Conductivity by meter over what the plan counts on, and its relative error; null where it was not measured. */
  readonly conductivity: { readonly ratio: number; readonly errorShare: number } | null;
  /** Standard deviation of ln(volts) and ln(amps) of one reading; 0.05 when left out. */
  readonly meterNoise?: number;
};

/** Relative noise of a reading: a clamp meter and an unsteady hand. Common practice, no source. */
export const USUAL_METER_NOISE = 0.05;

/** What the safety rules go by: it is known of every run. */
export type Limits = {
  readonly supply: Supply;
  readonly currentLowA: number;
  readonly currentHighA: number;
  readonly workingLevelMm: number;
};

/** How pressing a finding is. */
export type Severity = "look now" | "watch";

export type FindingCode = Cause | "NOT_SURE" | "OVERLOAD" | "HOT" | "COLD" | "LEVEL_LOW";

/** What is amiss, in a line for the board and the first screen. */
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

/** Where the safety rules draw their lines: common practice and assumption, no source. */
export const DIAGNOSIS_LIMITS = {
  /** A; a meter's least step. Below it nothing flows. */
  noCurrentA: 0.05,
  /** Of the open voltage: below is "low volts". */
  lowVoltsShare: 0.6,
  /** V; below it the supply gives nothing. */
  noVoltsV: 1,
  /** Times the top of the expected band: at or above, with low volts, is a short. */
  shortTimes: 1.5,
  /** V; current at fewer volts than this does not come from electrolysis. */
  touchVoltsV: 1.5,
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
