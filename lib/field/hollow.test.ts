import { describe, expect, it } from "vitest";
import type { Bathful } from "./bathful";
import { buildScene } from "./build-scene";
import { type CatalogueMeasures, type CatalogueShape, catalogueMesh } from "./catalogue";
import { Hollow } from "./hollow";
import { NO_TURN } from "./mesh";

const LEVEL = 0.36;
const LOW = 0.09;

/** The hollow of a part in the middle of a tub, its floor 90 mm up. */
function hollowOf(shape: CatalogueShape, measures: CatalogueMeasures): Hollow {
  const bath: Bathful = {
    vessel: {
      ...{ kind: "BOX", topLengthM: 0.8, topWidthM: 0.52, bottomLengthM: 0.72 },
      ...{ bottomWidthM: 0.44, depthM: 0.42 },
    },
    levelM: LEVEL,
    anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count: 4, areaM2: 0.4 } }],
    parts: [
      {
        ...{ id: "part", name: "part", mesh: catalogueMesh(shape, measures) },
        pose: { rotation: NO_TURN, translation: [0, 0, LOW] },
      },
    ],
  };
  return new Hollow(buildScene(bath, 60_000), 1);
}
const box = { lengthMm: 420, widthMm: 200, heightMm: 180, wallMm: 1.2 };
const CELL = 0.015;
const CLEAR = 0.03;

describe("the hollow of an open box", () => {
  const hollow = hollowOf("BOX", box);

  it("has its upright way in the middle, clear of floor and walls", () => {
    const way = hollow.upright(CLEAR);
    expect(way?.axis).toBe(2);
    expect(Math.abs(way?.from[0] ?? 1)).toBeLessThan(CELL);
    expect(Math.abs(way?.from[1] ?? 1)).toBeLessThan(CELL);
    // True clearance, of the way's end from the floor's upper side.
    expect(way?.from[2]).toBeGreaterThanOrEqual(LOW + 0.0012 + CLEAR);
    expect(way?.from[2]).toBeLessThan(LOW + CLEAR + 2 * CELL);
    expect(way?.to[2]).toBeCloseTo(LEVEL, 9);
    expect(way?.enclosedM).toBeGreaterThan(0.1);
    expect(way?.clearM).toBeGreaterThanOrEqual(CLEAR);
  });

  it("has its lying way along its length, no nearer to its ends than asked", () => {
    const way = hollow.lying(0, CLEAR);
    expect(way?.to[0]).toBeLessThanOrEqual(0.21 - CLEAR);
    expect(way?.from[0]).toBeGreaterThanOrEqual(-0.21 + CLEAR);
    expect((way?.to[0] ?? 0) - (way?.from[0] ?? 0)).toBeGreaterThan(0.3);
    expect(Math.abs(way?.from[1] ?? 1)).toBeLessThan(CELL);
    expect(way?.from[2]).toBeGreaterThan(LOW + CLEAR);
  });

  it("has a way down at a place asked for, and none where the wall is too near", () => {
    expect(hollow.upright(CLEAR, [0.1, 0])?.from[0]).toBeCloseTo(0.1, 1);
    const beside = hollow.upright(CLEAR, [0, 0.095]);
    expect(beside === null || beside.from[2] > LOW + 0.18).toBe(true);
  });

  it("has none where so much room is asked for that there is none", () => {
    expect(hollow.upright(0.2)).toBeNull();
    expect(hollow.lying(0, 0.12)).toBeNull();
  });
});

describe("other hollows", () => {
  it("of a tube lie along it, and nothing comes in from above", () => {
    const tube = { lengthMm: 400, widthMm: 120, heightMm: 120, wallMm: 4 };
    const hollow = hollowOf("TUBE", tube);
    const way = hollow.lying(0, CLEAR);
    expect((way?.to[0] ?? 0) - (way?.from[0] ?? 0)).toBeGreaterThan(0.37);
    expect(way?.enclosedM).toBeGreaterThan(0.37);
    expect(hollow.upright(CLEAR)).toBeNull();
  });

  it("of a plate are none", () => {
    const plate = { lengthMm: 250, widthMm: 65, heightMm: 45, wallMm: null };
    const hollow = hollowOf("PLATE", plate);
    expect(hollow.upright(0.01)).toBeNull();
    expect(hollow.lying(0, 0.01)).toBeNull();
  });
});
