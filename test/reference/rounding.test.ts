/** Named roundings and minor units against a standard's table, a decimal library, and a kept list of ISO 4217. */
import { Decimal } from "decimal.js";
import currencyCodes from "currency-codes";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  minorDigits,
  money,
  percentOf,
  percentWithin,
  type Rounding,
  ROUNDINGS,
  roundRatio,
  roundToStep,
} from "@/lib/money";

const tenths = (value: number, rounding: Rounding): number =>
  Number(roundRatio(BigInt(Math.round(value * 10)), 10n, rounding));

/**
 * IEEE 754-2019, section 4.3, as its table of examples is usually printed (from memory):
 * 11.5, 12.5, −11.5, −12.5 under each rounding direction.
 */
const IEEE_754: Readonly<Record<Rounding, readonly number[]>> = {
  TIES_TO_EVEN: [12, 12, -12, -12],
  TIES_TO_AWAY: [12, 13, -12, -13],
  TOWARD_ZERO: [11, 12, -11, -12],
  TOWARD_POSITIVE: [12, 13, -11, -12],
  TOWARD_NEGATIVE: [11, 12, -12, -13],
};

const DECIMAL: Readonly<Record<Rounding, Decimal.Rounding>> = {
  TIES_TO_EVEN: Decimal.ROUND_HALF_EVEN,
  TIES_TO_AWAY: Decimal.ROUND_HALF_UP,
  TOWARD_ZERO: Decimal.ROUND_DOWN,
  TOWARD_POSITIVE: Decimal.ROUND_CEIL,
  TOWARD_NEGATIVE: Decimal.ROUND_FLOOR,
};
const exact = Decimal.clone({ precision: 60 });
const amounts = fc.integer({ min: -10_000_000_000, max: 10_000_000_000 });
const percents = fc.integer({ min: 0, max: 100_000_000 }).map((millionths) => millionths / 1e6);
const roundings = fc.constantFrom(...ROUNDINGS);

describe("named roundings", () => {
  it.each(ROUNDINGS)("%s follows the standard's table", (rounding) => {
    expect([11.5, 12.5, -11.5, -12.5].map((value) => tenths(value, rounding))).toEqual(
      IEEE_754[rounding],
    );
  });

  it("take percentages as decimal.js does", () => {
    fc.assert(
      fc.property(amounts, percents, roundings, (minor, percent, rounding) => {
        const expected = new exact(minor)
          .times(percent)
          .div(100)
          .toDecimalPlaces(0, DECIMAL[rounding]);
        const got = percentOf(money(minor, "EUR"), percent, rounding).minor;
        expect(got).toBe(expected.plus(0).toNumber() + 0);
      }),
      { numRuns: 500 },
    );
  });

  it("find the tax within a price as decimal.js does", () => {
    fc.assert(
      fc.property(amounts, percents, roundings, (minor, percent, rounding) => {
        const expected = new exact(minor)
          .times(percent)
          .div(new exact(100).plus(percent))
          .toDecimalPlaces(0, DECIMAL[rounding]);
        const got = percentWithin(money(minor, "EUR"), percent, rounding).minor;
        expect(got).toBe(expected.toNumber() + 0);
      }),
      { numRuns: 500 },
    );
  });

  it("go to the nearest coin as decimal.js does", () => {
    fc.assert(
      fc.property(
        amounts,
        fc.constantFrom(1, 5, 10, 50, 100),
        roundings,
        (minor, step, rounding) => {
          const expected = new exact(minor).toNearest(step, DECIMAL[rounding]);
          expect(roundToStep(money(minor, "CHF"), step, rounding).minor).toBe(
            expected.toNumber() + 0,
          );
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe("ISO 4217", () => {
  // The package keeps the maintenance agency's list; codes of metals, funds and tests have no minor unit there.
  const NO_MONEY = new Set("XAG XAU XBA XBB XBC XBD XDR XPD XPT XSU XTS XUA XXX".split(" "));
  const listed = currencyCodes.data.filter(({ code }) => !NO_MONEY.has(code));

  it("lists the decimals of every currency as they are here", () => {
    expect(listed.length).toBeGreaterThan(150);
    const differing = listed.filter(({ code, digits }) => minorDigits(code) !== digits);
    expect(differing.map(({ code, digits }) => `${code} ${digits}`)).toEqual([]);
  });
});
