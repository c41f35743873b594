import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ANODE, anodeBetween } from "./kinetics";
import { type Cell, operatingBand, type OperatingPoint, operatingPoint } from "./operating-point";
import type { Supply } from "./supply";

const charger: Supply = {
  kind: "CHARGER",
  openVoltageV: 13,
  innerResistanceOhm: 0.15,
  ratedCurrentA: 10,
  dutyFactor: 0.8,
};
const cell: Cell = {
  supply: charger,
  conductivitySPerM: 0.5,
  shapeLengthM: 0.6,
  partAreaM2: 0.1,
  anodeAreaM2: 0.05,
  leadOhm: 0.02,
  contactOhm: 0.02,
  dissolvingShare: 0.5,
};
const spread = (point: OperatingPoint): number =>
  Object.values(point.shares).reduce((total, share) => total + share, 0);

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyCell = fc.record({
  supply: fc.record({
    kind: fc.constant("CHARGER" as const),
    openVoltageV: between(0.5, 48),
    innerResistanceOhm: between(0, 5),
    ratedCurrentA: between(0.5, 100),
    dutyFactor: between(0.1, 1),
  }),
  conductivitySPerM: between(1e-6, 20),
  shapeLengthM: between(1e-3, 50),
  partAreaM2: between(1e-4, 20),
  anodeAreaM2: between(1e-4, 20),
  leadOhm: between(0, 2),
  contactOhm: between(0, 20),
  dissolvingShare: between(0, 1),
});

describe("operatingPoint", () => {
  it("spends the whole open voltage, whatever the tank", () => {
    fc.assert(
      fc.property(anyCell, (any) => {
        const point = operatingPoint(any, anodeBetween(any.dissolvingShare));
        expect(spread(point)).toBeCloseTo(any.supply.openVoltageV, 8);
        expect(point.currentA).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 500 },
    );
  });

  it("draws more for more volts, salt or area, and less for more resistance", () => {
    const change = fc.constantFrom("conductivitySPerM", "partAreaM2", "anodeAreaM2");
    fc.assert(
      fc.property(anyCell, change, between(1, 10), (any, key, times) => {
        const more = operatingPoint({ ...any, [key]: any[key] * times }, ANODE.PASSIVE);
        const less = operatingPoint(
          { ...any, contactOhm: any.contactOhm + times - 1 },
          ANODE.PASSIVE,
        );
        const now = operatingPoint(any, ANODE.PASSIVE).currentA;
        expect(more.currentA).toBeGreaterThanOrEqual(now * (1 - 1e-9));
        expect(less.currentA).toBeLessThanOrEqual(now * (1 + 1e-9));
      }),
    );
  });

  it("doubles with the whole tank doubled and the resistances halved", () => {
    const double: Cell = {
      ...cell,
      supply: { ...charger, innerResistanceOhm: 0.075 },
      shapeLengthM: 1.2,
      partAreaM2: 0.2,
      anodeAreaM2: 0.1,
      leadOhm: 0.01,
      contactOhm: 0.01,
    };
    expect(operatingPoint(double, ANODE.PASSIVE).currentA).toBeCloseTo(
      2 * operatingPoint(cell, ANODE.PASSIVE).currentA,
      9,
    );
  });

  it("gives no current below the voltage of the reaction", () => {
    const point = operatingPoint(
      { ...cell, supply: { ...charger, openVoltageV: 1.2 } },
      ANODE.PASSIVE,
    );
    expect(point).toMatchObject({ currentA: 0, limitedBy: "TOO_FEW_VOLTS", ratingShare: 0 });
    expect(point.terminalVoltageV).toBe(1.2);
  });

  it("is held by a bench supply's limit, and the volts fall", () => {
    const bench: Supply = { kind: "BENCH", voltageV: 13, currentLimitA: 1, dutyFactor: 1 };
    const point = operatingPoint({ ...cell, supply: bench }, ANODE.PASSIVE);
    expect(point).toMatchObject({ currentA: 1, limitedBy: "CURRENT_LIMIT", ratingShare: 1 });
    expect(point.terminalVoltageV).toBeLessThan(13);
    const free = operatingPoint(
      { ...cell, supply: { ...bench, currentLimitA: 99 } },
      ANODE.PASSIVE,
    );
    expect(free.terminalVoltageV).toBeCloseTo(13, 9);
  });

  it("names what holds the current down", () => {
    expect(operatingPoint(cell, ANODE.PASSIVE).limitedBy).toBe("BATH");
    expect(operatingPoint({ ...cell, contactOhm: 50 }, ANODE.PASSIVE).limitedBy).toBe("CONTACTS");
    expect(operatingPoint({ ...cell, leadOhm: 50 }, ANODE.PASSIVE).limitedBy).toBe("LEADS");
  });

  it("counts a battery's rating from its capacity", () => {
    const battery: Supply = {
      kind: "BATTERY",
      openVoltageV: 12.6,
      innerResistanceOhm: 0.01,
      capacityAh: 60,
    };
    const point = operatingPoint({ ...cell, supply: battery }, ANODE.PASSIVE);
    expect(point.ratingShare).toBeCloseTo(point.currentA / 6, 12);
  });

  it("refuses figures that cannot be", () => {
    const wrong: readonly (readonly [Partial<Cell>, string])[] = [
      [{ conductivitySPerM: 0 }, "conductivity must be finite and above 0 S/m, got 0"],
      [{ shapeLengthM: -1 }, "shape length"],
      [{ partAreaM2: Number.NaN }, "part area"],
      [{ anodeAreaM2: 0 }, "anode area"],
      [{ leadOhm: -1 }, "lead resistance"],
      [{ contactOhm: -1 }, "contact resistance"],
      [{ dissolvingShare: 2 }, "dissolving share"],
      [{ supply: { ...charger, dutyFactor: 1.2 } }, "duty factor"],
      [{ supply: { ...charger, openVoltageV: 0 } }, "supply voltage"],
    ];
    for (const [change, message] of wrong) {
      expect(() => operatingBand({ ...cell, ...change })).toThrow(message);
    }
  });
});

describe("operatingBand", () => {
  it("runs from a passive anode to an active one", () => {
    fc.assert(
      fc.property(anyCell, (any) => {
        const { low, mid, high } = operatingBand(any);
        expect(low.currentA).toBeLessThanOrEqual(mid.currentA * (1 + 1e-9));
        expect(mid.currentA).toBeLessThanOrEqual(high.currentA * (1 + 1e-9));
      }),
    );
  });

  it("narrows to the anode alone when the shape length is known", () => {
    const wide = operatingBand(cell);
    const narrow = operatingBand({ ...cell, shapeLengthErrorShare: 0 });
    expect(narrow.low.currentA).toBeCloseTo(operatingPoint(cell, ANODE.PASSIVE).currentA, 12);
    expect(narrow.high.currentA).toBeCloseTo(operatingPoint(cell, ANODE.ACTIVE).currentA, 12);
    expect(wide.low.currentA).toBeLessThan(narrow.low.currentA);
    expect(wide.high.currentA).toBeGreaterThan(narrow.high.currentA);
  });
});
