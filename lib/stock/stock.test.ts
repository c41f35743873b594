import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addQuantities,
  averageCost,
  balance,
  costOfReturn,
  drawOldestFirst,
  expiringLots,
  fromThousandths,
  type HeldLot,
  inThousandths,
  lotBalances,
  quantityText,
  roundQuantity,
  stockLevelAdvice,
  type StockEntry,
} from "./index";

const day = (date: number) => new Date(Date.UTC(2030, 0, date));
const lot = (id: string, onHand: number, valueMinor: number, received = 1): HeldLot => ({
  id,
  receivedAt: day(received),
  onHand,
  valueMinor,
});

describe("quantities", () => {
  it("add up exactly, in thousandths", () => {
    expect(addQuantities([0.1, 0.2])).toBe(0.3);
    expect(addQuantities(Array.from({ length: 1000 }, () => 0.001))).toBe(1);
    expect(roundQuantity(1.0005)).toBe(1.001);
    expect(Object.is(inThousandths(-0.0001), 0)).toBe(true);
  });

  it("go to thousandths and back", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e12, max: 1e12 }), (steps) => {
        expect(inThousandths(fromThousandths(steps))).toBe(steps === 0 ? 0 : steps);
      }),
    );
  });

  it("refuse what cannot be counted", () => {
    expect(() => inThousandths(Number.NaN)).toThrow("got NaN");
    expect(() => inThousandths(1e14)).toThrow(RangeError);
  });

  it("are written with their unit", () => {
    expect(quantityText(1250, "GRAM")).toBe("1250 g");
    expect(quantityText(1, "EACH")).toBe("1 piece");
    expect(quantityText(2, "EACH")).toBe("2 pieces");
  });
});

describe("drawOldestFirst", () => {
  it("empties the oldest lot first, whatever order they come in", () => {
    expect(drawOldestFirst([lot("b", 10, 2000, 2), lot("a", 4, 400, 1)], 6)).toEqual([
      { lotId: "a", quantity: 4, costMinor: 400 },
      { lotId: "b", quantity: 2, costMinor: 400 },
    ]);
  });

  it("takes nothing from nothing, and refuses more than there is or less than nothing", () => {
    expect(drawOldestFirst([], 0)).toEqual([]);
    expect(drawOldestFirst([lot("a", 0, 0), lot("b", 1, 5)], 1)).toHaveLength(1);
    expect(() => drawOldestFirst([lot("a", 1, 100)], 1.001)).toThrow(
      "quantity must be from 0 to the 1 on hand, got 1.001",
    );
    expect(() => drawOldestFirst([lot("a", 1, 100)], -1)).toThrow(RangeError);
  });

  it("conserves quantity and value down to the last bit, however a lot is drawn", () => {
    const draws = fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(draws, fc.integer({ min: 0, max: 1_000_000 }), (steps, costMinor) => {
        let onHand = fromThousandths(steps.reduce((a, b) => a + b, 0));
        let valueMinor = costMinor;
        for (const step of steps) {
          const [piece] = drawOldestFirst([lot("a", onHand, valueMinor)], fromThousandths(step));
          onHand = addQuantities([onHand, -(piece?.quantity ?? 0)]);
          valueMinor -= piece?.costMinor ?? 0;
          expect(piece?.costMinor).toBeGreaterThanOrEqual(0);
          expect(valueMinor).toBeGreaterThanOrEqual(0);
        }
        expect({ onHand, valueMinor }).toEqual({ onHand: 0, valueMinor: 0 });
      }),
    );
  });

  it("is undone by bringing it back", () => {
    const whole = { quantity: 7, costMinor: 1000 };
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 7000 }), (step) => {
        const quantity = fromThousandths(step);
        const [piece] = drawOldestFirst([lot("a", 7, 1000)], quantity);
        const cost = piece?.costMinor ?? Number.NaN;
        const left = { ...whole, onHand: 7 - quantity, valueMinor: 1000 - cost };
        expect(costOfReturn(left, quantity)).toBe(cost);
      }),
    );
  });
});

describe("costOfReturn", () => {
  it("is the share of what left the lot", () => {
    const left = { quantity: 3, costMinor: 100, onHand: 1, valueMinor: 33 };
    expect(costOfReturn(left, 1)).toBe(34); // half of 67: 33.5, to even
    expect(costOfReturn(left, 2)).toBe(67);
  });

  it("refuses more than was taken", () => {
    const left = { quantity: 3, costMinor: 100, onHand: 2, valueMinor: 67 };
    expect(() => costOfReturn(left, 1.5)).toThrow("at most the 1 taken, got 1.5");
    expect(() => costOfReturn(left, 0)).toThrow(RangeError);
  });
});

