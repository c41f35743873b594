import { describe, expect, it } from "vitest";
import { isRefusal } from "@/lib/errors";
import { differenceWords, expectedWords, foundAmount } from "./count/count-words";
import { deliveryFrom } from "./typed-delivery";

const SACKS = {
  unit: "GRAM",
  units: "METRIC",
  packs: null,
  packHolds: 10_000,
  quantity: "",
  packPrice: "",
  cost: "",
} as const;

describe("a delivery as typed", () => {
  it.each([
    [
      { packs: 2, packPrice: "18.25" },
      { quantity: 20_000, costMinor: 3650 },
    ],
    [
      { packs: 2.5, cost: "45" },
      { quantity: 25_000, costMinor: 4500 },
    ],
    [
      { quantity: "5 kg", packPrice: "18.00" },
      { quantity: 5000, costMinor: 900 },
    ],
    [
      { quantity: "5000", cost: "9" },
      { quantity: 5000, costMinor: 900 },
    ],
    [
      { packHolds: undefined, quantity: "5000", cost: "9" },
      { quantity: 5000, costMinor: 900 },
    ],
  ])("%j is %j", (typed, delivery) => {
    expect(deliveryFrom({ ...SACKS, ...typed }, "EUR")).toEqual(delivery);
  });

  it.each([
    [{ cost: "45" }, "packs"],
    [{ packs: 2, quantity: "20000", cost: "45" }, "packs"],
    [{ packs: 2 }, "packPrice"],
    [{ packs: 2, packPrice: "18", cost: "36" }, "packPrice"],
    [{ packs: 2, packPrice: "dear" }, "packPrice"],
    [{ packs: 2, cost: "1,5,0" }, "cost"],
    [{ packHolds: undefined, quantity: "", cost: "9" }, "quantity"],
    [{ packHolds: undefined, quantity: "9", cost: "" }, "cost"],
  ])("%j is refused at %s", (typed, field) => {
    try {
      deliveryFrom({ ...SACKS, ...typed }, "EUR");
      expect.unreachable();
    } catch (error) {
      expect(isRefusal(error) && Object.keys(error.fields ?? {})).toEqual([field]);
    }
  });
});

describe("a count as typed", () => {
  const soda = { unit: "GRAM", pack: { name: "sack", quantity: 10_000 } } as const;
  const gloves = { unit: "EACH", pack: null } as const;

  it.each([
    ["2.5", true, soda, 25_000],
    ["2,5", true, soda, 25_000],
    ["0", false, soda, 0],
    ["5 lb", false, soda, 2267.962],
    ["12", true, gloves, 12],
  ] as const)("%j (in packs: %s) of %j is %d", (typed, inPacks, row, found) => {
    expect(foundAmount(typed, inPacks, row, "METRIC")).toBe(found);
  });

  it.each([
    ["", false, soda],
    ["-1", true, soda],
    ["1,234", true, soda],
    ["many", false, gloves],
    ["2 gal", false, soda],
  ] as const)("%j is refused in words", (typed, inPacks, row) => {
    expect(foundAmount(typed, inPacks, row, "METRIC")).toEqual(expect.any(String));
  });

  it("is told from the ledger in words", () => {
    expect(differenceWords(-3, "EACH", "METRIC")).toBe("3 pieces fewer than the ledger");
    expect(differenceWords(250, "GRAM", "METRIC")).toBe("250 g more than the ledger");
    expect(differenceWords(0, "GRAM", "METRIC")).toBe("agrees with the ledger");
    expect(expectedWords(25_000, soda, "METRIC")).toBe("25000 g (2.5 sacks)");
  });
});
