import { celsius, massPercent } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { conductivity } from "./conductivity";
import { operatingBand } from "./operating-point";
import { type CellWithoutBath, PART_DENSITY, strongestDose } from "./strongest-dose";

const cell: CellWithoutBath = {
  supply: {
    kind: "CHARGER",
    openVoltageV: 13,
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

describe("strongestDose", () => {
  it("stops a small part at the density it may have", () => {
    const dose = strongestDose({ ...cell, partAreaM2: 0.02 }, "SODIUM_CARBONATE", celsius(20));
    expect(dose.limitedBy).toBe("PART_DENSITY");
    expect(dose.band.mid.partDensityAPerM2).toBeCloseTo(PART_DENSITY.most, 6);
  });

  it("stops a large part at the supply's continuous rating, at the top of the band", () => {
    const dose = strongestDose({ ...cell, partAreaM2: 1 }, "SODIUM_CARBONATE", celsius(20));
    expect(dose.limitedBy).toBe("SUPPLY_RATING");
    expect(dose.band.high.currentA).toBeCloseTo(8, 6);
  });

  it("stops a huge supply at what the tables and the cold let dissolve", () => {
    const huge = {
      ...cell,
      supply: { ...cell.supply, ratedCurrentA: 1e4 },
      partAreaM2: 10,
    } as const;
    const dose = strongestDose(huge, "SODIUM_CARBONATE", celsius(0));
    expect(dose.limitedBy).toBe("DISSOLVED_SALT");
    expect(dose.strength).toBeCloseTo(6.54, 2);
  });

  it("keeps every weaker bath within both bounds", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.005, max: 5, noNaN: true }),
        fc.double({ min: 0.05, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (partAreaM2, shapeLengthM, share) => {
          const load = { ...cell, partAreaM2, shapeLengthM };
          const { strength } = strongestDose(load, "SODIUM_CARBONATE", celsius(20));
          const conductivitySPerM = conductivity(
            "SODIUM_CARBONATE",
            massPercent(share * strength),
            celsius(20),
          );
          const band = operatingBand({ ...load, conductivitySPerM });
          expect(band.high.ratingShare).toBeLessThanOrEqual(1 + 1e-6);
          expect(band.mid.partDensityAPerM2).toBeLessThanOrEqual(PART_DENSITY.most * (1 + 1e-6));
        },
      ),
    );
  });

  it("says when even that is too little for the part", () => {
    expect(strongestDose(cell, "SODIUM_CARBONATE", celsius(20)).enough).toBe(true);
    expect(strongestDose({ ...cell, partAreaM2: 50 }, "SODIUM_CARBONATE", celsius(20)).enough).toBe(
      false,
    );
  });

  it("refuses a tank that cannot be", () => {
    expect(() =>
      strongestDose({ ...cell, partAreaM2: 0 }, "SODIUM_CARBONATE", celsius(20)),
    ).toThrow("part area");
  });
});
