import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ROUNDINGS } from "@/lib/money";
import {
  checkRateCard,
  jobCost,
  LINE_KINDS,
  OVERHEAD_BASES,
  type PricedPart,
  quoteLines,
  type RateCard,
} from "./index";

const vat = (percent: number) => [
  { code: "standard", label: "Standard", taxes: [{ name: "VAT", percent }] },
];

const RATES: RateCard = {
  currency: "EUR",
  labourPerHourMinor: 4800,
  intakeMinutesPerPart: 10,
  loadMinutesPerRun: 15,
  pullMinutesPerRun: 10,
  finishMinutesPerM2: 60,
  tankHourMinor: 150,
  energyPerKwhMinor: 32,
  sodaPerKgMinor: 250,
  anodeSteelPerKgMinor: 400,
  disposalPerLitreMinor: 20,
  consumablesPerPartMinor: 120,
  overheadPercent: 25,
  marginPercent: 20,
  contingencyShare: 0.5,
  minimumChargeMinor: 0,
  rushPercent: 30,
  skills: [],
  energyBands: [],
  overheadBasis: "DIRECT_COST",
  overheadPerTankHourMinor: 0,
  discountSteps: [],
  taxRules: vat(20),
  pricesIncludeTax: false,
  rounding: "TIES_TO_EVEN",
  priceStepMinor: 1,
};

const HINGE: PricedPart = {
  partId: "hinge",
  label: "A: gate hinge",
  detail: "Rust off, oiled",
  quantity: 2,
  areaM2: 0.1,
  runs: 1,
  tankShare: 1,
  hoursP10: 2,
  hoursP50: 4,
  hoursP90: 8,
  sodaG: 40,
  anodeLossG: 10,
  energyKwh: 0.5,
  disposalL: 5,
};

const minorOf = (priced: ReturnType<typeof quoteLines>, kind: (typeof LINE_KINDS)[number]) =>
  priced.costs.find((line) => line.kind === kind)?.minor;
