import { celsius, massPercent, siemensPerMetre } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  conductivity,
  conductivityErrorShare,
  strengthForConductivity,
  strongestSolution,
} from "./conductivity";
import { SALTS } from "./salts";
import { saturation, solubility } from "./solubility";

const salt = fc.constantFrom(...SALTS);
const temperature = fc.double({ min: 0, max: 50, noNaN: true }).map(celsius);
const share = fc.double({ min: 0, max: 1, noNaN: true });

describe("conductivity", () => {
  it("is nothing in plain water", () => {
    expect(conductivity("SODIUM_CARBONATE", massPercent(0), celsius(20))).toBe(0);
  });

  it("rises with strength and with temperature", () => {
    fc.assert(
      fc.property(salt, temperature, share, share, (which, t, a, b) => {
        const most = strongestSolution(which, t);
        const [weak, strong] = [Math.min(a, b) * most, Math.max(a, b) * most];
        expect(conductivity(which, massPercent(strong), t)).toBeGreaterThanOrEqual(
          conductivity(which, massPercent(weak), t),
        );
      }),
    );
    const at = (t: number): number =>
      conductivity("SODIUM_BICARBONATE", massPercent(2), celsius(t));
    expect(at(30)).toBeCloseTo(1.2 * at(20), 12);
  });

  it("is undone by strengthForConductivity", () => {
    fc.assert(
      fc.property(salt, temperature, share, (which, t, part) => {
        const strength = part * strongestSolution(which, t);
        const kappa = conductivity(which, massPercent(strength), t);
        expect(strengthForConductivity(which, kappa, t)).toBeCloseTo(strength, 8);
      }),
    );
  });

  it("refuses what is outside its table, too hot, or not dissolved", () => {
    const kappa = (w: number, t: number): number =>
      conductivity("SODIUM_CARBONATE", massPercent(w), celsius(t));
    expect(() => kappa(16, 30)).toThrow("strength must be from 0 to 15 mass %, got 16");
    expect(() => kappa(-0.1, 30)).toThrow(RangeError);
    expect(() => kappa(2, 51)).toThrow("temperature must be from 0 to 50 °C, got 51");
    expect(() => kappa(10, 0)).toThrow("at most 6.5 mass % to stay dissolved at 0 °C, got 10");
    expect(() =>
      strengthForConductivity("SODIUM_BICARBONATE", siemensPerMetre(5), celsius(20)),
    ).toThrow("conductivity must be from 0 to 3.14 S/m, got 5");
  });

  it("trusts its straight line less in the cold and the heat", () => {
    expect(conductivityErrorShare(celsius(20))).toBe(0.1);
    expect(conductivityErrorShare(celsius(3))).toBe(0.2);
  });
});

describe("solubility", () => {
  it("stops at boiling and at ice", () => {
    expect(() => solubility("SODIUM_CARBONATE", celsius(101))).toThrow("from 0 to 100 °C");
    expect(() => solubility("SODIUM_CARBONATE", celsius(-1))).toThrow(RangeError);
  });

  it("of carbonate has its peak at 35.4 °C", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 100, noNaN: true }), (t) => {
        expect(solubility("SODIUM_CARBONATE", celsius(t))).toBeLessThanOrEqual(49.7 + 1e-12);
      }),
    );
    expect(saturation("SODIUM_CARBONATE", celsius(0))).toBeCloseTo(6.54, 2);
  });
});
