import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RunReading } from "./expectation";
import { passedSoFar, pullTime } from "./pull-time";

const HOUR = 3_600_000;
const reading = (hour: number, currentA: number, voltsV = 12): RunReading => ({
  atMs: hour * HOUR,
  currentA,
  voltsV,
  temperatureC: null,
  levelMm: null,
});

describe("pullTime", () => {
  it("is when the rest of the charge has passed", () => {
    expect(pullTime({ chargeSoFarAh: 4, targetChargeAh: 10, currentA: 3, atMs: HOUR })).toEqual({
      kind: "at",
      atMs: 3 * HOUR,
      hoursLeft: 2,
    });
  });

  it("is due once the charge is reached, even without current", () => {
    expect(pullTime({ chargeSoFarAh: 10, targetChargeAh: 10, currentA: 0, atMs: 0 })).toEqual({
      kind: "due",
    });
  });

  it("is unknown while nothing flows", () => {
    expect(pullTime({ chargeSoFarAh: 0, targetChargeAh: 10, currentA: 0, atMs: 0 })).toEqual({
      kind: "unknown",
    });
  });

  it("refuses impossible figures", () => {
    const run = { chargeSoFarAh: 0, targetChargeAh: 10, currentA: 1, atMs: 0 };
    expect(() => pullTime({ ...run, chargeSoFarAh: -1 })).toThrow(/charge so far.*A·h\), got -1/);
    expect(() => pullTime({ ...run, targetChargeAh: 0 })).toThrow(/target charge.*A·h, got 0/);
    expect(() => pullTime({ ...run, currentA: -2 })).toThrow(/current.*\(A\), got -2/);
  });
});

describe("passedSoFar", () => {
  it("adds trapezia, and carries the first and last reading to the ends", () => {
    const passed = passedSoFar([reading(3, 4), reading(1, 2)], 0, 4 * HOUR);
    expect(passed.chargeAh).toBeCloseTo(2 + 6 + 4, 12);
    expect(passed.energyKwh).toBeCloseTo((12 * 12) / 1000, 12);
  });

  it("agrees with pullTime when the current holds", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 500, noNaN: true }),
        (currentA, targetChargeAh) => {
          const pull = pullTime({ chargeSoFarAh: 0, targetChargeAh, currentA, atMs: 0 });
          const until = pull.kind === "at" ? pull.atMs : Number.NaN;
          const passed = passedSoFar([reading(0, currentA)], 0, until);
          expect(passed.chargeAh / targetChargeAh).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it("leaves out readings from before loading and after the end", () => {
    const readings = [reading(-1, 50), reading(1, 2), reading(9, 50)];
    expect(passedSoFar(readings, 0, 2 * HOUR).chargeAh).toBeCloseTo(4, 12);
  });

  it("puts any number of readings in order, and leaves out one from before loading", () => {
    // 2 A for 1 h, up to 6 A in the next, down to 4 A in the third, 4 A for the fourth.
    const mixed = [reading(3, 4), reading(1, 2), reading(2, 6)];
    expect(passedSoFar(mixed, 0, 4 * HOUR).chargeAh).toBeCloseTo(2 + 4 + 5 + 4, 12);
    const early = [reading(-1, 50), reading(0.5, 6), reading(1, 2)];
    expect(passedSoFar(early, 0, 2 * HOUR).chargeAh).toBeCloseTo(3 + 2 + 2, 12);
  });

  it("counts readings at the very ends, and hours from loading on", () => {
    const ends = [reading(10, 2), reading(12, 4)];
    const passed = passedSoFar(ends, 10 * HOUR, 12 * HOUR);
    expect(passed.chargeAh).toBeCloseTo(6, 12);
    expect(passed.energyKwh).toBeCloseTo(0.072, 12);
    // 24 W and 60 W at the ends of two hours.
    const sagging = passedSoFar([reading(0, 2, 12), reading(2, 6, 10)], 0, 2 * HOUR);
    expect(sagging.energyKwh).toBeCloseTo(0.084, 12);
    expect(passedSoFar([reading(0, 2)], 0, 0)).toEqual({ chargeAh: 0, energyKwh: 0 });
  });

  it("is nothing without readings, and refuses an end before loading", () => {
    expect(passedSoFar([], 0, HOUR)).toEqual({ chargeAh: 0, energyKwh: 0 });
    expect(() => passedSoFar([], HOUR, 0)).toThrow("until must not be before loading");
  });
});
