/** Cost formulas of IAS 2 (paragraphs 25 to 27) on the usual textbook case; the case is from memory. */
import { describe, expect, it } from "vitest";
import { averageCost, drawOldestFirst, type StockEntry } from "@/lib/stock";

// 1 Jan: 100 units at 10.00. 10 Jan: 200 at 12.00. 15 Jan: 150 go out. 20 Jan: 100 at 13.00. 25 Jan: 120 go out.
const at = (day: number) => new Date(Date.UTC(2030, 0, day));
const first = { id: "1", receivedAt: at(1), onHand: 100, valueMinor: 100_000 };
const second = { id: "2", receivedAt: at(10), onHand: 200, valueMinor: 240_000 };
const third = { id: "3", receivedAt: at(20), onHand: 100, valueMinor: 130_000 };
const costOf = (pieces: readonly { readonly costMinor: number }[]) =>
  pieces.reduce((total, piece) => total + piece.costMinor, 0);

describe("first in, first out", () => {
  it("costs the units that came first", () => {
    const out = drawOldestFirst([first, second], 150);
    expect(costOf(out)).toBe(160_000); // 100 × 10 + 50 × 12
    const left = { ...second, onHand: 150, valueMinor: 180_000 };
    expect(costOf(drawOldestFirst([left, third], 120))).toBe(144_000); // 120 × 12
    // Left: 30 × 12 + 100 × 13 = 1660.00; cost of what went out 3040.00; together the 4700.00 bought.
    expect(470_000 - 160_000 - 144_000).toBe(30 * 1200 + 100 * 1300);
  });
});

describe("moving weighted average", () => {
  it("costs each unit at the mean of its moment", () => {
    const entry = (kind: "RECEIVED" | "USED", quantity: number, costMinor = 0): StockEntry => ({
      lotId: "any",
      kind,
      quantity,
      costMinor,
    });
    const { out, value, onHand } = averageCost(
      [
        entry("RECEIVED", 100, 100_000),
        entry("RECEIVED", 200, 240_000), // mean 3400 / 300 = 11.3333
        entry("USED", -150), // 1700.00, leaves 150 at 1700.00
        entry("RECEIVED", 100, 130_000), // mean 3000 / 250 = 12.00
        entry("USED", -120), // 1440.00
      ],
      "EUR",
    );
    expect(out.minor).toBe(314_000);
    expect(value.minor).toBe(156_000); // 130 × 12.00
    expect(onHand).toBe(130);
  });
});
