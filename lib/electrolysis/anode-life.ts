import {
  checkNonNegative,
  checkPositive,
  checkRange,
  type Worked,
  type WorkedInput,
} from "@/lib/units";

/** One anode, what it has lost, and how fast it wears. */
export type AnodeUse = {
  readonly initialMassG: number;
  /** share of the mass at which it is replaced, above 0, at most 1 */
  readonly replaceAtShare: number;
  /** lost so far by weighing and by Faraday's law since, g, and the standard error of that */
  readonly lostG: number;
  readonly lostErrorG: number;
  /** iron lost in each of the last whole weeks, idle weeks too, g */
  readonly weeklyLossesG: readonly number[];
  /** relative error of the loss factor that the weekly losses rest on, 0 to 1 */
  readonly lossFactorErrorShare: number;
};

/** 90th percentile of the standard normal distribution (from memory of the usual table). */
const NORMAL_P90 = 1.2816;

/**
 * Weeks until an anode has lost its share, if it goes on as in the last weeks.
 *
 *   t = (s·m₀ − lost) / mean weekly loss,   P10 and P90: t·exp(∓1.2816·e)
 *
 * e joins the relative errors of what is left, of the mean week (its standard error) and of the loss factor.
 * A log-normal band cannot fall below zero.
 *
 * @returns weeks with P10 as `low` and P90 as `high`; 0 where it is due; null where it did not wear in those weeks
 * @throws RangeError naming the argument that is out of range
 * @example workedAnodeLife({ initialMassG: 4000, replaceAtShare: 0.5, lostG: 1000, lostErrorG: 20,
 *   weeklyLossesG: [50, 50, 50, 50], lossFactorErrorShare: 0 })?.value // 20 weeks
 */
export function workedAnodeLife(use: AnodeUse): Worked | null {
  checkAnodeUse(use);
  const leftG = Math.max(0, use.initialMassG * use.replaceAtShare - use.lostG);
  const { mean, errorOfMean } = meanWeek(use.weeklyLossesG);
  if (leftG > 0 && mean === 0) return null;
  const weeks = leftG > 0 ? leftG / mean : 0;
  const spread = leftG > 0 ? bandOf(use, leftG, errorOfMean / mean) : 1;
  return {
    name: "weeks until the anode is due",
    value: weeks,
    unit: "weeks",
    low: weeks / spread,
    high: weeks * spread,
    formula: "t = (s·m₀ − lost) / mean weekly loss",
    inputs: inputsOf(use, mean),
    standing: "assumption",
    source: "Faraday's law on this tank's readings; the future taken to be like the last weeks",
    note: "Low and high are P10 and P90. Weigh the anode to narrow them.",
  };
}

/** P90 over P50 of the weeks. */
function bandOf(use: AnodeUse, leftG: number, errorOfRate: number): number {
  const error = Math.hypot(use.lostErrorG / leftG, errorOfRate, use.lossFactorErrorShare);
  return Math.exp(NORMAL_P90 * error);
}

function inputsOf(use: AnodeUse, meanLossG: number): WorkedInput[] {
  return [
    {
      name: "mass when new",
      symbol: "m₀",
      value: use.initialMassG,
      unit: "g",
      standing: "entered here",
    },
    {
      name: "replaced at this share lost",
      symbol: "s",
      value: use.replaceAtShare,
      standing: "entered here",
    },
    {
      name: "lost so far",
      symbol: "lost",
      value: rounded(use.lostG),
      unit: "g",
      standing: "measured here",
    },
    {
      name: `mean loss a week over ${use.weeklyLossesG.length} weeks`,
      value: rounded(meanLossG),
      unit: "g",
      standing: "measured here",
    },
    {
      name: "relative error of the loss factor",
      value: rounded(use.lossFactorErrorShare),
      standing: "assumption",
    },
  ];
}

function meanWeek(losses: readonly number[]): { mean: number; errorOfMean: number } {
  if (losses.length === 0) return { mean: 0, errorOfMean: 0 };
  const mean = losses.reduce((total, loss) => total + loss, 0) / losses.length;
  const squares = losses.reduce((total, loss) => total + (loss - mean) ** 2, 0);
  const variance = losses.length > 1 ? squares / (losses.length - 1) : mean ** 2;
  return { mean, errorOfMean: Math.sqrt(variance / losses.length) };
}

function checkAnodeUse(use: AnodeUse): void {
  checkPositive("mass when new", use.initialMassG, "g");
  checkPositive("share lost at replacement", use.replaceAtShare, "of the mass");
  checkRange("share lost at replacement", use.replaceAtShare, 0, 1, "of the mass");
  checkNonNegative("lost so far", use.lostG, "g");
  checkNonNegative("error of what was lost", use.lostErrorG, "g");
  checkNonNegative("error of the loss factor", use.lossFactorErrorShare, "of the factor");
  for (const loss of use.weeklyLossesG) checkNonNegative("weekly loss", loss, "g");
}

function rounded(value: number): number {
  return Number(value.toPrecision(4));
}