describe("balance", () => {
  const entries: readonly StockEntry[] = [
    { lotId: "a", kind: "RECEIVED", quantity: 10, costMinor: 1000 },
    { lotId: "b", kind: "RECEIVED", quantity: 10, costMinor: 2000 },
    { lotId: "a", kind: "USED", quantity: -0.3, costMinor: -30 },
    { lotId: "a", kind: "SPOILED", quantity: -0.1, costMinor: -10 },
    { lotId: "a", kind: "RETURNED", quantity: 0.3, costMinor: 30 },
    { lotId: "b", kind: "COUNTED", quantity: -1, costMinor: -200 },
  ];

  it("is the sum of the ledger, for each lot and for all", () => {
    expect(balance(entries)).toEqual({ onHand: 18.9, valueMinor: 2790 });
    expect([...lotBalances(entries)]).toEqual([
      ["a", { onHand: 9.9, valueMinor: 990 }],
      ["b", { onHand: 9, valueMinor: 1800 }],
    ]);
    expect(balance([])).toEqual({ onHand: 0, valueMinor: 0 });
  });

  it("at average cost, splits the same money between what went out and what is left", () => {
    const average = averageCost(entries, "EUR");
    expect(average.onHand).toBe(18.9);
    expect(average.value.minor).toBe(2835); // 18.9 at 150
    expect(average.out.minor).toBe(165); // 1.1 at 150
  });

  it("at average cost, is worth nothing when nothing is left, and refuses to go below", () => {
    const used = (quantity: number): StockEntry => ({
      lotId: "a",
      kind: "USED",
      quantity,
      costMinor: 0,
    });
    const received = entries.slice(0, 1);
    expect(averageCost([...received, used(-3), used(-7)], "EUR").value.minor).toBe(0);
    expect(() => averageCost([...received, used(-11)], "EUR")).toThrow("more than the 10 on hand");
  });
});

describe("expiringLots", () => {
  it("names what is past its day and what soon will be, the most urgent first", () => {
    const perishable = (id: string, expires: number | null, onHand = 1) => ({
      id,
      onHand,
      expiresOn: expires === null ? null : day(expires),
    });
    const lots = [
      perishable("keeps", null),
      perishable("later", 30),
      perishable("soon", 12),
      perishable("today", 10),
      perishable("gone", 9),
      perishable("empty", 1, 0),
    ];
    const found = expiringLots(lots, day(10), 7);
    expect(found.map(({ lot: { id }, state, daysLeft }) => [id, state, daysLeft])).toEqual([
      ["gone", "EXPIRED", -1],
      ["today", "SOON", 0],
      ["soon", "SOON", 2],
    ]);
  });
});

describe("stockLevelAdvice", () => {
  const level = {
    unit: "GRAM",
    onHand: 900,
    reorderPoint: 1000,
    reorderQuantity: 5000,
    used: 900,
    periodDays: 90,
  } as const;

  it("says when to order, how much, and how long it lasts", () => {
    const advice = stockLevelAdvice(level);
    expect(advice.state).toBe("LOW");
    expect(advice.order).toBe(5000);
    expect(advice.usage).toMatchObject({ value: 10, unit: "g/d" });
    expect(advice.cover).toMatchObject({ value: 90, unit: "d" });
  });

  it("orders at least up to the reorder point, and nothing while there is enough", () => {
    expect(stockLevelAdvice({ ...level, reorderQuantity: 0 }).order).toBe(100);
    expect(stockLevelAdvice({ ...level, onHand: 1000.001 })).toMatchObject({
      state: "ENOUGH",
      order: 0,
    });
    expect(stockLevelAdvice({ ...level, onHand: 1000 }).state).toBe("LOW");
    expect(stockLevelAdvice({ ...level, onHand: 0 }).state).toBe("OUT");
  });

  it("knows no cover where nothing is used, and refuses nonsense", () => {
    expect(stockLevelAdvice({ ...level, used: 0 }).cover).toBeNull();
    expect(() => stockLevelAdvice({ ...level, onHand: -1 })).toThrow(/^onHand must be/);
    expect(() => stockLevelAdvice({ ...level, periodDays: 0 })).toThrow(/^periodDays must be/);
  });
});
