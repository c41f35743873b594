import { checkNonNegative, checkRange } from "@/lib/units";

/** What the shop charges and pays, as in force on one day. Money is whole minor units of `currency`. */
export type RateCard = {
  /** ISO 4217 code */
  readonly currency: string;
  readonly labourPerHourMinor: number;
  readonly intakeMinutesPerPart: number;
  readonly loadMinutesPerRun: number;
  readonly pullMinutesPerRun: number;
  readonly finishMinutesPerM2: number;
  readonly tankHourMinor: number;
  /** per kW·h at the wall */
  readonly energyPerKwhMinor: number;
  readonly sodaPerKgMinor: number;
  readonly anodeSteelPerKgMinor: number;
  /** per litre of spent bath */
  readonly disposalPerLitreMinor: number;
  /** gloves, wool, brushes, oil: per piece treated */
  readonly consumablesPerPartMinor: number;
  /** % added to the direct cost, 0 or more */
  readonly overheadPercent: number;
  /** % of the price (not of the cost) that is meant to stay with the shop, 0 to 90 */
  readonly marginPercent: number;
  /** share of the cost between P50 and P90 hours that the price carries, 0 to 1 */
  readonly contingencyShare: number;
  /** least net amount of a quote */
  readonly minimumChargeMinor: number;
  /** % added where the job goes first */
  readonly rushPercent: number;
  /** as it is printed: "VAT", "MwSt.", "Sales tax" */
  readonly taxName: string;
  readonly taxPercent: number;
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
  checkRange("taxPercent", rates.taxPercent, 0, 100, "%");
}
