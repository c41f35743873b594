import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addQuantities,
  averageCost,
  balance,
  costOfPacks,
  drawOldestFirst,
  fifoLayers,
  fromThousandths,
  type HeldLot,
  lotBalances,
  packOf,
  packsText,
  quantityOfPacks,
  type StockEntry,
} from "./index";

const entry = (
  lotId: string,
  kind: StockEntry["kind"],
  quantity: number,
  costMinor = 0,
): StockEntry => ({ lotId, kind, quantity, costMinor });

describe("fifoLayers", () => {
  it("takes from the oldest layer, whichever lot a line names", () => {
    const layers = fifoLayers([
      entry("a", "RECEIVED", 10, 1000),
      entry("b", "RECEIVED", 10, 2000),
      entry("b", "SPOILED", -4, -800),
      entry("a", "USED", -8, -800),
    ]);
    expect(layers).toEqual({
      layers: [{ lotId: "b", quantity: 8, costMinor: 1600 }],
      onHand: 8,
      valueMinor: 1600,
      short: 0,
    });
  });

  it("puts back what comes back, and what was found, where it was taken from", () => {
    const { layers } = fifoLayers([
      entry("a", "RECEIVED", 3, 100),
      entry("b", "RECEIVED", 3, 300),
      entry("a", "USED", -3, -100),
      entry("a", "RETURNED", 1, 33),
      entry("b", "COUNTED", 1, 100),
      entry("a", "USED", -2, -133),
    ]);
    expect(layers).toEqual([{ lotId: "b", quantity: 3, costMinor: 300 }]);
  });

  it("lets a delivery pay for what went out before it, by its date, and says what is still short", () => {
    const used = entry("a", "USED", -5, -50);
    expect(fifoLayers([used])).toEqual({ layers: [], onHand: 0, valueMinor: 0, short: 5 });
    expect(fifoLayers([used, entry("a", "RECEIVED", 4, 40)])).toMatchObject({
      onHand: 0,
      valueMinor: 0,
      short: 1,
    });
    expect(fifoLayers([used, entry("a", "RECEIVED", 10, 100)])).toMatchObject({
      onHand: 5,
      valueMinor: 50,
      short: 0,
    });
  });

  it("is nothing of nothing", () => {
    expect(fifoLayers([])).toEqual({ layers: [], onHand: 0, valueMinor: 0, short: 0 });
  });
});

/** What a shop does, in any order: deliveries with and without a last good day, uses, and lines taken back. */
type Step =
  | {
      readonly do: "receive";
      readonly steps: number;
      readonly costMinor: number;
      readonly day: number | null;
    }
  | { readonly do: "issue"; readonly share: number }
  | { readonly do: "take back"; readonly share: number };

const steps = fc.array(
  fc.oneof(
    fc.record({
      do: fc.constant("receive" as const),
      steps: fc.integer({ min: 1, max: 50_000 }),
      costMinor: fc.integer({ min: 0, max: 1_000_000 }),
      day: fc.option(fc.integer({ min: 0, max: 40 }), { nil: null }),
    }),
    fc.record({
      do: fc.constant("issue" as const),
      share: fc.double({ min: 0, max: 1, noNaN: true }),
    }),
    fc.record({
      do: fc.constant("take back" as const),
      share: fc.double({ min: 0, max: 0.999, noNaN: true }),
    }),
  ),
  { maxLength: 60 },
);

/** Plays the steps as the services do: lots drawn in turn, lines taken back by lines with both signs turned. */
function play(work: readonly Step[], expiring: boolean): StockEntry[] {
  const ledger: StockEntry[] = [];
  const lots: Omit<HeldLot, "onHand" | "valueMinor">[] = [];
  const takenBack = new Set<StockEntry>();
  for (const [index, step] of work.entries()) {
    const left = lotBalances(ledger);
    const held = lots.map((lot) => {
      const { onHand, valueMinor } = left.get(lot.id) ?? { onHand: 0, valueMinor: 0 };
      return { ...lot, onHand, valueMinor };
    });
    if (step.do === "receive") {
      const expiresOn =
        expiring && step.day !== null ? new Date(Date.UTC(2030, 0, 1 + step.day)) : null;
      lots.push({ id: `lot ${index}`, receivedAt: new Date(index), expiresOn });
      ledger.push(entry(`lot ${index}`, "RECEIVED", fromThousandths(step.steps), step.costMinor));
    } else if (step.do === "issue") {
      const all = addQuantities(held.map(({ onHand }) => onHand));
      const pieces = drawOldestFirst(held, Math.floor(all * step.share * 1000) / 1000);
      for (const { lotId, quantity, costMinor } of pieces) {
        ledger.push(entry(lotId, "USED", -quantity, -costMinor));
      }
    } else {
      const open = ledger.filter(
        (line) => line.kind === "USED" && line.quantity < 0 && !takenBack.has(line),
      );
      const line = open[Math.floor(step.share * open.length)];
      if (!line) continue;
      takenBack.add(line);
      ledger.push({ ...line, quantity: -line.quantity, costMinor: -line.costMinor });
    }
  }
  return ledger;
}

