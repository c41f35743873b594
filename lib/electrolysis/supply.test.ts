import { describe, expect, it } from "vitest";
import { amperes } from "@/lib/units";
import { ANODE } from "./kinetics";
import { type Cell, operatingBand, operatingPoint } from "./operating-point";
import {
  type Battery,
  type Charger,
  continuousRating,
  currentLimit,
  supplyHours,
  tripsAt,
} from "./supply";

const charger: Charger = {
  kind: "CHARGER",
  openVoltageV: 13.8,
  innerResistanceOhm: 0.1,
  ratedCurrentA: 4,
  dutyFactor: 0.8,
};
const battery: Battery = {
  kind: "BATTERY",
  openVoltageV: 12.6,
  innerResistanceOhm: 0.02,
  capacityAh: 60,
};
const cell: Cell = {
  supply: charger,
  conductivitySPerM: 2,
  shapeLengthM: 0.6,
  partAreaM2: 0.1,
  anodeAreaM2: 0.05,
  leadOhm: 0.02,
  contactOhm: 0.02,
  dissolvingShare: 0.5,
};

describe("a charger that is asked for too much", () => {
  it("lets the current flow, or holds it at the rating, or trips", () => {
    const free = operatingPoint(cell, ANODE.ACTIVE);
    expect(free.currentA).toBeGreaterThan(4);
    expect(free.trips).toBe(false);

    const holds = operatingPoint(
      { ...cell, supply: { ...charger, overCurrent: "HOLDS" } },
      ANODE.ACTIVE,
    );
    expect(holds.currentA).toBe(4);
    expect(holds.limitedBy).toBe("CURRENT_LIMIT");
    expect(holds.trips).toBe(false);

    const trips = operatingPoint(
      { ...cell, supply: { ...charger, overCurrent: "TRIPS" } },
      ANODE.ACTIVE,
    );
    expect(trips.currentA).toBe(free.currentA);
    expect(trips.trips).toBe(true);
  });

  it("does not trip at its rating, and a weak bath trips nothing", () => {
    const tripping: Charger = { ...charger, overCurrent: "TRIPS" };
    expect(tripsAt(tripping, 4)).toBe(false);
    expect(tripsAt(tripping, 4.001)).toBe(true);
    expect(tripsAt({ ...charger, overCurrent: "SAGS" }, 40)).toBe(false);
    const weak = operatingBand({ ...cell, conductivitySPerM: 0.1, supply: tripping });
    expect(weak.high.trips).toBe(false);
    expect(currentLimit(charger)).toBe(Number.POSITIVE_INFINITY);
    expect(currentLimit(battery)).toBe(Number.POSITIVE_INFINITY);
    expect(currentLimit({ ...charger, overCurrent: "HOLDS" })).toBe(4);
    expect(currentLimit({ kind: "BENCH", voltageV: 12, currentLimitA: 7, dutyFactor: 1 })).toBe(7);
  });
});

describe("how long a supply lasts", () => {
  it("a battery gives half of its capacity; the wall never ends", () => {
    expect(supplyHours(battery, amperes(3))).toBe(10);
    expect(supplyHours(battery, amperes(0))).toBe(Number.POSITIVE_INFINITY);
    expect(supplyHours(charger, amperes(3))).toBe(Number.POSITIVE_INFINITY);
    expect(() => supplyHours(battery, amperes(-1))).toThrow(/current must.*A/);
  });

  it("a battery goes on at a tenth of its capacity an hour", () => {
    expect(continuousRating(battery)).toBe(6);
    expect(continuousRating(charger)).toBeCloseTo(3.2, 12);
  });
});
