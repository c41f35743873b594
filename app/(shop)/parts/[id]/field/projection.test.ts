import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FIRST_VIEW, movedOnLevel, project, turned, zoomed } from "./projection";

const number = fc.double({ min: -1, max: 1, noNaN: true });

describe("the view of a tank", () => {
  it("keeps lengths: it only turns", () => {
    fc.assert(
      fc.property(number, number, number, number, (x, y, z, turn) => {
        const seen = project({ ...FIRST_VIEW, turn }, x, y, z);
        expect(Math.hypot(...seen)).toBeCloseTo(Math.hypot(x, y, z), 9);
      }),
    );
  });

  it("finds the move on the level that the pointer made", () => {
    fc.assert(
      fc.property(number, number, number, (along, cross, turn) => {
        const view = { ...FIRST_VIEW, turn };
        const [across, up] = project(view, along, cross, 0);
        const found = movedOnLevel(view, across, up);
        expect(found.along).toBeCloseTo(along, 9);
        expect(found.cross).toBeCloseTo(cross, 9);
      }),
    );
  });

  it("shows what is up higher, and what is nearer in front", () => {
    const [, up] = project(FIRST_VIEW, 0, 0, 1);
    expect(up).toBeGreaterThan(0);
    const near = project({ ...FIRST_VIEW, turn: 0 }, 0, -1, 0)[2];
    const far = project({ ...FIRST_VIEW, turn: 0 }, 0, 1, 0)[2];
    expect(near).toBeGreaterThan(far);
  });

  it("is not turned under the floor, nor zoomed out of sight", () => {
    expect(turned(FIRST_VIEW, 0, -9).tip).toBe(0);
    expect(turned(FIRST_VIEW, 0, 9).tip).toBe(Math.PI / 2);
    expect(zoomed(FIRST_VIEW, 100).zoom).toBe(6);
    expect(zoomed(FIRST_VIEW, 0.001).zoom).toBe(0.5);
  });
});