describe("any order of deliveries, uses and lines taken back", () => {
  it("gives a ledger whose lots are never below nothing, and worth nothing when empty", () => {
    fc.assert(
      fc.property(steps, fc.boolean(), (work, expiring) => {
        const ledger = play(work, expiring);
        for (let length = 0; length <= ledger.length; length += 1) {
          for (const { onHand, valueMinor } of lotBalances(ledger.slice(0, length)).values()) {
            expect(onHand).toBeGreaterThanOrEqual(0);
            expect(valueMinor).toBeGreaterThanOrEqual(0);
            if (onHand === 0) expect(valueMinor).toBe(0);
          }
        }
      }),
    );
  });

  it("conserves value: what was delivered is what is left and what went out", () => {
    fc.assert(
      fc.property(steps, fc.boolean(), (work, expiring) => {
        const ledger = play(work, expiring);
        const of = (kind: StockEntry["kind"]) =>
          balance(ledger.filter((line) => line.kind === kind));
        const left = [...lotBalances(ledger).values()];
        expect(left.reduce((total, { valueMinor }) => total + valueMinor, 0)).toBe(
          of("RECEIVED").valueMinor + of("USED").valueMinor,
        );
        expect(addQuantities(left.map(({ onHand }) => onHand))).toBe(
          addQuantities([of("RECEIVED").onHand, of("USED").onHand]),
        );
      }),
    );
  });

  it("taken back altogether leaves what was delivered, as though nothing had been used", () => {
    fc.assert(
      fc.property(steps, fc.boolean(), (work, expiring) => {
        const ledger = play(
          work.filter((step) => step.do !== "take back"),
          expiring,
        );
        const used = ledger.filter(({ kind }) => kind === "USED");
        const turned = used.map((line) => ({
          ...line,
          quantity: -line.quantity,
          costMinor: -line.costMinor,
        }));
        const delivered = ledger.filter(({ kind }) => kind === "RECEIVED");
        const whole = (entries: readonly StockEntry[]) =>
          [...lotBalances(entries)].sort(([a], [b]) => (a < b ? -1 : 1));
        expect(whole([...ledger, ...turned])).toEqual(whole(delivered));
      }),
    );
  });

  it("has the same layers by date as it was drawn, where nothing expires and nothing is taken back", () => {
    fc.assert(
      fc.property(steps, (work) => {
        const ledger = play(
          work.filter((step) => step.do !== "take back"),
          false,
        );
        const drawn = [...lotBalances(ledger)]
          .filter(([, { onHand }]) => onHand > 0)
          .map(([lotId, { onHand, valueMinor }]) => ({
            lotId,
            quantity: onHand,
            costMinor: valueMinor,
          }));
        const { layers, short, onHand } = fifoLayers(ledger);
        expect(layers).toEqual(drawn);
        expect(short).toBe(0);
        expect(onHand).toBe(averageCost(ledger, "EUR").onHand);
      }),
    );
  });
});

describe("packs", () => {
  const sack = { name: "sack", quantity: 10_000 };

  it("are read, counted and paid", () => {
    expect(packsText(25_000, sack)).toBe("2.5 sacks");
    expect(packsText(10_000, sack)).toBe("1 sack");
    expect(packsText(3333, sack)).toBe("about 0.33 sacks");
    expect(packsText(20, { name: "box", quantity: 10 })).toBe("2 boxes");
    expect(quantityOfPacks(2.5, sack)).toBe(25_000);
    expect(() => quantityOfPacks(-1, sack)).toThrow("packs must be 0 or more");
    expect(costOfPacks(2.5, 1801)).toBe(4502); // 4502.5, to even
    expect(packOf({ packName: "", packQuantity: null })).toBeNull();
    expect(packOf({ packName: "sack", packQuantity: 10_000 })).toEqual(sack);
  });

  it("go to the unit and back", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1000 }),
        fc.integer({ min: 1, max: 1e6 }),
        (n, holds) => {
          const pack = { name: "bar", quantity: fromThousandths(holds) };
          expect(packsText(quantityOfPacks(n, pack), pack)).toBe(n === 1 ? "1 bar" : `${n} bars`);
        },
      ),
    );
  });
});
