import {
  checkNonNegative,
  checkPositive,
  checkRange,
  type Worked,
  type WorkedInput,
} from "@/lib/units";
import { meanWeek, weeksBand } from "./forecast";

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
  /** iron that the runs booked for the coming weeks will take, this week first, g; may be empty */
  readonly bookedLossesG?: readonly number[];
  /** thickness of the sheet when new and the least it may wear to, mm; null where it is judged by its mass alone */
  readonly thickness?: { readonly newMm: number; readonly leastMm: number } | null;
  /** relative error of the loss factor that the weekly losses rest on, 0 to 1 */
  readonly lossFactorErrorShare: number;
};

/**
 * Weeks until an anode has lost its share, or worn to its least thickness, whichever comes first.
 *
 *   t: the loss booked and usual in the weeks to come reaches min(s, 1 − d_least/d_new)·m₀ − lost
 *   P10 and P90: with that amount times exp(∓1.2816·e)
 *
 * e joins the relative errors of what is left, of the mean week (its standard error) and of the loss factor.
 * A log-normal band cannot fall below zero.
 *
 * @returns weeks with P10 as `low` and P90 as `high`; 0 where it is due; null where nothing wears it
 * @throws RangeError naming the argument that is out of range
 * @example workedAnodeLife({ initialMassG: 4000, replaceAtShare: 0.5, lostG: 1000, lostErrorG: 20,
 *   weeklyLossesG: [50, 50, 50, 50], lossFactorErrorShare: 0 })?.value // 20 weeks
 */
export function workedAnodeLife(use: AnodeUse): Worked | null {
  checkAnodeUse(use);
  const leftG = Math.max(0, use.initialMassG * mostLost(use) - use.lostG);
  const weekly = { past: use.weeklyLossesG, booked: use.bookedLossesG ?? [] };
  const error = leftG > 0 ? Math.hypot(use.lostErrorG / leftG, use.lossFactorErrorShare) : 0;
  const band = weeksBand(leftG, weekly, error);
  if (!band) return null;
  return {
    name: "weeks until the anode is due",
    value: band.p50,
    unit: "weeks",
    low: band.p10,
    high: band.p90,
    formula: "t: Σ max(booked, usual) loss a week reaches min(s, 1 − d_least/d_new)·m₀ − lost",
    inputs: inputsOf(use, meanWeek(use.weeklyLossesG).mean),
    standing: "assumption",
    source:
      "Faraday's law on this tank's readings and bookings; later weeks taken to be like the last",
    note: "Low and high are P10 and P90. Weigh the anode to narrow them.",
  };
}

/** Share of the mass that may go: by mass, or by a sheet that wears evenly on both faces. */
function mostLost({ replaceAtShare, thickness }: AnodeUse): number {
  return thickness
    ? Math.min(replaceAtShare, 1 - thickness.leastMm / thickness.newMm)
    : replaceAtShare;
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
      name: `loss booked in the next ${(use.bookedLossesG ?? []).length} weeks`,
      value: rounded((use.bookedLossesG ?? []).reduce((sum, loss) => sum + loss, 0)),
      unit: "g",
      standing: "entered here",
    },
    ...thicknessInputs(use),
    {
      name: "relative error of the loss factor",
      value: rounded(use.lossFactorErrorShare),
      standing: "assumption",
    },
  ];
}

function thicknessInputs({ thickness }: AnodeUse): WorkedInput[] {
  if (!thickness) return [];
  const sheet = (name: string, symbol: string, value: number): WorkedInput => ({
    name,
    symbol,
    value,
    unit: "mm",
    standing: "entered here",
  });
  return [
    sheet("thickness when new", "d_new", thickness.newMm),
    sheet("least thickness", "d_least", thickness.leastMm),
  ];
}

function checkAnodeUse(use: AnodeUse): void {
  checkPositive("mass when new", use.initialMassG, "g");
  checkPositive("share lost at replacement", use.replaceAtShare, "of the mass");
  checkRange("share lost at replacement", use.replaceAtShare, 0, 1, "of the mass");
  checkNonNegative("lost so far", use.lostG, "g");
  checkNonNegative("error of what was lost", use.lostErrorG, "g");
  checkNonNegative("error of the loss factor", use.lossFactorErrorShare, "of the factor");
  for (const loss of use.weeklyLossesG) checkNonNegative("weekly loss", loss, "g");
  if (use.thickness) {
    checkPositive("thickness when new", use.thickness.newMm, "mm");
    checkRange("least thickness", use.thickness.leastMm, 0, use.thickness.newMm, "mm");
  }
}

function rounded(value: number): number {
  return Number(value.toPrecision(4));
}
