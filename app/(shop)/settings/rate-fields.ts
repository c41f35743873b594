import { MOST_MARGIN_PERCENT } from "@/lib/pricing";
import { gramsFromPounds, type UnitSystem } from "@/lib/units";

/**
 * The fields of a rate card: money is entered in the main unit of the currency and stored in minor units. What is
 * stored for a kilogram is entered for a pound where the shop works in pounds; to the minor unit it is the same again.
 * Disposal stays by the litre: a whole minor unit of it is too coarse to be turned into one of a gallon and back.
 */

export const MONEY_FIELDS = [
  { name: "labourPerHourMinor", label: "Labour", per: "an hour" },
  { name: "tankHourMinor", label: "Tank time", per: "an hour" },
  { name: "energyPerKwhMinor", label: "Energy", per: "a kW·h" },
  { name: "sodaPerKgMinor", label: "Soda", per: "a kg", byMass: true },
  { name: "anodeSteelPerKgMinor", label: "Anode steel", per: "a kg", byMass: true },
  { name: "disposalPerLitreMinor", label: "Disposal", per: "a litre" },
  { name: "consumablesPerPartMinor", label: "Consumables", per: "a part" },
  {
    name: "overheadPerTankHourMinor",
    label: "Overhead, where it goes by the hour",
    per: "a tank hour",
  },
  { name: "minimumChargeMinor", label: "Minimum charge", per: "a job" },
  { name: "priceStepMinor", label: "Prices are told in steps", per: "a line" },
] as const;

export const NUMBER_FIELDS = [
  { name: "intakeMinutesPerPart", label: "Taking in a part", unit: "min", most: 600 },
  { name: "loadMinutesPerRun", label: "Loading", unit: "min", most: 600 },
  { name: "pullMinutesPerRun", label: "Pulling", unit: "min", most: 600 },
  { name: "overheadPercent", label: "Overhead", unit: "%", most: 500 },
  { name: "marginPercent", label: "Margin, of the price", unit: "%", most: MOST_MARGIN_PERCENT },
  {
    name: "contingencyShare",
    label: "Share of the gap from P50 to P90 that is charged",
    unit: "0 to 1",
    most: 1,
  },
  { name: "rushPercent", label: "Rush", unit: "%", most: 500 },
] as const;

/** The most of min/m² that finishing may take. */
export const MOST_FINISHING = 3000;

type MoneyField = (typeof MONEY_FIELDS)[number];

/** What an amount of money is for, in words. @example perWords(soda, "US") // "a lb" */
export const perWords = (field: MoneyField, units: UnitSystem): string =>
  "byMass" in field && units === "US" ? "a lb" : field.per;

/** How much of the stored unit the shop's unit is: 0.45359237 kg in a pound, else 1. */
const share = (field: MoneyField, units: UnitSystem): number =>
  "byMass" in field && units === "US" ? gramsFromPounds(1) / 1000 : 1;

/** Whole minor units as they are stored, of an amount as it was entered. */
export const storedRate = (field: MoneyField, minor: number, units: UnitSystem): number =>
  Math.round(minor / share(field, units));

/** Whole minor units as they are shown, of an amount as it is stored. */
export const shownRate = (field: MoneyField, minor: number, units: UnitSystem): number =>
  Math.round(minor * share(field, units));
