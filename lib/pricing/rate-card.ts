import { type Rounding, ROUNDINGS } from "@/lib/money";
import { checkNonNegative, checkRange } from "@/lib/units";
import { checkTariff, type EnergyTariff } from "./tariff";
import { checkTaxRules, type TaxPolicy, type TaxRule } from "./tax";

/** What overhead is spread by. */
export const OVERHEAD_BASES = ["DIRECT_COST", "LABOUR", "TANK_HOURS"] as const;
export type OverheadBasis = (typeof OVERHEAD_BASES)[number];

/** What minutes are worked for. */
export const LABOUR_TASKS = ["take in", "load", "pull", "finish", "other"] as const;
export type LabourTask = (typeof LABOUR_TASKS)[number];

/** Labour that costs otherwise than the plain hour, and what it is needed for. */
export type Skill = {
  readonly name: string;
  readonly perHourMinor: number;
  /** each task in at most one skill */
  readonly tasks: readonly LabourTask[];
};

/** A discount that a job gets by its size. */
export type DiscountStep = {
  /** net before discounts from which it holds, whole minor units */
  readonly fromMinor: number;
  /** %, 0 to 100 */
  readonly percent: number;
};

/** What the shop charges and pays, as in force on one day. Money is whole minor units of `currency`. */
export type RateCard = EnergyTariff & {
  /** ISO 4217 code */
  readonly currency: string;
  /** an hour of what no skill is named for */
  readonly labourPerHourMinor: number;
  readonly skills: readonly Skill[];
  readonly intakeMinutesPerPart: number;
  readonly loadMinutesPerRun: number;
  readonly pullMinutesPerRun: number;
  readonly finishMinutesPerM2: number;
  readonly tankHourMinor: number;
  readonly sodaPerKgMinor: number;
  readonly anodeSteelPerKgMinor: number;
  /** per litre of spent bath */
  readonly disposalPerLitreMinor: number;
  /** gloves, wool, brushes, oil: per piece treated */
  readonly consumablesPerPartMinor: number;
  readonly overheadBasis: OverheadBasis;
  /** % of the direct cost or the labour, 0 or more */
  readonly overheadPercent: number;
  /** where it is spread by tank hours */
  readonly overheadPerTankHourMinor: number;
  /** % of the price (not of the cost) that is meant to stay with the shop, 0 to 90 */
  readonly marginPercent: number;
  /** share of the cost between P50 and P90 hours that the price carries, 0 to 1 */
  readonly contingencyShare: number;
  /** least net amount of a quote */
  readonly minimumChargeMinor: number;
  /** % added where the job goes first */
  readonly rushPercent: number;
  /** the largest that a job reaches is its usual discount */
  readonly discountSteps: readonly DiscountStep[];
  /** one or more; the first is the usual one */
  readonly taxRules: readonly TaxRule[];
  /** whether customers are told prices with their tax in them */
  readonly pricesIncludeTax: boolean;
  /** of taxes and of prices */
  readonly rounding: Rounding;
  /** each line of a quote is a multiple of it, whole minor units of 1 or more */
  readonly priceStepMinor: number;
};

/** Figures of a rate card that may not be negative, and what each is counted in. */
const NOT_NEGATIVE = {
  labourPerHourMinor: "minor units",
  intakeMinutesPerPart: "min",
  loadMinutesPerRun: "min",
  pullMinutesPerRun: "min",
  finishMinutesPerM2: "min",
  tankHourMinor: "minor units",
  energyPerKwhMinor: "minor units",
  sodaPerKgMinor: "minor units",
  anodeSteelPerKgMinor: "minor units",
  disposalPerLitreMinor: "minor units",
  consumablesPerPartMinor: "minor units",
  overheadPercent: "%",
  overheadPerTankHourMinor: "minor units",
  minimumChargeMinor: "minor units",
  rushPercent: "%",
} as const satisfies Partial<Record<keyof RateCard, string>>;

/** The most margin that a rate card can ask for, % of the price: at 100 the price would have no end. */
export const MOST_MARGIN_PERCENT = 90;

/** @throws RangeError naming the figure that is out of its range */
export function checkRateCard(rates: RateCard): void {
  for (const [name, unit] of Object.entries(NOT_NEGATIVE)) {
    checkNonNegative(name, rates[name as keyof typeof NOT_NEGATIVE], unit);
  }
  if (!Number.isInteger(rates.minimumChargeMinor)) {
    throw new RangeError(`minimumChargeMinor must be whole, got ${rates.minimumChargeMinor}`);
  }
  checkRange("marginPercent", rates.marginPercent, 0, MOST_MARGIN_PERCENT, "%");
  checkRange("contingencyShare", rates.contingencyShare, 0, 1, "of the gap");
  checkTaxRules(rates.taxRules);
  checkTariff(rates);
  checkSkills(rates.skills);
  checkSteps(rates.discountSteps);
  checkChoices(rates);
}

function checkSkills(skills: readonly Skill[]): void {
  const taken = new Set<LabourTask>();
  for (const { name, perHourMinor, tasks } of skills) {
    if (name.trim() === "") throw new RangeError("skills: a skill has no name");
    checkNonNegative(`an hour of ${name}`, perHourMinor, "minor units");
    for (const task of tasks) {
      if (taken.has(task)) throw new RangeError(`skills: two of them are named for “${task}”`);
      taken.add(task);
    }
  }
}

function checkSteps(steps: readonly DiscountStep[]): void {
  for (const { fromMinor, percent } of steps) {
    checkNonNegative("discountSteps: from", fromMinor, "minor units");
    checkRange("discountSteps: discount", percent, 0, 100, "%");
  }
}

function checkChoices({ rounding, overheadBasis, priceStepMinor }: RateCard): void {
  if (!ROUNDINGS.includes(rounding)) {
    throw new RangeError(`rounding must be one of ${ROUNDINGS.join(", ")}, got ${rounding}`);
  }
  if (!OVERHEAD_BASES.includes(overheadBasis)) {
    throw new RangeError(
      `overheadBasis must be one of ${OVERHEAD_BASES.join(", ")}, got ${overheadBasis}`,
    );
  }
  if (!(Number.isSafeInteger(priceStepMinor) && priceStepMinor >= 1)) {
    throw new RangeError(`priceStepMinor must be whole and 1 or more, got ${priceStepMinor}`);
  }
}

/** What an hour of a task costs, minor units. @example labourRate(rates, "finish") // 5200 */
export function labourRate(
  rates: Pick<RateCard, "labourPerHourMinor" | "skills">,
  task: LabourTask,
): number {
  const skill = rates.skills.find(({ tasks }) => tasks.includes(task));
  return skill?.perHourMinor ?? rates.labourPerHourMinor;
}

/** The discount that a job of this net gets by its size, %. @example usualDiscount(rates, 50_000) // 5 */
export function usualDiscount(rates: RateCard, netMinor: number): number {
  const reached = rates.discountSteps.filter(({ fromMinor }) => netMinor >= fromMinor);
  return Math.max(0, ...reached.map(({ percent }) => percent));
}

/** How the card taxes. */
export function taxPolicy(rates: RateCard): TaxPolicy {
  const { taxRules, pricesIncludeTax, rounding } = rates;
  return { rules: taxRules, pricesInclude: pricesIncludeTax, rounding };
}
