import { describe, expect, it } from "vitest";
import { isRefusal } from "@/lib/errors";
import { itemChoiceText, optionalItemChoice } from "./item-choice";
import { exactQuantity, shownQuantity } from "./quantity";
import { massOfOne, quantityFrom } from "./typed-quantity";

describe("an amount of stock", () => {
  it.each([
    [24_300, "GRAM", "METRIC", "24.3 kg"],
    [999, "GRAM", "METRIC", "999 g"],
    [24_300, "GRAM", "US", "53.6 lb"],
    [200, "GRAM", "US", "7.05 oz"],
    [2500, "MILLILITRE", "METRIC", "2.5 L"],
    [500, "MILLILITRE", "US", "16.9 fl oz"],
    [7570.824, "MILLILITRE", "US", "2 US gal"],
    [1500, "MILLIMETRE", "METRIC", "1.5 m"],
    [1524, "MILLIMETRE", "US", "5 ft"],
    [254, "MILLIMETRE", "US", "10 in"],
    [3, "EACH", "US", "3 pieces"],
  ] as const)("%d %s reads as %s: %s", (quantity, unit, units, text) => {
    expect(shownQuantity(quantity, unit, units)).toBe(text);
  });

  it("stands in the ledger as it was typed", () => {
    expect(exactQuantity(1250, "GRAM", "METRIC")).toBe("1250 g");
    expect(exactQuantity(2267.962, "GRAM", "US")).toBe("5 lb");
    expect(exactQuantity(1, "EACH", "US")).toBe("1 piece");
  });
});

describe("an amount as typed", () => {
  it.each([
    ["5 lb", "GRAM", "METRIC", 2267.962],
    ["5", "GRAM", "METRIC", 5],
    ["5", "GRAM", "US", 141.748],
    ["2 gal", "MILLILITRE", "METRIC", 7570.824],
    ["2 ft 3 in", "MILLIMETRE", "US", 685.8],
    ["12", "EACH", "US", 12],
  ] as const)(
    "%j of a thing counted in %s is, in a %s shop, %d",
    (typed, unit, units, quantity) => {
      expect(quantityFrom(typed, unit, units, "quantity")).toBe(quantity);
    },
  );

  it.each([
    ["2 gal", "GRAM", "is not a mass"],
    ["3 oz", "EACH", "Expected a number from 0 to 1000000000 pieces"],
    ["-1", "GRAM", "Expected a number from 0"],
  ] as const)("%j of a thing counted in %s is refused", (typed, unit, why) => {
    try {
      quantityFrom(typed, unit, "METRIC", "counted");
      expect.unreachable();
    } catch (error) {
      expect(isRefusal(error) && error.fields?.["counted"]).toContain(why);
    }
  });

  it("has a mass for each length or piece", () => {
    expect(massOfOne("1.5", "MILLIMETRE", "METRIC")).toBe(1.5);
    expect(massOfOne("1", "MILLIMETRE", "US")).toBeCloseTo(1.488164, 6);
    expect(massOfOne("8", "EACH", "US")).toBeCloseTo(226.796185, 9);
    expect(massOfOne("2", "GRAM", "US")).toBe(2);
  });
});

describe("an item chosen in a list", () => {
  const itemId = "0b8f3f3c-3a6e-4a63-9d0e-0c2d4f9a1b11";

  it("brings what it is counted in", () => {
    const chosen = { itemId, unit: "MILLIMETRE" } as const;
    expect(optionalItemChoice.parse(itemChoiceText(chosen))).toEqual(chosen);
    expect(optionalItemChoice.parse("")).toBeNull();
    expect(optionalItemChoice.parse(undefined)).toBeNull();
  });

  it.each([itemId, `STONE ${itemId}`, "GRAM 7", "GRAM"])("is refused as %j", (sent) => {
    expect(optionalItemChoice.safeParse(sent).error?.issues[0]?.message).toMatch(/out of date/);
  });
});
