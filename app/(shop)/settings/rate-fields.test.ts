import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MONEY_FIELDS, perWords, shownRate, storedRate } from "./rate-fields";

describe("a rate of a card", () => {
  it("is for a pound where the shop works in pounds and it goes by mass", () => {
    const words = MONEY_FIELDS.map((field) => perWords(field, "US"));
    expect(words).toContain("a lb");
    expect(words).not.toContain("a kg");
    expect(MONEY_FIELDS.map((field) => perWords(field, "METRIC"))).not.toContain("a lb");
  });

  it.each([
    ["sodaPerKgMinor", "US", 100, 220],
    ["sodaPerKgMinor", "METRIC", 100, 100],
    ["labourPerHourMinor", "US", 100, 100],
    ["disposalPerLitreMinor", "US", 10, 10],
  ] as const)("%s entered in a %s shop as %d is stored as %d", (name, units, entered, stored) => {
    const field = MONEY_FIELDS.find((each) => each.name === name);
    expect(field && storedRate(field, entered, units)).toBe(stored);
  });

  it("is shown again as it was entered", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...MONEY_FIELDS),
        fc.nat({ max: 1_000_000 }),
        fc.constantFrom("METRIC" as const, "US" as const),
        (field, minor, units) => {
          expect(shownRate(field, storedRate(field, minor, units), units)).toBe(minor);
        },
      ),
    );
  });
});
