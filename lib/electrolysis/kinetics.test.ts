import { amperesPerSquareMetre } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ANODE, anodeBetween, CATHODE, overvoltage } from "./kinetics";

const eta = (density: number): number => overvoltage(amperesPerSquareMetre(density), CATHODE);

describe("overvoltage", () => {
  it("starts at zero and rises", () => {
    expect(eta(0)).toBe(0);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1e3, noNaN: true }),
        fc.double({ min: 1e-6, max: 1e3, noNaN: true }),
        (density, more) => {
          expect(eta(density + more)).toBeGreaterThan(eta(density));
        },
      ),
    );
  });

  it("gains one Tafel slope for ten times the current", () => {
    expect(eta(100) - eta(10)).toBeCloseTo(CATHODE.tafelSlopeV, 6);
    expect(eta(10)).toBeCloseTo(0.36, 3);
  });

  it("is a plain resistance far below the exchange current", () => {
    expect(eta(2e-6)).toBeCloseTo(2 * eta(1e-6), 12);
  });

  it("refuses a density below zero", () => {
    expect(() => eta(-1)).toThrow("current density");
  });
});

describe("anodes", () => {
  const onset = (anode: (typeof ANODE)["ACTIVE"]): number =>
    anode.reversibleV + eta(10) + overvoltage(amperesPerSquareMetre(10), anode);

  it("start where such tanks do: 0.4 to 0.9 V active, 1.6 to 2.2 V passive, at 10 A/m²", () => {
    expect(onset(ANODE.ACTIVE)).toBeGreaterThan(0.4);
    expect(onset(ANODE.ACTIVE)).toBeLessThan(0.9);
    expect(onset(ANODE.PASSIVE)).toBeGreaterThan(1.6);
    expect(onset(ANODE.PASSIVE)).toBeLessThan(2.2);
  });

  it("lie between passive and active", () => {
    expect(anodeBetween(0)).toMatchObject({ reversibleV: ANODE.PASSIVE.reversibleV });
    expect(anodeBetween(1).reversibleV).toBeCloseTo(ANODE.ACTIVE.reversibleV, 12);
    expect(onset(anodeBetween(0.5))).toBeGreaterThan(onset(ANODE.ACTIVE));
    expect(onset(anodeBetween(0.5))).toBeLessThan(onset(ANODE.PASSIVE));
    expect(() => anodeBetween(1.5)).toThrow("dissolving share");
  });
});
