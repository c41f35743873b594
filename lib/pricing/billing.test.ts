import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ageOf,
  balanceOf,
  type Bill,
  type BilledLine,
  billOf,
  creditable,
  type CreditedLine,
  creditOf,
  daysOverdue,
} from "@/lib/pricing";

const line = (label: string, netMinor: number, taxMinor: number, taxCode = "S"): BilledLine => ({
  partId: null,
  label,
  detail: "",
  quantity: null,
  taxCode,
  netMinor,
  taxMinor,
});

/** Two codes: one of a single rate, one of two rates that share its tax as 5 to 8. */
function bill(amounts: readonly { net: number; tax: number; code: string }[]): Bill {
  const lines = amounts.map(({ net, tax, code }, index) => line(`line ${index}`, net, tax, code));
  const sum = (code: string, pick: (one: BilledLine) => number): number =>
    lines.filter((one) => one.taxCode === code).reduce((all, one) => all + pick(one), 0);
  const rates = [
    { code: "S", name: "VAT", percent: 20, share: 1 },
    { code: "GP", name: "GST", percent: 5, share: 5 / 13 },
  ].map(({ share, ...rate }) => ({
    ...rate,
    baseMinor: sum(rate.code, (one) => one.netMinor),
    taxMinor: Math.round(sum(rate.code, (one) => one.taxMinor) * share),
  }));
  const rest = sum("GP", (one) => one.taxMinor) - (rates[1]?.taxMinor ?? 0);
  const pst = {
    code: "GP",
    name: "PST",
    percent: 8,
    baseMinor: sum("GP", (one) => one.netMinor),
    taxMinor: rest,
  };
  return billOf([{ lines, taxes: [...rates, pst] }]);
}

