/** Currencies and rounding against the standards they follow. */
import { describe, expect, it } from "vitest";
import { formatMoney, minorDigits, money, roundHalfEven } from "@/lib/money";

// ISO 4217:2015, table A.1, "minor unit"; from memory.
const ISO_4217_MINOR_UNITS: readonly (readonly [string, number])[] = [
  ["EUR", 2],
  ["USD", 2],
  ["GBP", 2],
  ["CHF", 2],
  ["PLN", 2],
  ["SEK", 2],
  ["CAD", 2],
  ["AUD", 2],
  ["JPY", 0],
  ["KRW", 0],
  ["CLP", 0],
  ["ISK", 0],
  ["VND", 0],
  ["XOF", 0],
  ["BHD", 3],
  ["KWD", 3],
  ["OMR", 3],
  ["JOD", 3],
  ["TND", 3],
  ["CLF", 4],
  ["UYW", 4],
];

describe("ISO 4217 minor units", () => {
  it.each(ISO_4217_MINOR_UNITS)("%s has %i decimals", (currency, digits) => {
    expect(minorDigits(currency)).toBe(digits);
  });

  // Independent witness: the Unicode CLDR data behind Intl. It follows use rather than the standard where notes of the
  // smaller unit are gone, so those few of our currencies are named.
  it("agree with the runtime's own currency data", () => {
    const practice = new Set(["IQD", "LYD"]);
    const differing = Intl.supportedValuesOf("currency").filter((currency) => {
      const options = new Intl.NumberFormat("en", {
        style: "currency",
        currency,
      }).resolvedOptions();
      return minorDigits(currency) !== 2 && options.maximumFractionDigits !== minorDigits(currency);
    });
    expect(differing.filter((currency) => !practice.has(currency))).toEqual([]);
    for (const [currency, digits] of ISO_4217_MINOR_UNITS) {
      const options = new Intl.NumberFormat("en", {
        style: "currency",
        currency,
      }).resolvedOptions();
      expect([currency, options.maximumFractionDigits]).toEqual([currency, digits]);
    }
  });

  it("are what an amount is written with", () => {
    expect(formatMoney(money(123_456, "KWD"), "en")).toMatch(/123\.456$/);
    expect(formatMoney(money(123_456, "JPY"), "en")).toMatch(/123,456$/);
  });
});

// IEEE 754-2019, 4.3.1 roundTiesToEven; the examples are those usually given for rounding to an integer.
describe("IEEE 754 roundTiesToEven", () => {
  it.each([
    [11.5, 12],
    [12.5, 12],
    [-11.5, -12],
    [-12.5, -12],
    [0.5, 0],
    [1.5, 2],
    [2.5, 2],
    [2.4999, 2],
    [2.5001, 3],
    [-0.5, 0],
  ])("%d goes to %d", (value, rounded) => {
    expect(roundHalfEven(value)).toBe(rounded);
  });
});
