import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ampereHours, celsius, grams, siemensPerMetre, volts } from "@/lib/units";
import { bathConductivity, type BathContents, bathStrength, strongestBathMass } from "./bath";
import { operatingBand } from "./operating-point";
import { anhydrousMass, carbonateFromBicarbonate } from "./salts";
import { saturation } from "./solubility";
import type { CellWithoutBath } from "./strongest-dose";
import {
  bathAfterCharge,
  bathFromConductivity,
  coldestDissolved,
  conductivityFromCurrent,
  saltForConductivity,
} from "./used-bath";

const bath = (
  carbonateMassG: number,
  bicarbonateMassG: number,
  temperatureC = 20,
): BathContents => ({
  carbonateMassG,
  bicarbonateMassG,
  volumeL: 20,
  temperatureC,
});

const cell: CellWithoutBath = {
  supply: {
    kind: "CHARGER",
    openVoltageV: 13.8,
    innerResistanceOhm: 0.15,
    ratedCurrentA: 10,
    dutyFactor: 0.8,
  },
  shapeLengthM: 0.6,
  partAreaM2: 0.1,
  anodeAreaM2: 0.05,
  leadOhm: 0.02,
  contactOhm: 0.02,
  dissolvingShare: 0.5,
};

const sodium = ({ carbonateMassG, bicarbonateMassG }: BathContents): number =>
  carbonateMassG + carbonateFromBicarbonate(grams(bicarbonateMassG));

const mixtures = fc
  .record({
    carbonate: fc.double({ min: 0, max: 200, noNaN: true }),
    bicarbonate: fc.double({ min: 0, max: 200, noNaN: true }),
  })
  .filter(({ carbonate, bicarbonate }) => carbonate + bicarbonate > 5)
  .map(({ carbonate, bicarbonate }) => bath(carbonate, bicarbonate));

describe("bicarbonate in use", () => {
  it("loses two bicarbonates for each proton that gasses: 0.05 × 6.269 g for an A·h at first in a pure bath", () => {
    // 2 × 84.006 g/mol × 3600/96485 mol/A·h = 6.2687 g/A·h
    const lost = 400 - bathAfterCharge(bath(0, 400), ampereHours(0.01)).bicarbonateMassG;
    expect(lost / 0.01).toBeCloseTo(0.05 * 6.2687, 4);
  });

  it("falls half as fast where half of the salt is carbonate", () => {
    const lost = 200 - bathAfterCharge(bath(200, 200), ampereHours(0.01)).bicarbonateMassG;
    expect(lost / 0.01).toBeCloseTo(0.5 * 0.05 * 6.2687, 3);
  });

  it("keeps all the sodium, ends as carbonate, and never goes below none", () => {
    const used = bathAfterCharge(bath(10, 75), ampereHours(1e5));
    expect(sodium(used)).toBeCloseTo(sodium(bath(10, 75)), 9);
    expect(used.bicarbonateMassG).toBeGreaterThanOrEqual(0);
    expect(used.bicarbonateMassG).toBeLessThan(1e-9);
  });

  it("leaves carbonate as it is, keeps volume and temperature, and does nothing without charge", () => {
    expect(bathAfterCharge(bath(100, 0), ampereHours(50))).toEqual(bath(100, 0));
    expect(bathAfterCharge(bath(10, 75), ampereHours(0)).bicarbonateMassG).toBe(75);
  });

  it("comes out the same in one go and in two", () => {
    const twice = bathAfterCharge(bathAfterCharge(bath(5, 90), ampereHours(40)), ampereHours(60));
    const once = bathAfterCharge(bath(5, 90), ampereHours(100));
    expect(twice.bicarbonateMassG).toBeCloseTo(once.bicarbonateMassG, 9);
  });

  it("refuses a negative charge", () => {
    expect(() => bathAfterCharge(bath(5, 90), ampereHours(-1))).toThrow(/charge must.*A·h.*got -1/);
  });
});