const amounts = fc
  .array(
    fc.record({
      net: fc.integer({ min: 1, max: 2_000_000 }),
      share: fc.integer({ min: 0, max: 25 }),
      code: fc.constantFrom("S", "GP"),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map((all) =>
    all.map(({ net, share, code }) => ({ net, tax: Math.round((net * share) / 100), code })),
  );

const addsUp = (one: Bill): void => {
  const sum = (of: readonly { taxMinor: number }[]): number =>
    of.reduce((all, each) => all + each.taxMinor, 0);
  expect(one.lines.reduce((all, each) => all + each.netMinor, 0)).toBe(one.netMinor);
  expect(sum(one.lines)).toBe(one.taxMinor);
  expect(sum(one.taxes)).toBe(one.taxMinor);
  expect(one.netMinor + one.taxMinor).toBe(one.totalMinor);
};

describe("billOf", () => {
  it("keeps what was accepted and adds what came later, rate by rate", () => {
    const accepted = bill([{ net: 10_000, tax: 2000, code: "S" }]);
    const extra = {
      lines: [line("More scale", 501, 100), line("Reduction", -100, -20)],
      taxes: [{ code: "S", name: "VAT", percent: 20, baseMinor: 401, taxMinor: 80 }],
    };
    const both = billOf([accepted, extra]);
    addsUp(both);
    expect(both).toMatchObject({ netMinor: 10_401, taxMinor: 2080, totalMinor: 12_481 });
    expect(both.taxes.find(({ code }) => code === "S")).toMatchObject({
      baseMinor: 10_401,
      taxMinor: 2080,
    });
  });

  it("refuses a piece whose rates do not add up to its lines", () => {
    const taxes = [{ code: "S", name: "VAT", percent: 20, baseMinor: 100, taxMinor: 19 }];
    expect(() => billOf([{ lines: [line("one", 100, 20)], taxes }])).toThrow("got 20 and 19");
  });
});

describe("creditOf", () => {
  it("takes a third of a line three times, and leaves nothing of it", () => {
    const statement = bill([{ net: 100, tax: 19, code: "S" }]);
    const earlier: CreditedLine[] = [];
    for (const grossMinor of [40, 40, 39]) {
      const credit = creditOf(statement, earlier, [{ position: 0, grossMinor }]);
      addsUp(credit);
      expect(credit.totalMinor).toBe(grossMinor);
      earlier.push(...credit.lines);
    }
    expect(creditable(statement, earlier)[0]).toMatchObject({ leftNetMinor: 0, leftTaxMinor: 0 });
  });

  it("refuses more than is left, nothing, a line twice and a line that is not there", () => {
    const statement = bill([{ net: 100, tax: 20, code: "S" }]);
    for (const asked of [
      { position: 0, grossMinor: 121 },
      { position: 0, grossMinor: 0 },
      { position: 1, grossMinor: 5 },
    ]) {
      expect(() => creditOf(statement, [], [asked])).toThrow(/at most (120|0) minor units/);
    }
    const half = { position: 0, grossMinor: 60 };
    expect(() => creditOf(statement, [], [half, half])).toThrow("once");
  });

  it("in any pieces, credits every line, rate and tax to nothing, never beyond", () => {
    fc.assert(
      fc.property(
        amounts,
        fc.array(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 6 }), {
          maxLength: 5,
        }),
        (given, notes) => {
          const statement = bill(given);
          const credits: Bill<CreditedLine>[] = [];
          const soFar = (): readonly CreditedLine[] => credits.flatMap(({ lines }) => lines);
          for (const shares of notes) {
            const left = creditable(statement, soFar());
            const asked = shares.flatMap((share, position) => {
              const one = left[position];
              const grossMinor = Math.floor(
                ((one?.leftNetMinor ?? 0) + (one?.leftTaxMinor ?? 0)) * share,
              );
              return grossMinor > 0 ? [{ position, grossMinor }] : [];
            });
            const credit = creditOf(statement, soFar(), asked);
            addsUp(credit);
            credit.lines.forEach(({ netMinor, taxMinor }) => {
              expect(netMinor).toBeGreaterThanOrEqual(0);
              expect(taxMinor).toBeGreaterThanOrEqual(0);
            });
            credits.push(credit);
          }
          credits.push(creditOf(statement, soFar(), "rest"));
          addsUp(credits.at(-1) ?? statement);
          for (const one of creditable(statement, soFar())) {
            expect(one).toMatchObject({ leftNetMinor: 0, leftTaxMinor: 0 });
          }
          for (const rate of statement.taxes) {
            const same = credits
              .flatMap(({ taxes }) => taxes)
              .filter(({ name }) => name === rate.name);
            expect(same.reduce((all, { taxMinor }) => all + taxMinor, 0)).toBe(rate.taxMinor);
            expect(same.reduce((all, { baseMinor }) => all + baseMinor, 0)).toBe(rate.baseMinor);
          }
          const all = (pick: (one: Bill) => number) =>
            credits.reduce((sum, one) => sum + pick(one), 0);
          expect(all(({ taxMinor }) => taxMinor)).toBe(statement.taxMinor);
          expect(all(({ totalMinor }) => totalMinor)).toBe(statement.totalMinor);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("credits a reduction with the rest, also where it took a code's tax away", () => {
    const statement = billOf([
      {
        lines: [
          line("work", 1000, 200),
          line("reduction", -1000, -200),
          line("pickup", 500, 0, "Z"),
        ],
        taxes: [
          { code: "S", name: "VAT", percent: 20, baseMinor: 0, taxMinor: 0 },
          { code: "Z", name: "VAT", percent: 0, baseMinor: 500, taxMinor: 0 },
        ],
      },
    ]);
    const first = creditOf(statement, [], [{ position: 0, grossMinor: 300 }]);
    addsUp(first);
    const rest = creditOf(statement, first.lines, "rest");
    addsUp(rest);
    expect(first.totalMinor + rest.totalMinor).toBe(statement.totalMinor);
  });
});

describe("an account", () => {
  const step = fc.record({
    what: fc.constantFrom("statement", "credit", "rest", "payment", "refund"),
    share: fc.double({ min: 0, max: 1, noNaN: true }),
    bill: amounts,
  });

  it("owes what is left of its lines less what was paid, after any sequence of what may happen", () => {
    fc.assert(
      fc.property(fc.array(step, { maxLength: 20 }), (steps) => {
        const statements: { bill: Bill; credits: Bill<CreditedLine>[] }[] = [];
        const payments: number[] = [];
        const paid = (): number => payments.reduce((all, each) => all + each, 0);
        const soFar = (of: (typeof statements)[number]) => of.credits.flatMap(({ lines }) => lines);
        for (const { what, share, bill: given } of steps) {
          const newest = statements.at(-1);
          const left = newest ? creditable(newest.bill, soFar(newest)) : [];
          const grossMinor = Math.floor(
            ((left[0]?.leftNetMinor ?? 0) + (left[0]?.leftTaxMinor ?? 0)) * share,
          );
          if (what === "statement") statements.push({ bill: bill(given), credits: [] });
          if (what === "credit" && newest && grossMinor > 0) {
            const asked = [{ position: 0, grossMinor }];
            newest.credits.push(creditOf(newest.bill, soFar(newest), asked));
          }
          if (what === "rest" && newest) {
            newest.credits.push(creditOf(newest.bill, soFar(newest), "rest"));
          }
          if (what === "payment") payments.push(Math.round(share * 1_000_000));
          if (what === "refund") payments.push(-Math.floor(share * paid()));
        }
        const { balanceMinor } = balanceOf(
          {
            statementMinors: statements.map((one) => one.bill.totalMinor),
            creditMinors: statements.flatMap(({ credits }) =>
              credits.map(({ totalMinor }) => totalMinor),
            ),
            paymentMinors: payments,
          },
          "EUR",
        );
        const left = statements.flatMap((one) => creditable(one.bill, soFar(one)));
        const leftMinor = left.reduce((all, { leftNetMinor, leftTaxMinor }) => {
          expect(leftNetMinor).toBeGreaterThanOrEqual(0);
          expect(leftTaxMinor).toBeGreaterThanOrEqual(0);
          return all + leftNetMinor + leftTaxMinor;
        }, 0);
        expect(balanceMinor).toBe(leftMinor - paid());
      }),
    );
  });
});

describe("balanceOf", () => {
  it("is charged less credited less paid, whatever the sequence", () => {
    const minors = fc.array(fc.integer({ min: -1_000_000, max: 1_000_000 }));
    fc.assert(
      fc.property(minors, minors, minors, (statementMinors, creditMinors, paymentMinors) => {
        const { balanceMinor, worked } = balanceOf(
          { statementMinors, creditMinors, paymentMinors },
          "EUR",
        );
        let expected = 0;
        for (const minor of statementMinors) expected += minor;
        for (const minor of creditMinors) expected -= minor;
        for (const minor of paymentMinors) expected -= minor;
        expect(balanceMinor).toBe(expected);
        expect(worked.value).toBeCloseTo(expected / 100, 6);
      }),
    );
  });

  it("counts the days since it was due, and puts them in columns", () => {
    const due = new Date("2030-03-31T00:00:00Z");
    const on = (day: string) => daysOverdue(due, new Date(`${day}T00:00:00Z`));
    expect([on("2030-03-01"), on("2030-03-31"), on("2030-04-01"), on("2030-04-30")]).toEqual([
      0, 0, 1, 30,
    ]);
    expect([0, 1, 30, 31, 60, 61, 90, 91, 400].map(ageOf)).toEqual([
      "not due",
      "1 to 30 days",
      "1 to 30 days",
      "31 to 60 days",
      "31 to 60 days",
      "61 to 90 days",
      "61 to 90 days",
      "over 90 days",
      "over 90 days",
    ]);
  });
});
