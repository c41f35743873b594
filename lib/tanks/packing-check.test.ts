import { describe, expect, it } from "vitest";
import { checkPacking, type Load, type Place, type TankShape } from "./index";

const trough: TankShape = {
  kind: "TAPERED_BOX",
  topLengthMm: 700,
  topWidthMm: 500,
  bottomLengthMm: 700,
  bottomWidthMm: 500,
  depthMm: 450,
};
const barrel: TankShape = {
  kind: "ROUND",
  topDiameterMm: 600,
  bottomDiameterMm: 600,
  depthMm: 500,
};
const box = { lengthMm: 100, widthMm: 80, heightMm: 60 };

/** Two pieces of 100 × 80 × 60 mm; 600 × 400 × 350 mm of free bath. */
const load: Load = {
  shape: trough,
  workingLevelMm: 400,
  clearanceMm: 50,
  gapMm: 30,
  parts: [{ id: "a", box, quantity: 2, massG: 0 }],
};

function place(copy: number, overrides: Partial<Place> = {}): Place {
  return {
    id: "a",
    copy,
    lie: { kind: "WHOLE", up: 60, along: 100, across: 80 },
    follows: "LENGTH",
    xMm: 0,
    yMm: 0,
    zMm: 0,
    lengthMm: 100,
    widthMm: 80,
    heightMm: 60,
    ...overrides,
  };
}

describe("the check of an arrangement", () => {
  it.each([
    ["along", { xMm: 130 }, { xMm: 129.9 }],
    ["across", { yMm: 110 }, { yMm: 109.9 }],
    ["upwards", { zMm: 90 }, { zMm: 89.9 }],
  ])("wants the whole gap %s", (_way, far, near) => {
    expect(checkPacking(load, [place(1), place(2, far)])).toEqual([]);
    expect(checkPacking(load, [place(1), place(2, near)])).toEqual(["a (1) is too near to a (2)"]);
    expect(checkPacking(load, [place(2, near), place(1)])).toEqual(["a (2) is too near to a (1)"]);
  });

  it.each([
    ["left", { xMm: -0.1 }],
    ["right", { xMm: 500.1 }],
    ["front", { yMm: -0.1 }],
    ["back", { yMm: 320.1 }],
    ["floor", { zMm: -0.1 }],
    ["surface", { zMm: 290.1 }],
  ])("finds what sticks out at the %s", (_side, out) => {
    const other = place(1, { xMm: 200, yMm: 150, zMm: 100 });
    expect(checkPacking(load, [other, place(2, out)])).toEqual(["a (2) is not inside"]);
  });

  it("takes what touches the bounds of the free bath", () => {
    const far = place(2, { xMm: 500, yMm: 320, zMm: 290 });
    expect(checkPacking(load, [place(1), far])).toEqual([]);
  });

  it("holds the corners of a round tank to its circle", () => {
    const round: Load = {
      ...load,
      shape: barrel,
      parts: [{ id: "a", box, quantity: 1, massG: 0 }],
    };
    // A corner at 150, 200 from the middle of a free circle of 250 mm: 150² + 200² = 250².
    const touching = place(1, { xMm: 100, yMm: 50 });
    expect(checkPacking(round, [touching])).toEqual([]);
    expect(checkPacking(round, [{ ...touching, yMm: 49.9 }])).toEqual(["a (1) is not inside"]);
    const opposite = { ...touching, xMm: 300, yMm: 370 };
    expect(checkPacking(round, [opposite])).toEqual([]);
    expect(checkPacking(round, [{ ...opposite, xMm: 300.1 }])).toEqual(["a (1) is not inside"]);
  });

  it("counts the pieces", () => {
    const apart = { xMm: 300 };
    expect(checkPacking(load, [place(1)])).toEqual(["a (2) is missing"]);
    expect(checkPacking(load, [place(1), place(2, apart), place(3, { xMm: 450 })])).toEqual([
      "a (3) is not in the load",
    ]);
    expect(checkPacking(load, [place(1), place(1, apart)])).toEqual([
      "a (2) is missing",
      "a (1) hangs twice",
    ]);
  });

  it("holds a piece to the size of its part, turned as it says", () => {
    const wrong = "a (2) is not the size of its part";
    const other = (overrides: Partial<Place>) => [place(1), place(2, { xMm: 300, ...overrides })];
    const crosswise = { follows: "WIDTH", lengthMm: 80, widthMm: 100 } as const;
    expect(checkPacking(load, other(crosswise))).toEqual([]);
    expect(checkPacking(load, other({ follows: "WIDTH" }))).toEqual([wrong]);
    expect(checkPacking(load, other({ heightMm: 59.9 }))).toEqual([wrong]);
    const smaller = { kind: "WHOLE", up: 50, along: 100, across: 80 } as const;
    expect(checkPacking(load, other({ lie: smaller, heightMm: 50 }))).toEqual([wrong]);
  });

  it("knows the room of a tilted piece and of one that is dipped end for end", () => {
    const one = { ...load, parts: [{ id: "a", box, quantity: 1, massG: 0 }] };
    // 100 cos 30° + 60 sin 30° = 116.6, 100 sin 30° + 60 cos 30° = 101.96.
    const tilted = place(1, {
      lie: { kind: "TILTED", tiltDegrees: 30, up: 60, along: 100, across: 80 },
      lengthMm: 116.603,
      heightMm: 101.962,
    });
    expect(checkPacking(one, [tilted])).toEqual([]);
    expect(checkPacking(one, [{ ...tilted, heightMm: 101 }])).toHaveLength(1);
    expect(checkPacking(one, [{ ...tilted, lengthMm: 115 }])).toHaveLength(1);
    const upright = place(1, {
      lie: { kind: "END_FOR_END", dips: 2, up: 100, along: 80, across: 60 },
      lengthMm: 80,
      widthMm: 60,
      heightMm: 350,
    });
    expect(checkPacking(one, [upright])).toEqual([]);
    expect(checkPacking(one, [{ ...upright, heightMm: 349 }])).toHaveLength(1);
  });
});
