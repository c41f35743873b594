/** Cost formulas of IAS 2 (paragraphs 25 to 27) on the usual textbook case; the case is from memory. */
import { describe, expect, it } from "vitest";
import { averageCost, drawOldestFirst, fifoLayers, type StockEntry } from "@/lib/stock";

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

/*
 * OpenStax, Principles of Accounting, Volume 1: Financial Accounting, chapter 10 (the shop that sells tracking devices,
 * month of July): units, prices and both results are quoted from memory, and worked again by hand beside each line.
 */
describe("the worked example of an open accounting text", () => {
  const july: readonly StockEntry[] = [
    { lotId: "1 July", kind: "RECEIVED", quantity: 150, costMinor: 315_000 }, // 150 × 21 = 3150
    { lotId: "1 July", kind: "USED", quantity: -120, costMinor: 0 },
    { lotId: "10 July", kind: "RECEIVED", quantity: 225, costMinor: 607_500 }, // 225 × 27 = 6075
    { lotId: "10 July", kind: "USED", quantity: -180, costMinor: 0 },
    { lotId: "25 July", kind: "RECEIVED", quantity: 210, costMinor: 693_000 }, // 210 × 33 = 6930
  ];
  const bought = 315_000 + 607_500 + 693_000; // 16 155.00

  it("perpetual first in, first out: 285 units left at 8955, goods sold at 7200", () => {
    // Sold: 120 × 21 = 2520; then 30 × 21 + 150 × 27 = 630 + 4050 = 4680. Left: 75 × 27 = 2025 and 210 × 33 = 6930.
    expect(fifoLayers(july)).toEqual({
      layers: [
        { lotId: "10 July", quantity: 75, costMinor: 202_500 },
        { lotId: "25 July", quantity: 210, costMinor: 693_000 },
      ],
      onHand: 285,
      valueMinor: 895_500,
      short: 0,
    });
    expect(bought - fifoLayers(july).valueMinor).toBe(720_000);
  });

  it("perpetual moving average: 285 units left at 8902, goods sold at 7253", () => {
    // After 10 July 30 × 21 + 225 × 27 = 6705 for 255, which is 26.294 each; 180 of them cost 4732.94, 75 are left at
    // 1972.06, and 6930 more come in: 8902.06. Sold 2520 + 4732.94 = 7252.94.
    const { value, out, onHand } = averageCost(july, "USD");
    expect(onHand).toBe(285);
    expect(value.minor).toBe(890_206);
    expect(out.minor).toBe(725_294);
    expect(Math.round(value.minor / 100)).toBe(8902);
    expect(Math.round(out.minor / 100)).toBe(7253);
  });

  it("both split the same purchases", () => {
    const average = averageCost(july, "USD");
    expect(average.value.minor + average.out.minor).toBe(bought);
  });
});

/** First expired, first out: common practice for goods that perish, no source. Cost stays that of the lot drawn. */
describe("first expired, first out", () => {
  it("draws what expires first though it came last, and what keeps after all that expires", () => {
    const keeps = { id: "k", receivedAt: at(1), expiresOn: null, onHand: 5, valueMinor: 500 };
    const late = { id: "l", receivedAt: at(2), expiresOn: at(90), onHand: 5, valueMinor: 1000 };
    const soon = { id: "s", receivedAt: at(3), expiresOn: at(30), onHand: 5, valueMinor: 1500 };
    expect(drawOldestFirst([keeps, late, soon], 12)).toEqual([
      { lotId: "s", quantity: 5, costMinor: 1500 },
      { lotId: "l", quantity: 5, costMinor: 1000 },
      { lotId: "k", quantity: 2, costMinor: 200 },
    ]);
  });
});
