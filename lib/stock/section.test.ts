import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expectWholeFigure } from "@/test/support/worked-contract";
import {
  ringLength,
  ringPieces,
  sizeAtHeight,
  straightPieces,
  workedAnodeArea,
  workedAnodeMass,
} from "./bend";
import {
  massPerMetre,
  type Section,
  sectionArea,
  sectionFaults,
  sectionText,
  surfacePerMetre,
} from "./section";

const flat: Section = { shape: "FLAT", widthMm: 50, legMm: null, thicknessMm: 5 };
const round: Section = { shape: "ROUND", widthMm: 12, legMm: null, thicknessMm: null };
const ring = { offsetMm: 5, cornerMm: 20, gapMm: 40, overhangMm: 150 };

describe("a section", () => {
  it("names what does not fit together", () => {
    expect(sectionFaults(flat)).toEqual({});
    expect(sectionFaults({ ...flat, widthMm: 0 })).toHaveProperty("widthMm");
    expect(sectionFaults({ ...flat, thicknessMm: null })).toHaveProperty("thicknessMm");
    expect(sectionFaults({ ...flat, shape: "TUBE", widthMm: 10 })).toHaveProperty("thicknessMm");
    expect(sectionFaults({ ...flat, shape: "ANGLE" })).toHaveProperty("legMm");
    expect(() => sectionArea({ ...flat, widthMm: Number.NaN })).toThrow(RangeError);
  });

  it("of a tube is what is left of the round bar without its core", () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 100, noNaN: true }), (widthMm) => {
        const thicknessMm = widthMm / 5;
        const solid = sectionArea({ ...round, widthMm });
        const core = sectionArea({ ...round, widthMm: widthMm - 2 * thicknessMm });
        const tube = sectionArea({ shape: "TUBE", widthMm, legMm: null, thicknessMm });
        expect(tube).toBeCloseTo(solid - core, 6);
      }),
    );
  });

  it("is wetted all round, a tube outside only, an angle as the rectangle round it", () => {
    expect(surfacePerMetre(flat)).toBeCloseTo(0.11);
    expect(surfacePerMetre({ ...round, widthMm: 10 })).toBeCloseTo(0.0314, 4);
    expect(surfacePerMetre({ ...flat, shape: "TUBE" })).toBeCloseTo(0.157, 3);
    expect(surfacePerMetre({ ...flat, shape: "ANGLE", legMm: 30 })).toBeCloseTo(0.16);
    expect(surfacePerMetre({ ...round, shape: "SQUARE" })).toBeCloseTo(0.048);
  });

  it("is said", () => {
    expect(sectionText(flat)).toBe("flat bar {50 × 5 mm}");
    expect(sectionText({ ...flat, shape: "ANGLE", legMm: 30 })).toBe("angle {50 × 30 × 5 mm}");
  });
});

describe("a ring", () => {
  it("in a square box with corners as wide as the box is the ring of a round one", () => {
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 900 }), (side) => {
        const box = { shape: "BOX", lengthMm: side, widthMm: side } as const;
        const cornerMm = side / 2 - ring.offsetMm - 5;
        const inBox = ringLength(flat, { ...ring, wall: box, cornerMm });
        const inRound = ringLength(flat, { ...ring, wall: { shape: "ROUND", diameterMm: side } });
        expect(inBox).toBeCloseTo(inRound, 6);
      }),
    );
  });

  it("is shorter by the gap and longer by the part for the clamp, which is dry", () => {
    const wall = { shape: "ROUND", diameterMm: 560 } as const;
    const closed = ringLength(flat, { ...ring, wall, gapMm: 0, overhangMm: 0 });
    expect(ringLength(flat, { ...ring, wall })).toBeCloseTo(closed - 40 + 150);
    const pieces = ringPieces(flat, { ...ring, wall });
    expect(pieces.wetMm).toBeCloseTo(closed - 40);
    expect(pieces.lengthMm).toBe(Math.ceil(closed + 110));
  });

  it("is refused where it does not fit or cracks", () => {
    const wall = { shape: "ROUND", diameterMm: 12 } as const;
    expect(() => ringLength(flat, { ...ring, wall })).toThrow("too narrow");
    const box = { shape: "BOX", lengthMm: 300, widthMm: 300 } as const;
    expect(() => ringLength(flat, { ...ring, wall: box, cornerMm: 2 })).toThrow("cracks");
    expect(() => ringLength(flat, { ...ring, wall: box, cornerMm: 200 })).toThrow("wider");
    expect(() => ringLength(flat, { ...ring, wall: box, gapMm: 5000 })).toThrow("leaves no ring");
    expect(() => ringLength(flat, { ...ring, wall: box, offsetMm: -1 })).toThrow("0 mm or more");
    const angle = { ...flat, shape: "ANGLE", legMm: 30 } as const;
    expect(() => ringLength(angle, { ...ring, wall: box })).toThrow("kinks");
  });

  it("of a vessel that narrows follows it", () => {
    const vessel = { topMm: 600, bottomMm: 500, depthMm: 800 };
    expect(sizeAtHeight(vessel, 400)).toBe(550);
    expect(() => sizeAtHeight(vessel, 801)).toThrow(RangeError);
  });
});

describe("straight pieces", () => {
  const hang = { footMm: 50, levelMm: 400, topMm: 519.5, count: 4 };

  it("are wet from the foot to the level", () => {
    expect(straightPieces("STRIPS", hang)).toEqual({
      way: "STRIPS",
      count: 4,
      lengthMm: 470,
      wetMm: 350,
    });
    expect(() => straightPieces("ROD", { ...hang, footMm: 400 })).toThrow(RangeError);
    expect(() => straightPieces("ROD", { ...hang, topMm: 300 })).toThrow(RangeError);
    expect(() => straightPieces("ROD", { ...hang, count: 1.5 })).toThrow(RangeError);
  });

  it("weigh what they are long, and face the bath with half of what a free rod does", () => {
    const strips = straightPieces("STRIPS", hang);
    const mass = workedAnodeMass(flat, strips);
    expect(mass.value).toBeCloseTo(massPerMetre(flat) * 4 * 470);
    const area = workedAnodeArea(flat, strips);
    expect(area.value).toBeCloseTo((0.11 * 0.5 * 350 * 4) / 1000);
    const free = workedAnodeArea(flat, { ...strips, way: "ROD" });
    expect(free.value).toBeCloseTo(2 * area.value);
    for (const figure of [mass, area, free]) expectWholeFigure(figure);
  });
});
