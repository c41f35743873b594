import { ANODE, type Cell, operatingPoint } from "@/lib/electrolysis";
import { describe, expect, it } from "vitest";
import { bathOhm, lnAmps, lnVolts, pointOn, seriesCurve, seriesOhm, touchCurve } from "./curve";
import { TUB } from "./fixtures";

const cell = TUB;

describe("what a meter shows", () => {
  it("ends at its least step", () => {
    expect(lnAmps(2)).toBeCloseTo(Math.log(2), 12);
    expect(lnAmps(0.05)).toBe(lnAmps(0));
    expect(lnAmps(0.06)).toBeGreaterThan(lnAmps(0));
    expect(lnVolts(0.3)).toBe(lnVolts(0));
    expect(lnVolts(0.4)).toBeCloseTo(Math.log(0.4), 12);
  });

  it("has the resistances of the cell", () => {
    expect(bathOhm(cell)).toBeCloseTo(2.5, 12);
    expect(seriesOhm(cell)).toBeCloseTo(2.55, 12);
  });
});

describe("seriesCurve", () => {
  it.each([0.3, 1, 3, 20])("is the operating point with %d times the resistance", (times) => {
    for (const anode of [ANODE.PASSIVE, ANODE.ACTIVE]) {
      const shown = pointOn(seriesCurve(cell, anode), Math.log(times * seriesOhm(cell)));
      const more = (times - 1) * seriesOhm(cell);
      const exact = operatingPoint(
        more >= 0
          ? { ...cell, contactOhm: cell.contactOhm + more }
          : { ...cell, leadOhm: 0, contactOhm: 0, conductivitySPerM: 1 / (times * 2.55 * 0.8) },
        anode,
      );
      expect(shown.lnAmps).toBeCloseTo(Math.log(exact.currentA), 2);
      expect(shown.lnVolts).toBeCloseTo(Math.log(exact.terminalVoltageV), 2);
    }
  });

  it("has the slopes of its own line, and holds its ends", () => {
    const curve = seriesCurve(cell, ANODE.PASSIVE);
    const at = Math.log(seriesOhm(cell)) + 0.013;
    const here = pointOn(curve, at);
    const on = pointOn(curve, at + 1e-6);
    expect((on.lnAmps - here.lnAmps) / 1e-6).toBeCloseTo(here.slopeAmps, 5);
    expect((on.lnVolts - here.lnVolts) / 1e-6).toBeCloseTo(here.slopeVolts, 5);
    expect(here.slopeAmps).toBeLessThan(-0.5);
    expect(pointOn(curve, 99).lnAmps).toBe(lnAmps(0));
    expect(pointOn(curve, -99).lnAmps).toBe(curve.lnAmps[0]);
    expect(curve.from).toBeCloseTo(Math.log(2.55) - 3.4, 12);
    expect(curve.from + 89 * curve.step).toBeCloseTo(Math.log(2.55) + 5.7, 9);
    expect(curve.lnAmps).toHaveLength(90);
  });
});

describe("touchCurve", () => {
  it("drives what leads, clamps and supply let through once the volts are pulled down", () => {
    const shown = pointOn(touchCurve(cell, ANODE.PASSIVE), 5);
    // Next to nothing is left between part and anode: 13.8 V over 0.15 + 0.02 + 0.03 Ω.
    expect(Math.exp(shown.lnAmps)).toBeCloseTo(13.8 / 0.2, 0);
    expect(Math.exp(shown.lnVolts)).toBeCloseTo(13.8 - (13.8 / 0.2) * 0.15, 0);
  });

  it("leaves half of the volts between part and anode at severity 0", () => {
    const acrossV = operatingPoint(cell, ANODE.PASSIVE).cellVoltageV / 2;
    const amps = (13.8 - acrossV) / 0.2;
    const shown = pointOn(touchCurve(cell, ANODE.PASSIVE), 0);
    expect(Math.exp(shown.lnAmps) / amps).toBeCloseTo(1, 2);
    expect(Math.exp(shown.lnVolts) / (acrossV + 0.05 * amps)).toBeCloseTo(1, 2);
    expect(shown.slopeAmps).toBeGreaterThan(0);
    expect(shown.slopeVolts).toBeLessThan(0);
  });

  it("reaches from a light touch to a dead short", () => {
    const curve = touchCurve(cell, ANODE.PASSIVE);
    expect(curve.from).toBe(-2.5);
    expect(curve.from + 39 * curve.step).toBeCloseTo(5, 12);
    expect(pointOn(curve, 9)).toEqual({ ...pointOn(curve, 5), slopeAmps: expect.any(Number) });
  });

  it("drives no more than ten thousandths of an ohm let through, where nothing else resists", () => {
    const bare: Cell = {
      ...cell,
      leadOhm: 0,
      contactOhm: 0,
      supply: { ...cell.supply, kind: "BENCH", voltageV: 12, currentLimitA: 1e9, dutyFactor: 1 },
    };
    const shown = pointOn(touchCurve(bare, ANODE.PASSIVE), 5);
    const acrossV = operatingPoint(bare, ANODE.PASSIVE).cellVoltageV / (1 + Math.exp(5));
    expect(Math.exp(shown.lnAmps) / ((12 - acrossV) / 1e-4)).toBeCloseTo(1, 6);
  });

  it("stays at a supply's limit, where the volts alone tell", () => {
    const held: Cell = {
      ...cell,
      supply: { kind: "BENCH", voltageV: 12, currentLimitA: 5, dutyFactor: 1 },
    };
    const shown = pointOn(touchCurve(held, ANODE.PASSIVE), 5);
    expect(Math.exp(shown.lnAmps)).toBeCloseTo(5, 9);
    expect(Math.exp(shown.lnVolts)).toBeLessThan(0.5);
  });
});
