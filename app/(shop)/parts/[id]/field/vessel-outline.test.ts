import { describe, expect, it } from "vitest";
import type { Bathful, Vessel } from "@/lib/field";
import { outlineAt, type Quad, stripQuads } from "./vessel-outline";

const tub: Vessel = {
  kind: "BOX",
  ...{ topLengthM: 0.8, topWidthM: 0.5, bottomLengthM: 0.8, bottomWidthM: 0.5 },
  depthM: 0.4,
};
const drum: Vessel = { kind: "ROUND", topDiameterM: 0.6, bottomDiameterM: 0.5, depthM: 0.8 };

const strips = (vessel: Vessel, count: number, areaM2: number): readonly Quad[] =>
  stripQuads({
    ...{ vessel, levelM: 0.3, parts: [] },
    anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count, areaM2 } }],
  } satisfies Bathful);

type Corner = Quad[number];
const apart = (a: Corner, b: Corner): number => Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
const area = ([a, b, c, d]: Quad): number => ((apart(a, b) + apart(c, d)) / 2) * apart(a, d);

describe("the outline of a tank", () => {
  it("has the tank's measures at every height", () => {
    expect(outlineAt(tub, 0.1)[2]).toEqual([0.4, 0.25]);
    for (const [x, y] of outlineAt(drum, 0.4)) expect(Math.hypot(x, y)).toBeCloseTo(0.275, 9);
  });

  it("has strips of the anode's area, one in the middle of each side of a box", () => {
    const found = strips(tub, 4, 0.39);
    expect(found).toHaveLength(4);
    expect(found.reduce((sum, quad) => sum + area(quad), 0)).toBeCloseTo(0.39, 6);
    expect((found[0]?.[0][0] ?? 0) + (found[0]?.[1][0] ?? 1)).toBeCloseTo(0, 9);
  });

  it("shares eight strips out over the sides, and covers the wall at most once", () => {
    expect(strips(tub, 8, 0.2)).toHaveLength(8);
    const whole = strips(tub, 4, 99);
    expect(whole.reduce((sum, quad) => sum + area(quad), 0)).toBeCloseTo(2 * 1.3 * 0.3, 6);
  });

  it("stands strips evenly round a drum", () => {
    const found = strips(drum, 4, 0.2);
    // By the polygon that stands for the circle, and by mean height: within a hundredth.
    expect(found.reduce((sum, quad) => sum + area(quad), 0)).toBeCloseTo(0.2, 2);
    // Four of them stand between the axes, as `roundTheWall` shares the wall out.
    for (const [a, b] of found) {
      expect(Math.abs(a[0] + b[0])).toBeGreaterThan(0.1);
      expect(Math.abs(a[1] + b[1])).toBeGreaterThan(0.1);
    }
  });
});