const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe("quoteLines", () => {
  it("prices one part as worked by hand", () => {
    const priced = quoteLines([HINGE], RATES);
    expect(priced.costs.map(({ kind, minor }) => [kind, minor])).toEqual([
      ["LABOUR", 3280], // (10 + 25 + 6) min = 0.68333 h × 48.00
      ["TANK_TIME", 600], // 4 h × 1.50
      ["SODA", 10], // 0.04 kg × 2.50
      ["ANODE_STEEL", 4], // 0.01 kg × 4.00
      ["ENERGY", 16], // 0.5 kW·h × 0.32
      ["CONSUMABLES", 240], // 2 pieces × 1.20
      ["DISPOSAL", 100], // 5 L × 0.20
      ["CONTINGENCY", 310], // half of another 4 h: 6.00 + 0.04 + 0.16
      ["OVERHEAD", 1140], // a quarter of 45.60
      ["MARGIN", 1425], // 20 % of 71.25, which is 57.00 and the margin
    ]);
    expect([priced.netMinor, priced.taxMinor, priced.totalMinor]).toEqual([7125, 1425, 8550]);
    expect(priced.lines).toEqual([
      {
        kind: "PART",
        partId: "hinge",
        label: "A: gate hinge",
        detail: "Rust off, oiled",
        netMinor: 7125,
        taxMinor: 1425,
        taxCode: "standard",
      },
    ]);
  });

  it("gives the range that the hours leave open", () => {
    const priced = quoteLines([HINGE], RATES);
    // At 8 h: 4870 + 1218 + 1522 = 7610, tax 1522. At 2 h: 3940 + 985 + 1231 = 6156, tax 1231.2.
    expect(priced.highMinor).toBe(9132);
    expect(priced.lowMinor).toBe(7387);
    expect(priced.total).toMatchObject({ value: 85.5, low: 73.87, high: 91.32, unit: "EUR" });
  });

  it("shows how each line came about", () => {
    const labour = quoteLines([HINGE], RATES).costs[0]?.worked;
    expect(labour).toMatchObject({
      name: "labour",
      value: 32.8,
      unit: "EUR",
      formula: "C = q · r",
    });
    expect(labour?.inputs[0]?.value).toBeCloseTo(41 / 60, 12);
    expect(labour?.inputs[1]).toMatchObject({ value: 48, unit: "EUR/h", source: "rate card" });
  });

  it("fills up to the minimum charge, then adds the rush, then takes the discount off", () => {
    const priced = quoteLines(
      [HINGE],
      { ...RATES, minimumChargeMinor: 10_000 },
      { rush: true, discountPercent: 10 },
    );
    expect(priced.lines.map(({ kind, netMinor }) => [kind, netMinor])).toEqual([
      ["PART", 7125],
      ["MINIMUM_CHARGE", 2875],
      ["RUSH", 3000],
      ["DISCOUNT", -1300],
    ]);
    expect(priced.netMinor).toBe(11_700);
    expect(priced.adjustmentMinor).toBe(4575);
  });

  it("charges shared loading by the share of the tank, and take-in once a part", () => {
    const alone = minorOf(quoteLines([HINGE], RATES), "LABOUR") ?? 0;
    const shared = minorOf(quoteLines([{ ...HINGE, tankShare: 0.5 }], RATES), "LABOUR") ?? 0;
    expect(alone - shared).toBe(1000); // half of 25 min
    expect(minorOf(quoteLines([{ ...HINGE, quantity: 40 }], RATES), "LABOUR")).toBe(alone);
  });

  it("works in a currency without minor units", () => {
    const priced = quoteLines([HINGE], { ...RATES, currency: "JPY" });
    expect(priced.total.value).toBe(priced.totalMinor);
  });

  it("refuses what cannot be priced, and says what", () => {
    expect(() => quoteLines([], RATES)).toThrow("at least one part");
    expect(() => quoteLines([{ ...HINGE, hoursP90: 3 }], RATES)).toThrow(
      /^P90 hours of A: gate hinge must be from 4/,
    );
    expect(() => quoteLines([{ ...HINGE, quantity: 1.5 }], RATES)).toThrow(/^quantity of A/);
    expect(() => quoteLines([HINGE], RATES, { discountPercent: 101 })).toThrow(/^discountPercent/);
    expect(() => quoteLines([HINGE], { ...RATES, marginPercent: 100 })).toThrow(/^marginPercent/);
    expect(() => checkRateCard({ ...RATES, tankHourMinor: -1 })).toThrow(/^tankHourMinor/);
    expect(() => checkRateCard({ ...RATES, minimumChargeMinor: 0.5 })).toThrow(/must be whole/);
  });
});

/** 0 to `max` in hundredths, as a person would write it. */
const amount = (max: number) => fc.integer({ min: 0, max: max * 100 }).map((n) => n / 100);
const parts = fc.array(
  fc
    .record({
      quantity: fc.integer({ min: 1, max: 50 }),
      areaM2: amount(5),
      runs: fc.integer({ min: 0, max: 4 }),
      tankShare: amount(1),
      hoursP50: amount(200),
      longer: amount(200),
      sodaG: amount(5000),
      anodeLossG: amount(3000),
      energyKwh: amount(50),
      disposalL: amount(500),
    })
    .map(({ longer, ...part }): PricedPart => ({
      ...part,
      partId: null,
      label: "part",
      detail: "",
      hoursP90: part.hoursP50 + longer,
    })),
  { minLength: 1, maxLength: 8 },
);
const cards = fc
  .record({
    labourPerHourMinor: fc.integer({ min: 0, max: 20_000 }),
    tankHourMinor: fc.integer({ min: 0, max: 2000 }),
    overheadPercent: amount(100),
    marginPercent: amount(90),
    contingencyShare: amount(1),
    minimumChargeMinor: fc.integer({ min: 0, max: 20_000 }),
    rushPercent: amount(100),
    taxPercent: fc.constantFrom(0, 5.5, 7, 8.875, 19, 20, 25),
  })
  .map(({ taxPercent, ...some }): RateCard => ({
    ...RATES,
    ...some,
    taxRules: vat(taxPercent),
  }));
