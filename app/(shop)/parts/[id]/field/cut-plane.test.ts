import { describe, expect, it } from "vitest";
import { type Bathful, catalogueMesh, lookAt, NO_TURN } from "@/lib/field";
import { type Axis, cutAt, cutField, cutTriangles, metalAlong, valueAt } from "./cut-plane";

/** A block of 200 × 120 × 80 mm, 100 mm above the floor. */
const bath: Bathful = {
  vessel: {
    kind: "BOX",
    ...{ topLengthM: 0.6, topWidthM: 0.4, bottomLengthM: 0.6, bottomWidthM: 0.4 },
    depthM: 0.35,
  },
  levelM: 0.3,
  anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count: 4, areaM2: 9 } }],
  parts: [
    {
      ...{ id: "part", name: "block" },
      mesh: catalogueMesh("PLATE", { lengthMm: 200, widthMm: 120, heightMm: 80, wallMm: null }),
      pose: { rotation: NO_TURN, translation: [0, 0, 0.1] },
    },
  ],
};
const look = lookAt(bath, { cells: 20_000 });

describe("a cut through a bath", () => {
  it("lies where it is asked for, and within the bath", () => {
    const { nx, hx, hz } = look.grid;
    expect(cutAt(look.grid, "x", 0.5)).toBeCloseTo(0, 9);
    expect(cutAt(look.grid, "x", 2)).toBeCloseTo(((nx - 1) * hx) / 2, 9);
    expect(cutAt(look.grid, "z", 0)).toBeCloseTo(hz / 2, 9);
  });

  it("has the bath's volts, and carries them on into metal", () => {
    const field = cutField(look, "y", 0.5, "VOLTS");
    expect(field.least).toBeGreaterThan(0);
    expect(field.most).toBeLessThan(1);
    // Farther from the part there is more of the anode's volt.
    expect(valueAt(field, 0.25, 0.14)).toBeGreaterThan(valueAt(field, 0.15, 0.14));
    expect(valueAt(field, -0.25, 0.14)).toBeCloseTo(valueAt(field, 0.25, 0.14), 3);
    expect(valueAt(field, 0.099, 0.14)).not.toBeNaN();
  });

  it("has the mean density about the part, and more at its edges", () => {
    const [part] = look.parts;
    const mean = look.shapeLengthM / (part?.wetAreaM2 ?? 1);
    const field = cutField(look, "y", 0.5, "CURRENT", mean);
    expect(10 ** valueAt(field, 0, 0.2)).toBeGreaterThan(0.2);
    expect(10 ** valueAt(field, 0, 0.2)).toBeLessThan(1.2);
    expect(valueAt(field, 0.11, 0.19)).toBeGreaterThan(valueAt(field, 0, 0.2));
  });

  it.each<[Axis, number, number, number]>([
    ["x", 0.01, 0.14, 0.12],
    ["y", 0.01, 0.14, 0.2],
    ["z", 0.14, 0.01, 0.2],
  ])("across %s finds the metal of the part", (axis, at, up, wide) => {
    const lines = cutTriangles(look.surface.corners, axis, at);
    const [metal, ...others] = metalAlong(lines, up);
    expect(others.filter(([from, to]) => to - from > 1e-6)).toEqual([]);
    expect(metal?.[0]).toBeCloseTo(-wide / 2, 5);
    expect(metal?.[1]).toBeCloseTo(wide / 2, 5);
  });

  it("finds no metal beside the part", () => {
    expect(metalAlong(cutTriangles(look.surface.corners, "y", 0.1), 0.14)).toEqual([]);
    expect(metalAlong(cutTriangles(look.surface.corners, "y", 0.01), 0.05)).toEqual([]);
  });
});