describe("a bath by its measured conductivity", () => {
  it("is found again from its own conductivity, in proportion", () => {
    fc.assert(
      fc.property(mixtures, fc.double({ min: 0.2, max: 1, noNaN: true }), (booked, share) => {
        const real: BathContents = {
          ...booked,
          carbonateMassG: booked.carbonateMassG * share,
          bicarbonateMassG: booked.bicarbonateMassG * share,
        };
        const found = bathFromConductivity(booked, bathConductivity(real));
        expect(found.carbonateMassG).toBeCloseTo(real.carbonateMassG, 5);
        expect(found.bicarbonateMassG).toBeCloseTo(real.bicarbonateMassG, 5);
      }),
    );
  });

  it("finds about half the soda at 3.5 mS/cm, where 100 g in 20 L shows 7", () => {
    const found = bathFromConductivity(bath(100, 0), siemensPerMetre(0.35));
    expect(found.carbonateMassG).toBeGreaterThan(45);
    expect(found.carbonateMassG).toBeLessThan(51);
  });

  it("refuses what no bath can show, and books without salt", () => {
    expect(() => bathFromConductivity(bath(100, 0), siemensPerMetre(20))).toThrow(
      /conductivity must be from 0 to 8\.86 S\/m, got 20/,
    );
    expect(() => bathFromConductivity(bath(100, 0), siemensPerMetre(0))).toThrow(
      /conductivity must be finite and above 0 S\/m/,
    );
    expect(() => bathFromConductivity(bath(0, 0), siemensPerMetre(1))).toThrow(
      /salt in the books must be finite and above 0 g/,
    );
  });
});

describe("salt for a wanted conductivity", () => {
  it("is the inverse dose: what is added shows just what was wanted", () => {
    fc.assert(
      fc.property(
        mixtures,
        fc.constantFrom("SODIUM_CARBONATE" as const, "SODIUM_BICARBONATE" as const),
        fc.double({ min: 1.01, max: 1.4, noNaN: true }),
        (present, salt, times) => {
          const wanted = bathConductivity(present) * times;
          const added = saltForConductivity(present, salt, siemensPerMetre(wanted));
          const then =
            salt === "SODIUM_CARBONATE"
              ? { ...present, carbonateMassG: present.carbonateMassG + added }
              : { ...present, bicarbonateMassG: present.bicarbonateMassG + added };
          expect(bathConductivity(then)).toBeCloseTo(wanted, 8);
        },
      ),
    );
  });

  it("takes 201.7 g of soda ash in 20 L of water for 13.1 mS/cm, the handbook's 1 %", () => {
    const added = saltForConductivity(bath(0, 0), "SODIUM_CARBONATE", siemensPerMetre(1.31));
    expect(added).toBeCloseTo(201.7, 1); // 20 L × 10.086 g/L
    expect(anhydrousMass("SODA_ASH_LIGHT", added)).toBeCloseTo(201.7, 1);
  });

  it("is nothing where the bath conducts so well already", () => {
    expect(saltForConductivity(bath(200, 0), "SODIUM_CARBONATE", siemensPerMetre(0.5))).toBe(0);
    const just = bathConductivity(bath(200, 0));
    expect(saltForConductivity(bath(200, 0), "SODIUM_CARBONATE", just)).toBe(0);
  });

  it("refuses more than dissolves: bicarbonate at 0 °C ends at 6.5 %, its table at 5 %", () => {
    const cold = bath(0, 0, 0);
    expect(() => saltForConductivity(cold, "SODIUM_BICARBONATE", siemensPerMetre(5))).toThrow(
      /wanted conductivity must be from 0 to 1\.88[0-9]* S\/m, got 5/,
    );
    // Carbonate past the mixture's table: no bicarbonate may be added at all.
    expect(() =>
      saltForConductivity(bath(2000, 0), "SODIUM_BICARBONATE", siemensPerMetre(8)),
    ).toThrow(/wanted conductivity/);
    expect(() => saltForConductivity(bath(0, 0), "SODIUM_CARBONATE", siemensPerMetre(-1))).toThrow(
      /wanted conductivity must be finite and not negative/,
    );
  });

  it("reaches right up to the limit", () => {
    const cold = bath(0, 0, 0);
    const mostG = strongestBathMass({ ...cold, carbonateMassG: 1 });
    const most = bathConductivity({ ...cold, carbonateMassG: mostG });
    const added = saltForConductivity(cold, "SODIUM_CARBONATE", siemensPerMetre(most * 0.99999));
    expect(added / mostG).toBeGreaterThan(0.999);
  });
});