/** Cards with everything that a card can have: several ways of taxing, inside or outside the price, steps, bases. */
const anyCards = fc
  .record({
    plain: cards,
    pricesIncludeTax: fc.boolean(),
    priceStepMinor: fc.constantFrom(1, 5, 50, 100),
    rounding: fc.constantFrom(...ROUNDINGS),
    overheadBasis: fc.constantFrom(...OVERHEAD_BASES),
    overheadPerTankHourMinor: fc.integer({ min: 0, max: 1000 }),
    discountSteps: fc.array(
      fc.record({ fromMinor: fc.integer({ min: 0, max: 100_000 }), percent: amount(100) }),
      { maxLength: 3 },
    ),
    second: fc.constantFrom(
      [],
      [{ name: "PST", percent: 7 }],
      [
        { name: "GST", percent: 5 },
        { name: "QST", percent: 9.975 },
      ],
    ),
  })
  .map(({ plain, second, ...some }): RateCard => ({
    ...plain,
    ...some,
    taxRules: [...plain.taxRules, { code: "second", label: "Second", taxes: second }],
  }));
const mixedParts = fc
  .tuple(parts, fc.array(fc.constantFrom("standard", "second"), { minLength: 8, maxLength: 8 }))
  .map(([job, codes]) =>
    job.map((part, index) => ({ ...part, taxCode: codes[index] ?? "second" })),
  );
const options = fc.record({ rush: fc.boolean(), discountPercent: amount(100) });

describe("any quote", { timeout: 30_000 }, () => {
  it("adds up: kinds to parts, parts and extras to net, net and tax to total, line by line", () => {
    fc.assert(
      fc.property(mixedParts, anyCards, options, (job, rates, wishes) => {
        const priced = quoteLines(job, rates, wishes);
        const ofKinds = total(priced.costs.map(({ minor }) => minor));
        const ofParts = total(priced.parts.map(({ netMinor }) => netMinor));
        expect(ofKinds).toBe(ofParts);
        expect(ofKinds + priced.adjustmentMinor).toBe(priced.netMinor);
        for (const part of priced.parts) {
          expect(total(part.costs.map(({ minor }) => minor))).toBe(part.netMinor);
        }
        expect(total(priced.lines.map(({ netMinor }) => netMinor))).toBe(priced.netMinor);
        expect(total(priced.lines.map(({ taxMinor }) => taxMinor))).toBe(priced.taxMinor);
        expect(priced.netMinor + priced.taxMinor).toBe(priced.totalMinor);
        expect(total(priced.taxes.map(({ taxMinor }) => taxMinor))).toBe(priced.taxMinor);
        const told = priced.lines.map(
          ({ netMinor, taxMinor }) => netMinor + (rates.pricesIncludeTax ? taxMinor : 0),
        );
        expect(told.every((minor) => minor % rates.priceStepMinor === 0)).toBe(true);
        const all = [...priced.costs.map((c) => c.minor), ...priced.lines.map((l) => l.netMinor)];
        expect(all.every(Number.isSafeInteger)).toBe(true);
      }),
    );
  });

  it("taxes each line within a minor unit of its own share", () => {
    fc.assert(
      fc.property(parts, cards, options, (job, rates, wishes) => {
        for (const line of quoteLines(job, rates, wishes).lines) {
          const exact = (line.netMinor * (rates.taxRules[0]?.taxes[0]?.percent ?? 0)) / 100;
          expect(Math.abs(line.taxMinor - exact)).toBeLessThan(1 + 1e-6);
        }
      }),
    );
  });

  it("never falls below the minimum charge unless a discount takes it there", () => {
    fc.assert(
      fc.property(parts, cards, (job, rates) => {
        expect(quoteLines(job, rates).netMinor).toBeGreaterThanOrEqual(rates.minimumChargeMinor);
      }),
    );
  });

  it("costs no less when it takes longer", () => {
    fc.assert(
      fc.property(parts, cards, options, amount(3), (job, rates, wishes, more) => {
        const longer = job.map((part) => ({
          ...part,
          hoursP50: part.hoursP50 * (1 + more),
          hoursP90: part.hoursP90 * (1 + more),
          energyKwh: part.energyKwh * (1 + more),
          anodeLossG: part.anodeLossG * (1 + more),
        }));
        const unsure = job.map((part) => ({ ...part, hoursP90: part.hoursP90 + more }));
        const { netMinor } = quoteLines(job, rates, wishes);
        // A discount is rounded too: it may swallow the minor unit by which the price rose.
        expect(quoteLines(longer, rates, wishes).netMinor).toBeGreaterThanOrEqual(netMinor - 1);
        expect(quoteLines(unsure, rates, wishes).netMinor).toBeGreaterThanOrEqual(netMinor - 1);
      }),
    );
  });

  it("lies in its own range", () => {
    fc.assert(
      fc.property(mixedParts, anyCards, options, (job, rates, wishes) => {
        const { lowMinor, totalMinor, highMinor } = quoteLines(job, rates, wishes);
        expect(lowMinor).toBeLessThanOrEqual(totalMinor);
        expect(totalMinor).toBeLessThanOrEqual(highMinor);
      }),
    );
  });
});

