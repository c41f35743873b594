import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  alongTank,
  eyeward,
  FIRST_VIEW,
  firstView,
  LEAST_ZOOM,
  MOST_ZOOM,
  turned,
  zoomed,
} from "./view";

describe("the view of a tank", () => {
  it("is not turned under the floor, over the top, nor zoomed out of sight", () => {
    expect(turned(FIRST_VIEW, 0, -9).tip).toBe(0);
    expect(turned(FIRST_VIEW, 0, 9).tip).toBeCloseTo(Math.PI / 2, 1);
    expect(turned(FIRST_VIEW, 0, 9).tip).toBeLessThan(Math.PI / 2);
    expect(zoomed(FIRST_VIEW, 100).zoom).toBe(MOST_ZOOM);
    expect(zoomed(FIRST_VIEW, 0.001).zoom).toBe(LEAST_ZOOM);
  });

  it("comes from one step away, whichever way it is turned", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.double({ min: 0, max: 1.5, noNaN: true }),
        (turn, tip) => {
          expect(Math.hypot(...eyeward({ turn, tip, zoom: 1 }))).toBeCloseTo(1, 9);
        },
      ),
    );
    expect(eyeward({ turn: 0, tip: 0, zoom: 1 })).toEqual([-0, -1, 0]);
  });

  it("moves the part as the arrows point on the screen", () => {
    expect(alongTank({ ...FIRST_VIEW, turn: 0 }, 1, 0)).toEqual({ along: 1, across: 0 });
    expect(alongTank({ ...FIRST_VIEW, turn: 0.1 }, 0, 1)).toEqual({ along: 0, across: 1 });
    expect(alongTank({ ...FIRST_VIEW, turn: Math.PI }, 1, 0)).toEqual({ along: -1, across: 0 });
    expect(alongTank({ ...FIRST_VIEW, turn: Math.PI / 2 }, 1, 0)).toEqual({ along: 0, across: -1 });
    // What goes up the screen goes away from the eye.
    fc.assert(
      fc.property(fc.double({ min: -9, max: 9, noNaN: true }), (turn) => {
        const { along, across } = alongTank({ ...FIRST_VIEW, turn }, 0, 1);
        const [x, y] = eyeward({ turn, tip: 0, zoom: 1 });
        expect(along * x + across * y).toBeLessThan(0);
      }),
    );
  });
});

it("shows the whole tank at first, nearer where the part is small in it, never too near", () => {
  expect(firstView(0.8, 0.42)).toEqual(FIRST_VIEW);
  expect(firstView(2, 0.5).zoom).toBeCloseTo(1.6, 9);
  expect(firstView(2, 0.05).zoom).toBe(2);
});
