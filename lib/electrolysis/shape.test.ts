import { metres, squareMetres } from "@/lib/units";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  closedFormShapeLength,
  coaxialShapeLength,
  concentricSpheresShapeLength,
  type LoadedTank,
  plateShapeLength,
  rodToPlaneShapeLength,
} from "./shape";

const tank: LoadedTank = {
  partAreaM2: 0.1,
  volumeL: 15,
  levelM: 0.2,
  anodeAreaM2: 0.05,
  arrangement: "RING",
};
const area = fc.double({ min: 0.001, max: 2, noNaN: true });

describe("closedFormShapeLength", () => {
  it("grows with the part and with the anode, and shrinks with rust", () => {
    fc.assert(
      fc.property(area, area, (a, b) => {
        const [small, large] = [Math.min(a, b), Math.max(a, b)];
        const g = (change: Partial<LoadedTank>): number =>
          closedFormShapeLength({ ...tank, ...change });
        expect(g({ partAreaM2: large })).toBeGreaterThanOrEqual(g({ partAreaM2: small }) - 1e-12);
        expect(g({ anodeAreaM2: large })).toBeGreaterThanOrEqual(g({ anodeAreaM2: small }) - 1e-12);
      }),
    );
    expect(closedFormShapeLength({ ...tank, layerM: 0 })).toBeGreaterThan(
      closedFormShapeLength(tank),
    );
  });

  it("is larger the more sides the anode stands on", () => {
    const g = (["RING", "TWO_SIDED", "ONE_SIDED"] as const).map((arrangement) =>
      closedFormShapeLength({ ...tank, arrangement }),
    );
    expect(g).toEqual([...g].sort((a, b) => b - a));
    expect(new Set(g).size).toBe(3);
  });

  it("makes no difference how a whole wall of anode is called", () => {
    const whole = { ...tank, anodeAreaM2: 5 };
    expect(closedFormShapeLength({ ...whole, arrangement: "ONE_SIDED" })).toBeCloseTo(
      closedFormShapeLength(whole),
      12,
    );
  });

  it("is the coaxial form when a clean cylinder stands in a whole ring", () => {
    // Shallow, so that the part reaches beyond half the depth and is taken as a cylinder throughout.
    const [level, wall, partRadius] = [0.1, 0.3, 0.2];
    const g = closedFormShapeLength({
      partAreaM2: 2 * Math.PI * partRadius * level,
      volumeL: 1000 * Math.PI * wall ** 2 * level,
      levelM: level,
      anodeAreaM2: 10,
      arrangement: "RING",
      layerM: 0,
    });
    expect(g).toBeCloseTo(coaxialShapeLength(metres(partRadius), metres(wall), metres(level)), 9);
  });

  it("adds the constriction of a striped wall: ln 2 / (2πNh) when strips cover half of it", () => {
    const wallAreaM2 = 2 * Math.sqrt(Math.PI * (0.015 / tank.levelM)) * tank.levelM;
    const inverse = (anodeAreaM2: number, arrangement: LoadedTank["arrangement"]): number =>
      1 / closedFormShapeLength({ ...tank, layerM: 0, anodeAreaM2, arrangement });
    for (const [arrangement, pieces] of [["RING", 4] as const, ["ONE_SIDED", 1] as const]) {
      expect(inverse(wallAreaM2 / 2, arrangement) - inverse(wallAreaM2, arrangement)).toBeCloseTo(
        Math.LN2 / (2 * Math.PI * pieces * tank.levelM),
        9,
      );
    }
  });

  it("has no step where sphere turns into cylinder", () => {
    const turn = Math.PI * tank.levelM ** 2; // both areas at half the depth
    const below = closedFormShapeLength({ ...tank, volumeL: 60, partAreaM2: turn * (1 - 1e-9) });
    const above = closedFormShapeLength({ ...tank, volumeL: 60, partAreaM2: turn * (1 + 1e-9) });
    expect(above).toBeCloseTo(below, 6);
  });

  it("refuses impossible tanks", () => {
    expect(() => closedFormShapeLength({ ...tank, partAreaM2: 0 })).toThrow("part area");
    expect(() => closedFormShapeLength({ ...tank, levelM: Number.NaN })).toThrow("level");
    expect(() => closedFormShapeLength({ ...tank, layerM: 0.02 })).toThrow("layer");
  });
});

describe("pure forms", () => {
  it("scale with length alone", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 10, noNaN: true }), (k) => {
        const m = (value: number) => metres(k * value);
        const forms = (scale: (value: number) => ReturnType<typeof metres>): number[] => [
          coaxialShapeLength(scale(0.01), scale(0.1), scale(0.3)),
          concentricSpheresShapeLength(scale(0.05), scale(0.2)),
          rodToPlaneShapeLength(scale(0.005), scale(0.1), scale(0.3)),
        ];
        forms(m).forEach((g, index) => {
          expect(g / k).toBeCloseTo(forms(metres)[index] ?? Number.NaN, 9);
        });
      }),
    );
  });

  it("turn into plates when the gap is thin", () => {
    const gap = 1e-6;
    const coaxial = coaxialShapeLength(metres(1), metres(1 + gap), metres(0.5));
    const plates = plateShapeLength(squareMetres(2 * Math.PI * 0.5), metres(gap));
    expect(coaxial / plates).toBeCloseTo(1, 5);
  });

  it("refuse an outside that is not outside", () => {
    expect(() => coaxialShapeLength(metres(0.1), metres(0.1), metres(1))).toThrow("above 0.1 m");
    expect(() => concentricSpheresShapeLength(metres(0.1), metres(0.05))).toThrow(RangeError);
    expect(() => plateShapeLength(squareMetres(1), metres(0))).toThrow("distance");
  });
});
