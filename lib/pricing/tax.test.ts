import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ROUNDINGS } from "@/lib/money";
import { checkTaxRules, taxed, type TaxPolicy, type TaxRule } from "./tax";

const RULES: readonly TaxRule[] = [
  { code: "standard", label: "Standard rate", taxes: [{ name: "VAT", percent: 20 }] },
  { code: "reduced", label: "Reduced rate", taxes: [{ name: "VAT", percent: 5.5 }] },
  {
    code: "two",
    label: "Federal and provincial",
    taxes: [
      { name: "GST", percent: 5 },
      { name: "PST", percent: 7 },
    ],
  },
  { code: "none", label: "Reverse charge", taxes: [] },
];
const policy = (some: Partial<TaxPolicy> = {}): TaxPolicy => ({
  rules: RULES,
  pricesInclude: false,
  rounding: "TIES_TO_EVEN",
  ...some,
});
const total = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

describe("taxed", () => {
  it("takes each rate once of all that it applies to", () => {
    const lines = [
      { amountMinor: 10_000, taxCode: "standard" },
      { amountMinor: 1999, taxCode: "reduced" },
      { amountMinor: 5000, taxCode: "two" },
      { amountMinor: 700, taxCode: "none" },
    ];
    const document = taxed(lines, policy(), "EUR");
    expect(document.taxes).toEqual([
      { code: "standard", name: "VAT", percent: 20, baseMinor: 10_000, taxMinor: 2000 },
      { code: "reduced", name: "VAT", percent: 5.5, baseMinor: 1999, taxMinor: 110 }, // 109.945
      { code: "two", name: "GST", percent: 5, baseMinor: 5000, taxMinor: 250 },
      { code: "two", name: "PST", percent: 7, baseMinor: 5000, taxMinor: 350 },
      { code: "none", name: "Reverse charge", percent: 0, baseMinor: 700, taxMinor: 0 },
    ]);
    expect(document).toMatchObject({ netMinor: 17_699, taxMinor: 2710, totalMinor: 20_409 });
  });

  it("finds the tax within prices that include it", () => {
    const document = taxed(
      [
        { amountMinor: 11_900, taxCode: "standard" },
        { amountMinor: 5600, taxCode: "two" },
      ],
      policy({ pricesInclude: true }),
      "EUR",
    );
    // 119.00 holds 19.83 at 20 %; 56.00 holds 6.00 at 12 %, of which 2.50 and 3.50.
    expect(document.taxes.map(({ baseMinor, taxMinor }) => [baseMinor, taxMinor])).toEqual([
      [9917, 1983],
      [5000, 250],
      [5000, 350],
    ]);
    expect(document.totalMinor).toBe(17_500);
  });

  it("names a code that nothing is known of", () => {
    expect(() => taxed([{ amountMinor: 1, taxCode: "odd" }], policy(), "EUR")).toThrow(/“odd”/);
    expect(() => checkTaxRules([])).toThrow(/at least one/);
    expect(() => checkTaxRules([...RULES, ...RULES])).toThrow(/“standard” twice/);
    const dear = { code: "x", label: "X", taxes: [{ name: "X", percent: 101 }] };
    expect(() => checkTaxRules([dear])).toThrow(/tax X of X/);
  });

  it("adds up however it is added", () => {
    const lines = fc.array(
      fc.record({
        amountMinor: fc.integer({ min: -1_000_000, max: 10_000_000 }),
        taxCode: fc.constantFrom(...RULES.map(({ code }) => code)),
      }),
      { minLength: 0, maxLength: 20 },
    );
    const policies = fc.record({
      rules: fc.constant(RULES),
      pricesInclude: fc.boolean(),
      rounding: fc.constantFrom(...ROUNDINGS),
    });
    fc.assert(
      fc.property(lines, policies, (given, how) => {
        const document = taxed(given, how, "EUR");
        const told = total(given.map(({ amountMinor }) => amountMinor));
        expect(how.pricesInclude ? document.totalMinor : document.netMinor).toBe(told);
        expect(document.netMinor + document.taxMinor).toBe(document.totalMinor);
        expect(total(document.taxes.map(({ taxMinor }) => taxMinor))).toBe(document.taxMinor);
        expect(total(document.lines.map(({ taxMinor }) => taxMinor))).toBe(document.taxMinor);
        expect(total(document.lines.map(({ netMinor }) => netMinor))).toBe(document.netMinor);
        for (const { netMinor, taxMinor, grossMinor } of document.lines) {
          expect(netMinor + taxMinor).toBe(grossMinor);
          expect([netMinor, taxMinor].every(Number.isSafeInteger)).toBe(true);
        }
        const bases = new Map(document.taxes.map(({ code, baseMinor }) => [code, baseMinor]));
        expect(total([...bases.values()])).toBe(document.netMinor);
      }),
      { numRuns: 500 },
    );
  });

  it("is nothing for nothing, and turned round for a credit of the same lines", () => {
    expect(taxed([], policy(), "EUR")).toMatchObject({ netMinor: 0, taxMinor: 0, taxes: [] });
    const lines = [{ amountMinor: 12_345, taxCode: "reduced" }];
    const credit = lines.map((line) => ({ ...line, amountMinor: -line.amountMinor }));
    expect(taxed(credit, policy(), "EUR").totalMinor).toBe(
      -taxed(lines, policy(), "EUR").totalMinor,
    );
  });
});
