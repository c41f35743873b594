/** Mass a metre of rolled bars, and developed lengths of bends, against tables. All are quoted from memory. */
import { describe, expect, it } from "vitest";
import { bendAllowance, massPerMetre, ringLength, type Section } from "@/lib/stock";

const flat = (widthMm: number, thicknessMm: number): Section => ({
  shape: "FLAT",
  widthMm,
  legMm: null,
  thicknessMm,
});
const bar = (shape: "ROUND" | "SQUARE", widthMm: number): Section => ({
  shape,
  widthMm,
  legMm: null,
  thicknessMm: null,
});
const tube = (widthMm: number, thicknessMm: number): Section => ({
  shape: "TUBE",
  widthMm,
  legMm: null,
  thicknessMm,
});
const angle = (widthMm: number, legMm: number, thicknessMm: number): Section => ({
  shape: "ANGLE",
  widthMm,
  legMm,
  thicknessMm,
});

describe("mass a metre, kg/m", () => {
  it.each([
    // EN 10058, flat bars
    [flat(20, 5), 0.785],
    [flat(25, 5), 0.981],
    [flat(50, 5), 1.96],
    [flat(100, 10), 7.85],
    // EN 10060, round bars
    [bar("ROUND", 8), 0.395],
    [bar("ROUND", 10), 0.617],
    [bar("ROUND", 12), 0.888],
    [bar("ROUND", 20), 2.47],
    // EN 10059, square bars
    [bar("SQUARE", 10), 0.785],
    [bar("SQUARE", 20), 3.14],
    // EN 10220, round tubes
    [tube(33.7, 2.6), 1.99],
    [tube(48.3, 3.2), 3.56],
    [tube(60.3, 3.6), 5.03],
  ])("%o has %d", (section, table) => {
    // Tables give three figures.
    expect(Math.abs(massPerMetre(section) - table)).toBeLessThanOrEqual(0.005 * table);
  });

  it.each([
    // EN 10056-1, equal and unequal angles with their rounded root
    [angle(30, 30, 3), 1.36],
    [angle(40, 40, 4), 2.42],
    [angle(50, 50, 5), 3.77],
    [angle(60, 60, 6), 5.42],
    [angle(75, 50, 6), 5.65],
  ])("%o is at most 2 %% under its %d, for the root's fillet", (section, table) => {
    const mass = massPerMetre(section);
    expect(mass).toBeLessThan(table + 0.005);
    expect(mass).toBeGreaterThan(0.98 * table);
  });

  // The rule of site work, d²/162 kg/m with d in mm.
  it.each([6, 8, 10, 12, 16, 20, 25, 32])("of a %d mm bar is near d²/162", (d) => {
    expect(massPerMetre(bar("ROUND", d))).toBeCloseTo((d * d) / 162, 1);
    expect(Math.abs(massPerMetre(bar("ROUND", d)) / ((d * d) / 162) - 1)).toBeLessThan(0.002);
  });
});

describe("developed lengths", () => {
  it("give the allowance of a right angle in plate of 5 round 10: 19.63 mm at K 0.5, 18.30 at K 0.33", () => {
    // Sheet-metal tables, BA = 0.017453·A·(R + K·T)
    expect(bendAllowance(Math.PI / 2, 10, 5)).toBeCloseTo(0.017453 * 90 * (10 + 2.5), 2);
    expect(bendAllowance(Math.PI / 2, 10, 5, 0.33)).toBeCloseTo(18.3, 2);
  });

  it("take the mean diameter of a rolled hoop, as smiths do: π·(outside − thickness)", () => {
    // Common practice, no source: a tyre of 10 mm that is 500 mm across outside takes 1539 mm.
    const wall = { shape: "ROUND", diameterMm: 500 } as const;
    const hoop = { wall, offsetMm: 0, cornerMm: 0, gapMm: 0, overhangMm: 0 };
    expect(ringLength(flat(40, 10), hoop)).toBeCloseTo(1539.4, 1);
  });
});