describe("jobCost", () => {
  const priced = quoteLines([HINGE], RATES);
  const asPlanned = {
    labourMinor: 3280,
    labourMinutes: 41,
    tankHours: 4,
    sodaMinor: 10,
    anodeSteelMinor: 4,
    consumablesMinor: 240,
    energyKwh: 0.5,
    energyMinor: 16,
    disposalL: 5,
  };

  it("of a job that went as planned leaves the margin and the contingency", () => {
    const cost = jobCost(priced.costs, asPlanned, RATES, priced.netMinor);
    const varied = cost.lines.filter((line) => line.varianceMinor !== 0);
    // A quarter of 42.50 is 10.625, and the overhead that was planned on the contingency is spared too.
    expect(varied.map(({ kind, varianceMinor }) => [kind, varianceMinor])).toEqual([
      ["CONTINGENCY", -310],
      ["OVERHEAD", -78],
    ]);
    expect(cost.actualMinor).toBe(5312);
    expect(cost.marginMinor).toBe(7125 - 5312);
    expect(cost.marginPercent).toBeCloseTo((1813 / 7125) * 100, 9);
    expect(cost.margin).toMatchObject({ value: 18.13, unit: "EUR" });
  });

  it("says by how much each kind missed its estimate", () => {
    const cost = jobCost(priced.costs, { ...asPlanned, tankHours: 8 }, RATES, priced.netMinor);
    expect(cost.lines.find((line) => line.kind === "TANK_TIME")).toMatchObject({
      estimatedMinor: 600,
      actualMinor: 1200,
      varianceMinor: 600,
      variancePercent: 100,
    });
  });

  it("adds up, and has a line for every kind but the margin", () => {
    const actuals = fc.record({
      labourMinor: fc.integer({ min: 0, max: 1e6 }),
      labourMinutes: amount(1000),
      tankHours: amount(500),
      sodaMinor: fc.integer({ min: 0, max: 1e5 }),
      anodeSteelMinor: amount(1e5),
      consumablesMinor: fc.integer({ min: 0, max: 1e5 }),
      energyKwh: amount(500),
      energyMinor: amount(10_000),
      disposalL: amount(500),
    });
    fc.assert(
      fc.property(actuals, (taken) => {
        const cost = jobCost(priced.costs, taken, RATES, priced.netMinor);
        expect(cost.lines.map(({ kind }) => kind)).toEqual(LINE_KINDS.slice(0, -1));
        expect(total(cost.lines.map((line) => line.actualMinor))).toBe(cost.actualMinor);
        expect(total(cost.lines.map((line) => line.varianceMinor))).toBe(cost.varianceMinor);
        expect(cost.actualMinor + (cost.marginMinor ?? 0)).toBe(priced.netMinor);
      }),
    );
  });

  it("without a quote knows the cost and no margin", () => {
    const cost = jobCost([], asPlanned, RATES, null);
    expect(cost).toMatchObject({ marginMinor: null, marginPercent: null, margin: null });
    expect(cost.lines.every((line) => line.variancePercent === null)).toBe(true);
    expect(jobCost([], asPlanned, RATES, 0).marginPercent).toBeNull();
    expect(() => jobCost([], { ...asPlanned, tankHours: -1 }, RATES, null)).toThrow(/^tankHours/);
  });
});
