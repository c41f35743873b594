import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  allocate,
  apportion,
  formatMoney,
  majorUnits,
  minorDigits,
  money,
  parseMoney,
  percentOf,
  roundHalfEven,
  subtract,
  sum,
  times,
  zero,
} from "./index";

const euros = (minor: number) => money(minor, "EUR");
const minors = (amounts: readonly { readonly minor: number }[]) => amounts.map((a) => a.minor);
const total = (amounts: readonly { readonly minor: number }[]) =>
  amounts.reduce((t, a) => t + a.minor, 0);
const amount = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 });

describe("money", () => {
  it("is a whole number of minor units in a named currency", () => {
    expect(euros(1250)).toEqual({ minor: 1250, currency: "EUR" });
    expect(Object.is(euros(-0).minor, 0)).toBe(true);
    expect(() => euros(12.5)).toThrow(/whole number of minor units, got 12.5/);
    expect(() => euros(Number.MAX_SAFE_INTEGER + 1)).toThrow(RangeError);
    expect(() => money(1, "eur")).toThrow(/ISO 4217 code such as EUR, got “eur”/);
  });

  it("adds, subtracts and sums in one currency only", () => {
    expect(add(euros(1), euros(2))).toEqual(euros(3));
    expect(subtract(euros(1), euros(2))).toEqual(euros(-1));
    expect(sum([], "EUR")).toEqual(zero("EUR"));
    expect(sum([euros(10), euros(20), euros(30)], "EUR")).toEqual(euros(60));
    expect(() => add(euros(1), money(1, "USD"))).toThrow("cannot combine EUR with USD");
  });

  it("multiplies and rounds half to even", () => {
    expect(times(euros(999), 0.5).minor).toBe(500);
    expect(times(euros(1001), 0.5).minor).toBe(500);
    expect(times(euros(100), 1.005).minor).toBe(100); // 100.5, though the product is a little less
    expect(() => times(euros(1), Number.NaN)).toThrow("factor must be finite");
  });
});

describe("roundHalfEven", () => {
  it("never gives minus zero", () => {
    for (const value of [-0.5, -0.2, -0]) expect(Object.is(roundHalfEven(value), 0)).toBe(true);
  });

  it("is within a half of what it rounds, and odd", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        expect(Math.abs(roundHalfEven(value) - value)).toBeLessThanOrEqual(0.5 + 1e-9);
        expect(roundHalfEven(-value) + roundHalfEven(value)).toBe(0);
      }),
    );
  });
});

describe("percentOf", () => {
  it("rounds an exact half to the even minor unit", () => {
    expect(percentOf(euros(1250), 19).minor).toBe(238); // 237.5
    expect(percentOf(euros(50), 19).minor).toBe(10); // 9.5
    expect(percentOf(euros(-50), 19).minor).toBe(-10);
    expect(percentOf(euros(50), 17).minor).toBe(8); // 8.5
  });

  it("keeps a percentage with decimals exact on a large amount", () => {
    // 355 000 000 000.71: 8.875 % of 4 000 000 000 000 is 355 000 000 000, of 8 is 0.71
    expect(percentOf(money(4_000_000_000_008, "USD"), 8.875).minor).toBe(355_000_000_001);
  });

  it("gives all of it at 100, none at 0, and refuses what is no number", () => {
    fc.assert(
      fc.property(amount, (minor) => {
        expect(percentOf(euros(minor), 100).minor).toBe(euros(minor).minor);
        expect(percentOf(euros(minor), 0).minor).toBe(0);
      }),
    );
    expect(() => percentOf(euros(1), Number.POSITIVE_INFINITY)).toThrow("percent must be finite");
  });
});

describe("allocate", () => {
  it("gives the remainder to the largest share first, the earlier of equals first", () => {
    expect(minors(allocate(euros(100), [1, 1, 1]))).toEqual([34, 33, 33]);
    expect(minors(allocate(euros(5), [3, 7]))).toEqual([2, 3]);
    expect(minors(allocate(euros(-100), [1, 1, 1]))).toEqual([-33, -33, -34]);
    expect(minors(allocate(euros(7), [0, 1]))).toEqual([0, 7]);
  });

  it("always adds up, and no share is off by a minor unit or more", () => {
    const weights = fc
      .array(fc.double({ min: 0, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 30 })
      .filter((list) => list.some((weight) => weight > 1e-6));
    fc.assert(
      fc.property(amount, weights, (minor, list) => {
        const shares = allocate(euros(minor), list);
        const sumOfWeights = list.reduce((a, b) => a + b, 0);
        expect(total(shares)).toBe(euros(minor).minor);
        shares.forEach((share, index) => {
          const exact = (minor * (list[index] ?? 0)) / sumOfWeights;
          expect(Math.abs(share.minor - exact)).toBeLessThan(1 + 1e-6);
        });
      }),
    );
  });

  it("refuses weights that share nothing", () => {
    expect(() => allocate(euros(1), [])).toThrow(RangeError);
    expect(() => allocate(euros(1), [0, 0])).toThrow("got [0, 0]");
    expect(() => allocate(euros(1), [1, -1])).toThrow(RangeError);
    expect(() => allocate(euros(1), [Number.POSITIVE_INFINITY])).toThrow(RangeError);
  });
});

describe("apportion", () => {
  it("takes shares of either sign", () => {
    expect(minors(apportion(euros(10), [12.6, -2.6]))).toEqual([13, -3]);
  });

  it("refuses shares that are not shares of the amount", () => {
    expect(() => apportion(euros(10), [3, 3])).toThrow("must add up to 10 minor units, got [3, 3]");
    expect(() => apportion(euros(10), [20])).toThrow(RangeError);
  });
});

describe("text", () => {
  it("writes any currency with its own decimals", () => {
    expect(formatMoney(euros(1250), "en-GB")).toBe("€12.50");
    expect(formatMoney(money(1250, "GBP"), "en-GB")).toBe("£12.50");
    expect(formatMoney(money(1250, "JPY"), "en-GB")).toBe("JP¥1,250");
    expect(formatMoney(money(1250, "PLN"), "pl-PL")).toMatch(/^12,50\szł$/u);
    expect(majorUnits(money(1250, "KWD"))).toBe(1.25);
  });

  it("reads what a person types", () => {
    expect(parseMoney(" 1 250,5 ", "EUR").minor).toBe(125_050);
    expect(parseMoney("-12.50", "EUR").minor).toBe(-1250);
    expect(parseMoney("1250", "JPY").minor).toBe(1250);
    expect(parseMoney("1.234", "KWD").minor).toBe(1234);
  });

  it("refuses what it cannot read for certain", () => {
    for (const text of ["", "twelve", "1.234", "1,250.00", "1e3", "12.", "--1"]) {
      expect(() => parseMoney(text, "EUR")).toThrow(`“${text}” is not an amount in EUR`);
    }
    expect(() => parseMoney("1.5", "JPY")).toThrow("at most 0 decimals");
  });

  it("reads back what it holds", () => {
    const currency = fc.constantFrom("EUR", "JPY", "KWD", "PLN");
    fc.assert(
      fc.property(amount, currency, (minor, code) => {
        const text = majorUnits(money(minor, code)).toFixed(minorDigits(code));
        expect(parseMoney(text, code).minor).toBe(money(minor, code).minor);
      }),
    );
  });
});