describe("the strongest bath", () => {
  it("ends at saturation in the cold and at the table when warm", () => {
    const cold = strongestBathMass(bath(1, 0, 0));
    expect(bathStrength(bath(cold, 0, 0)).strength).toBeCloseTo(
      saturation("SODIUM_CARBONATE", celsius(0)),
      6,
    );
    const warm = strongestBathMass(bath(1, 0, 30));
    expect(bathStrength(bath(warm, 0, 30)).strength).toBeCloseTo(15, 6);
  });

  it("of both salts ends where the bicarbonate's table does", () => {
    const most = strongestBathMass(bath(1, 1, 30));
    expect(bathStrength(bath(most / 2, most / 2, 30)).strength).toBeCloseTo(5, 6);
    expect(strongestBathMass(bath(0, 1, 30)) / 20).toBeCloseTo(51.685, 2); // 5 % × 1.0337
  });
});

describe("a bath by what a load draws", () => {
  it("gives back the conductivity that the operating point was made with", () => {
    for (const conductivitySPerM of [0.3, 0.7, 1.3, 2.3]) {
      const { mid, low, high } = operatingBand({ ...cell, conductivitySPerM });
      const back = conductivityFromCurrent(cell, volts(mid.terminalVoltageV), mid.currentA);
      expect(back.mid).toBeCloseTo(conductivitySPerM, 6);
      expect(
        conductivityFromCurrent(cell, volts(low.terminalVoltageV), low.currentA).high,
      ).toBeCloseTo(conductivitySPerM, 6);
      expect(
        conductivityFromCurrent(cell, volts(high.terminalVoltageV), high.currentA).low,
      ).toBeCloseTo(conductivitySPerM, 6);
      expect(back.low).toBeLessThan(back.mid);
      expect(back.high).toBeGreaterThan(back.mid);
    }
  });

  it("rises with the current at the same volts", () => {
    const at = (amps: number): number => conductivityFromCurrent(cell, volts(12), amps).mid;
    expect(at(2)).toBeLessThan(at(3));
    expect(at(3)).toBeLessThan(at(4));
  });

  it("says so where a passive anode would take all the volts, and refuses where any would", () => {
    expect(conductivityFromCurrent(cell, volts(2.0), 1).high).toBe(Number.POSITIVE_INFINITY);
    expect(() => conductivityFromCurrent(cell, volts(1), 5)).toThrow(
      /voltage must carry 5\.00 A through reactions, leads and clamps, got 1\.00 V/,
    );
    expect(() => conductivityFromCurrent(cell, volts(0), 5)).toThrow(/voltage must.*V/);
    expect(() => conductivityFromCurrent(cell, volts(12), 0)).toThrow(/current must.*A/);
    expect(() => conductivityFromCurrent({ ...cell, leadOhm: -1 }, volts(12), 2)).toThrow(
      /lead resistance/,
    );
  });
});

describe("a cold shop", () => {
  it("drops crystals of a 10 % bath near 6 °C: 11.1 g in 100 g of water", () => {
    const tenPercent = bath(20 * 110.29, 0);
    const coldest = coldestDissolved(tenPercent);
    expect(coldest).not.toBeNull();
    expect(saturation("SODIUM_CARBONATE", coldest ?? celsius(0))).toBeCloseTo(10, 3);
    expect(coldest).toBeGreaterThan(7);
    expect(coldest).toBeLessThan(9);
  });

  it("drops none of a usual bath, down to freezing", () => {
    expect(coldestDissolved(bath(100, 0))).toBeNull();
    expect(coldestDissolved(bath(0, 100))).toBeNull();
    expect(coldestDissolved(bath(0, 0))).toBeNull();
  });

  it("asks bicarbonate only where there is some", () => {
    // 6 % is under both saturations at 0 °C (6.5 and 6.5), 8 % of carbonate alone is not.
    expect(coldestDissolved(bath(20 * 60, 0))).toBeNull();
    expect(coldestDissolved(bath(20 * 86, 0))).toBeGreaterThan(2);
    expect(coldestDissolved(bath(0, 20 * 62))).toBeNull();
  });
});
