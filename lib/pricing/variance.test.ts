import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type CostComparison, type CostLine, laidTo, varianceOf } from "@/lib/pricing";
import type { Worked } from "@/lib/units";

const worked = (quantity?: number): Worked => ({
  name: "energy",
  value: 0,
  unit: "EUR",
  formula: "C = q · r",
  inputs:
    quantity === undefined
      ? []
      : [{ name: "energy", symbol: "q", value: quantity, unit: "kW·h", standing: "assumption" }],
  standing: "assumption",
});

const estimated = (minor: number, quantity?: number): CostLine => ({
  kind: "ENERGY",
  minor,
  worked: worked(quantity),
});

const compared = (estimatedMinor: number, actualMinor: number): CostComparison => ({
  kind: "ENERGY",
  estimatedMinor,
  actualMinor,
  varianceMinor: actualMinor - estimatedMinor,
  variancePercent: null,
  worked: worked(),
});

describe("varianceOf", () => {
  it("is the whole difference, whatever was taken at whatever price", () => {
    const quantity = fc.oneof(
      fc.constant(0),
      fc.double({ min: 0, max: 1e-7, noNaN: true }),
      fc.double({ min: 0.001, max: 1e5, noNaN: true }),
    );
    const minor = fc.integer({ min: 0, max: 1e7 });
    fc.assert(
      fc.property(quantity, quantity, minor, minor, (planned, taken, estimate, actual) => {
        const line = compared(estimate, actual);
        const found = varianceOf(line, [estimated(estimate, planned)], taken);
        expect((found?.quantityMinor ?? 0) + (found?.priceMinor ?? 0)).toBe(line.varianceMinor);
      }),
    );
  });

  it("adds the quantities of several quotes", () => {
    const estimate = [estimated(100, 4), estimated(60, 4)];
    expect(varianceOf(compared(160, 200), estimate, 10)).toEqual({
      quantityMinor: 40,
      priceMinor: 0,
      rateMinor: 20,
      plannedQuantity: 8,
    });
  });

  it("lays all of it to the quantity where nothing was estimated, and knows where no quantity was kept", () => {
    expect(varianceOf(compared(0, 90), [estimated(0, 0)], 3)).toMatchObject({
      quantityMinor: 90,
      priceMinor: 0,
      rateMinor: 30,
    });
    expect(varianceOf(compared(50, 90), [estimated(50)], 3)).toBeNull();
  });
});

describe("laidTo", () => {
  it("adds up to the difference by quantity, with what is left over named", () => {
    const amounts = fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { maxLength: 8 });
    fc.assert(
      fc.property(amounts, fc.integer({ min: -1e6, max: 1e6 }), (mores, quantityMinor) => {
        const pieces = mores.map((more, index) => ({ words: `run ${index}`, more }));
        const effects = laidTo({ quantityMinor, rateMinor: 37 }, pieces, "the rest", "EUR");
        expect(effects.reduce((all, { minor }) => all + minor, 0)).toBe(quantityMinor);
      }),
    );
  });

  it("names no rest where it is a matter of rounding", () => {
    const pieces = [
      { words: "run 1", more: 1.004 },
      { words: "run 2", more: -0.5 },
    ];
    expect(laidTo({ quantityMinor: 50, rateMinor: 100 }, pieces, "rest", "EUR")).toEqual([
      { words: "run 1", minor: 100 },
      { words: "run 2", minor: -50 },
    ]);
    expect(laidTo({ quantityMinor: 80, rateMinor: 100 }, pieces, "rest", "EUR")[2]?.words).toBe(
      "rest",
    );
  });
});
