import { describe, expect, it } from "vitest";
import { type PricedPart, quoteLines, type RateCard } from "./index";
import { energyRate, type EnergyBand } from "./tariff";

const NIGHT: EnergyBand = {
  name: "night",
  days: [1, 2, 3, 4, 5],
  fromMinute: 22 * 60,
  toMinute: 6 * 60,
  perKwhMinor: 20,
};
const TARIFF = { energyPerKwhMinor: 40, energyBands: [NIGHT] };
const at = (day: number, hour: number): number => ((day - 1) * 24 + hour) * 60;

describe("energyRate", () => {
  it("is the plain price where there are no bands", () => {
    expect(energyRate({ energyPerKwhMinor: 33, energyBands: [] }, at(2, 10), 5)).toBe(33);
  });

  it("goes by the clock, over midnight, and by the day on which a band begins", () => {
    expect(energyRate(TARIFF, at(1, 22), 8)).toBe(20);
    expect(energyRate(TARIFF, at(2, 10), 2)).toBe(40);
    expect(energyRate(TARIFF, at(1, 20), 4)).toBe(30); // two hours of each
    expect(energyRate(TARIFF, at(6, 0), 6)).toBe(20); // Friday's night ends on Saturday
    expect(energyRate(TARIFF, at(7, 22), 2)).toBe(40); // Sunday's night is none
    expect(energyRate(TARIFF, at(7, 23), 2)).toBe(40); // nor does it end on Monday
  });

  it("takes the mean of a week where no hour is known, and whole weeks with what is over", () => {
    const mean = (40 * (168 - 40) + 20 * 40) / 168;
    expect(energyRate(TARIFF, null, 5)).toBeCloseTo(mean, 9);
    expect(energyRate(TARIFF, at(3, 12), 168)).toBeCloseTo(mean, 9);
    expect(energyRate(TARIFF, at(3, 12), 170)).toBeCloseTo((mean * 168 + 80) / 170, 9);
  });

  it("refuses what is no minute of the week", () => {
    expect(() => energyRate(TARIFF, 10_080, 1)).toThrow(/startMinute/);
    expect(() => energyRate(TARIFF, 0, -1)).toThrow(/hours/);
  });
});

const RATES: RateCard = {
  currency: "EUR",
  labourPerHourMinor: 6000,
  skills: [{ name: "finisher", perHourMinor: 9000, tasks: ["finish"] }],
  intakeMinutesPerPart: 10,
  loadMinutesPerRun: 10,
  pullMinutesPerRun: 10,
  finishMinutesPerM2: 60,
  tankHourMinor: 100,
  ...TARIFF,
  sodaPerKgMinor: 0,
  anodeSteelPerKgMinor: 0,
  disposalPerLitreMinor: 0,
  consumablesPerPartMinor: 0,
  overheadBasis: "DIRECT_COST",
  overheadPercent: 10,
  overheadPerTankHourMinor: 300,
  marginPercent: 0,
  contingencyShare: 0,
  minimumChargeMinor: 0,
  rushPercent: 20,
  discountSteps: [
    { fromMinor: 10_000, percent: 5 },
    { fromMinor: 20_000, percent: 8 },
  ],
  taxRules: [
    { code: "standard", label: "Standard", taxes: [{ name: "VAT", percent: 20 }] },
    { code: "none", label: "Not taxed", taxes: [] },
  ],
  pricesIncludeTax: false,
  rounding: "TIES_TO_EVEN",
  priceStepMinor: 1,
};
const PART: PricedPart = {
  partId: "a",
  label: "A: gate",
  detail: "",
  quantity: 1,
  areaM2: 0.5,
  runs: 1,
  tankShare: 1,
  hoursP50: 8,
  hoursP90: 8,
  sodaG: 0,
  anodeLossG: 0,
  energyKwh: 2,
  disposalL: 0,
};
const minor = (rates: RateCard, part: PricedPart, kind: string) =>
  quoteLines([part], rates).costs.find((line) => line.kind === kind)?.minor;

describe("a rate card", () => {
  it("pays each task by the skill that is named for it", () => {
    expect(minor(RATES, PART, "LABOUR")).toBe(3000 + 4500); // 30 min at 60.00, 30 min at 90.00
  });

  it("prices energy by the hours that are booked", () => {
    expect(minor(RATES, { ...PART, startMinute: at(1, 22) }, "ENERGY")).toBe(40);
    expect(minor(RATES, { ...PART, startMinute: at(1, 8) }, "ENERGY")).toBe(80);
  });

  it("spreads overhead by direct cost, labour or tank hours", () => {
    const part = { ...PART, startMinute: at(1, 8) };
    expect(minor(RATES, part, "OVERHEAD")).toBe(838); // 10 % of 75.00 + 8.00 + 0.80
    expect(minor({ ...RATES, overheadBasis: "LABOUR" }, part, "OVERHEAD")).toBe(750);
    expect(minor({ ...RATES, overheadBasis: "TANK_HOURS" }, part, "OVERHEAD")).toBe(2400);
  });

  it("gives the discount that the job's size earns, unless one is agreed", () => {
    const two = [PART, { ...PART, partId: "b" }];
    expect(quoteLines([PART], RATES).discountPercent).toBe(0);
    expect(quoteLines(two, RATES).discountPercent).toBe(5);
    expect(quoteLines([...two, ...two], RATES).discountPercent).toBe(8);
    expect(quoteLines(two, RATES, { discountPercent: 0 }).discountPercent).toBe(0);
  });

  it("tells rush and discount apart by how they are taxed", () => {
    const job = [PART, { ...PART, partId: "b", taxCode: "none" }];
    const { lines, taxes } = quoteLines(job, RATES, { rush: true, discountPercent: 10 });
    expect(lines.map(({ kind, taxCode }) => `${kind} ${taxCode}`)).toEqual([
      "PART standard",
      "PART none",
      "RUSH standard",
      "RUSH none",
      "DISCOUNT standard",
      "DISCOUNT none",
    ]);
    expect(taxes.map(({ code }) => code)).toEqual(["standard", "none"]);
    expect(lines[1]?.taxMinor).toBe(0);
  });

  it("tells whole steps with the tax in them", () => {
    const rates = { ...RATES, pricesIncludeTax: true, priceStepMinor: 50 };
    const priced = quoteLines([PART], rates, { rush: true });
    for (const { netMinor, taxMinor } of priced.lines) {
      expect(Math.abs((netMinor + taxMinor) % 50)).toBe(0);
    }
    expect(priced.totalMinor % 50).toBe(0);
    expect(priced.netMinor + priced.taxMinor).toBe(priced.totalMinor);
  });
});
