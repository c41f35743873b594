import { describe, expect, it } from "vitest";
import { placeOf, PLACES, zoneOf } from "./places";

describe("placeOf", () => {
  it("takes the browser's own place", () => {
    expect(placeOf("en-US")).toMatchObject({ currency: "USD", unitSystem: "US" });
    expect(placeOf("en-GB")).toMatchObject({ currency: "GBP", unitSystem: "METRIC" });
  });

  it("begins with the first place for a language that is not in the list, or none", () => {
    expect(placeOf("fr-FR")).toBe(PLACES[0]);
    expect(placeOf("")).toBe(PLACES[0]);
  });

  it("names only locales and currencies that this system knows", () => {
    for (const { locale, currency } of PLACES) {
      expect(Intl.DateTimeFormat.supportedLocalesOf(locale)).toEqual([locale]);
      expect(Intl.supportedValuesOf("currency")).toContain(currency);
    }
  });
});

describe("zoneOf", () => {
  it("takes the browser's zone only where the list has it", () => {
    expect(zoneOf("America/Chicago", ["America/Chicago"])).toBe("America/Chicago");
    expect(zoneOf("Etc/Unknown", ["America/Chicago"])).toBe("Europe/Dublin");
  });
});
