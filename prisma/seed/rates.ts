/** The example shop's rates: one card from the start, a dearer one for the last three months. */
import type { ExampleRows } from "@/lib/data";
import { DAY } from "./calendar";

type Card = Omit<ExampleRows["rateCards"][number], "validFrom">;

const FIRST_CARD: Card = {
  labourPerHourMinor: 4200,
  intakeMinutesPerPart: 10,
  loadMinutesPerRun: 15,
  pullMinutesPerRun: 10,
  finishMinutesPerM2: 60,
  tankHourMinor: 110,
  energyPerKwhMinor: 31,
  sodaPerKgMinor: 170,
  anodeSteelPerKgMinor: 400,
  disposalPerLitreMinor: 9,
  consumablesPerPartMinor: 180,
  overheadPercent: 15,
  marginPercent: 22,
  contingencyShare: 0.5,
  minimumChargeMinor: 3500,
  rushPercent: 25,
  skills: [],
  energyBands: [],
  discountSteps: [],
  overheadBasis: "DIRECT_COST",
  overheadPerTankHourMinor: 0,
  pricesIncludeTax: false,
  rounding: "TIES_TO_EVEN",
  priceStepMinor: 1,
  taxRules: [
    { code: "standard", label: "VAT at the standard rate", taxes: [{ name: "VAT", percent: 20 }] },
    { code: "reduced", label: "VAT at the reduced rate", taxes: [{ name: "VAT", percent: 5 }] },
    { code: "none", label: "Not taxed", taxes: [] },
  ],
};

export function addRates(rows: ExampleRows, from: Date): void {
  const midnight = (at: number): Date => new Date(Math.floor(at / DAY) * DAY);
  rows.rateCards.push({ ...FIRST_CARD, validFrom: midnight(from.getTime() - DAY) });
  rows.rateCards.push({
    ...FIRST_CARD,
    labourPerHourMinor: 4500,
    skills: [{ name: "Finishing hand", perHourMinor: 5200, tasks: ["finish"] }],
    energyPerKwhMinor: 34,
    energyBands: [
      {
        name: "night",
        days: [1, 2, 3, 4, 5, 6, 7],
        fromMinute: 22 * 60,
        toMinute: 6 * 60,
        perKwhMinor: 21,
      },
    ],
    discountSteps: [{ fromMinor: 50_000, percent: 5 }],
    validFrom: midnight(from.getTime() + 90 * DAY),
  });
}
