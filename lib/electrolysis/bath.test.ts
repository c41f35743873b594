import { celsius, gramsPerLitre, litres, massPercent } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bathConductivity, bathDissolvingShare, bathStrength } from "./bath";
import { conductivity } from "./conductivity";
import { saltForBath, saltPerLitre, solutionDensity, strengthFromSaltPerLitre } from "./density";
import { SALTS } from "./salts";

const salt = fc.constantFrom(...SALTS);

describe("density", () => {
  it("turns strength into g/L and back", () => {
    fc.assert(
      fc.property(salt, fc.double({ min: 0, max: 6, noNaN: true }), (which, w) => {
        const concentration = saltPerLitre(which, massPercent(w));
        expect(strengthFromSaltPerLitre(which, concentration)).toBeCloseTo(w, 9);
      }),
    );
  });

  it("gives salt in proportion to the volume", () => {
    const one = saltForBath("SODIUM_CARBONATE", litres(1), massPercent(2));
    expect(saltForBath("SODIUM_CARBONATE", litres(40), massPercent(2))).toBeCloseTo(40 * one, 9);
  });

  it("refuses what it does not know", () => {
    expect(() => solutionDensity("SODIUM_BICARBONATE", massPercent(7))).toThrow(
      "from 0 to 6 mass %",
    );
    expect(() => strengthFromSaltPerLitre("SODIUM_CARBONATE", gramsPerLitre(500))).toThrow("g/L");
    expect(() => saltForBath("SODIUM_CARBONATE", litres(0), massPercent(1))).toThrow("volume");
  });
});

describe("bath", () => {
  it("with one salt is that salt's solution", () => {
    fc.assert(
      fc.property(salt, fc.double({ min: 0, max: 4.9, noNaN: true }), (which, w) => {
        const massG = saltForBath(which, litres(15), massPercent(w));
        const bath = {
          carbonateMassG: which === "SODIUM_CARBONATE" ? massG : 0,
          bicarbonateMassG: which === "SODIUM_BICARBONATE" ? massG : 0,
          volumeL: 15,
          temperatureC: 20,
        };
        expect(bathStrength(bath).strength).toBeCloseTo(w, 9);
        expect(bathConductivity(bath)).toBeCloseTo(
          conductivity(which, massPercent(w), celsius(20)),
          9,
        );
      }),
    );
  });

  it("conducts better as bicarbonate turns to carbonate, gram for gram", () => {
    const kappa = (carbonateMassG: number): number =>
      bathConductivity({
        carbonateMassG,
        bicarbonateMassG: 100 - carbonateMassG,
        volumeL: 20,
        temperatureC: 20,
      });
    expect(kappa(25)).toBeGreaterThan(kappa(0));
    expect(kappa(75)).toBeGreaterThan(kappa(25));
    expect(kappa(100)).toBeGreaterThan(kappa(75));
  });

  it("of plain water conducts nothing", () => {
    const water = { carbonateMassG: 0, bicarbonateMassG: 0, volumeL: 20, temperatureC: 20 };
    expect(bathConductivity(water)).toBe(0);
  });

  it("mixes the prior of the anode's loss by mass", () => {
    const half = { carbonateMassG: 50, bicarbonateMassG: 50, volumeL: 20, temperatureC: 20 };
    expect(bathDissolvingShare(half).mean).toBeCloseTo(0.325, 12);
    expect(bathDissolvingShare({ ...half, carbonateMassG: 0 })).toEqual({ mean: 0.5, error: 0.25 });
  });

  it("refuses too much salt and impossible amounts", () => {
    const bath = { carbonateMassG: 0, bicarbonateMassG: 0, volumeL: 10, temperatureC: 20 };
    expect(() => bathConductivity({ ...bath, carbonateMassG: 4000 })).toThrow("mass %");
    expect(() => bathConductivity({ ...bath, bicarbonateMassG: 580 })).toThrow(
      "from 0 to 5 mass %",
    );
    expect(() => bathConductivity({ ...bath, carbonateMassG: -1 })).toThrow("mass of carbonate");
    expect(() => bathConductivity({ ...bath, volumeL: 0 })).toThrow("volume of the bath");
  });
});
