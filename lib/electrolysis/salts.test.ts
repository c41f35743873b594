import { grams, litres } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  anhydrousMass,
  carbonateFromBicarbonate,
  fromKitchen,
  gradeMass,
  KITCHEN_MEASURES,
  type KitchenMeasure,
  SALT_GRADES,
  toKitchen,
  usualDose,
} from "./salts";

const grade = fc.constantFrom(...SALT_GRADES);
const mass = fc.double({ min: 0, max: 1e5, noNaN: true });
const measure = fc.constantFrom(...(Object.keys(KITCHEN_MEASURES) as KitchenMeasure[]));

describe("salt grades", () => {
  it("turns anhydrous mass into grade mass and back", () => {
    fc.assert(
      fc.property(grade, mass, (code, amount) => {
        expect(anhydrousMass(code, gradeMass(code, grams(amount)))).toBeCloseTo(amount, 6);
      }),
    );
  });

  it("needs more of a hydrate than of soda ash", () => {
    expect(gradeMass("SODA_MONOHYDRATE", grams(1))).toBeCloseTo(1.17, 3);
    expect(gradeMass("WASHING_SODA_CRYSTALS", grams(1))).toBeCloseTo(2.7, 2);
    expect(gradeMass("SODA_ASH_DENSE", grams(1))).toBe(1);
  });

  it("takes nothing from nothing and refuses less", () => {
    expect(anhydrousMass("BAKING_SODA", grams(0))).toBe(0);
    expect(() => anhydrousMass("BAKING_SODA", grams(-1))).toThrow("mass of salt");
    expect(() => gradeMass("BAKING_SODA", grams(Number.NaN))).toThrow(RangeError);
  });

  it("loses 36.9 % of bicarbonate to water and carbon dioxide", () => {
    expect(carbonateFromBicarbonate(grams(100))).toBeCloseTo(63.08, 2);
  });
});

describe("kitchen measures", () => {
  it("gives back the count it was told", () => {
    fc.assert(
      fc.property(
        grade,
        measure,
        fc.double({ min: 0, max: 1000, noNaN: true }),
        (code, unit, count) => {
          const amount = fromKitchen(code, count, unit);
          expect(toKitchen(code, grams(amount.massG), unit).count).toBeCloseTo(count, 9);
        },
      ),
    );
  });

  it("shows at least a third either way and says to weigh", () => {
    const cup = fromKitchen("SODA_ASH_LIGHT", 1, "CUP");
    expect(cup.massG).toBeCloseTo(144.3, 1);
    expect(cup.lowG).toBeCloseTo(0.65 * cup.massG, 9);
    expect(cup.highG).toBeCloseTo(1.35 * cup.massG, 9);
    expect(cup.advice).toContain("Weigh");
  });

  it("refuses a count below zero", () => {
    expect(() => fromKitchen("BAKING_SODA", -1, "TEASPOON")).toThrow("count of measures");
  });

  it("scales the usual dose with the bath", () => {
    expect(usualDose(litres(20))).toEqual({ lowMl: 80, highMl: 120 });
    expect(usualDose(litres(0))).toEqual({ lowMl: 0, highMl: 0 });
  });
});
