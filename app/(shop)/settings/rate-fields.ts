import { MOST_MARGIN_PERCENT } from "@/lib/pricing";

/** The fields of a rate card: money is entered in the main unit of the currency and stored in minor units. */

export const MONEY_FIELDS = [
  { name: "labourPerHourMinor", label: "Labour", per: "an hour" },
  { name: "tankHourMinor", label: "Tank time", per: "an hour" },
  { name: "energyPerKwhMinor", label: "Energy", per: "a kW·h" },
  { name: "sodaPerKgMinor", label: "Soda", per: "a kg" },
  { name: "anodeSteelPerKgMinor", label: "Anode steel", per: "a kg" },
  { name: "disposalPerLitreMinor", label: "Disposal", per: "a litre" },
  { name: "consumablesPerPartMinor", label: "Consumables", per: "a part" },
  { name: "minimumChargeMinor", label: "Minimum charge", per: "a job" },
] as const;

export const NUMBER_FIELDS = [
  { name: "intakeMinutesPerPart", label: "Taking in a part", unit: "min", most: 600 },
  { name: "loadMinutesPerRun", label: "Loading", unit: "min", most: 600 },
  { name: "pullMinutesPerRun", label: "Pulling", unit: "min", most: 600 },
  { name: "finishMinutesPerM2", label: "Finishing", unit: "min/m²", most: 3000 },
  { name: "overheadPercent", label: "Overhead", unit: "%", most: 500 },
  { name: "marginPercent", label: "Margin, of the price", unit: "%", most: MOST_MARGIN_PERCENT },
  {
    name: "contingencyShare",
    label: "Share of the gap from P50 to P90 that is charged",
    unit: "0 to 1",
    most: 1,
  },
  { name: "rushPercent", label: "Rush", unit: "%", most: 500 },
  { name: "taxPercent", label: "Tax", unit: "%", most: 100 },
] as const;
