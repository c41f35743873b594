import { describe, expect, it } from "vitest";
import { cannotHangLevel, roomShare } from "./packing-bound";
import type { Hanging, Kind, PackingSpace } from "./packing-space";

const space: PackingSpace = { lengthMm: 600, widthMm: 400, heightMm: 300 };

/** Pieces that hang one way only. */
function kind(copies: number, lengthMm: number, widthMm: number, heightMm: number): Kind {
  return { copies, ways: [way(lengthMm, widthMm, heightMm)] };
}

function way(lengthMm: number, widthMm: number, heightMm: number): Hanging {
  const lie = { kind: "WHOLE", up: heightMm, along: lengthMm, across: widthMm } as const;
  return { lie, follows: "LENGTH", lengthMm, widthMm, heightMm };
}

describe("the room that pieces take up", () => {
  it("is the share of the volume where there is no gap", () => {
    const boxes = [
      { lengthMm: 300, widthMm: 200, heightMm: 150, copies: 3 },
      { lengthMm: 60, widthMm: 40, heightMm: 30, copies: 2 },
    ];
    expect(roomShare(boxes, space, 0)).toBeCloseTo(3 / 8 + 2 / 1000, 12);
    const round = { lengthMm: 400, widthMm: 400, heightMm: 300, diameterMm: 400 };
    expect(
      roomShare([{ lengthMm: 100, widthMm: 100, heightMm: 300, copies: 2 }], round, 0),
    ).toBeCloseTo(2 / (4 * Math.PI), 12);
  });

  it("grows every body by half the gap, round its edges and corners", () => {
    // A cube of 10 grown by 5: 1000 + 6·100·5 + 12·10·π·25/4 + 4/3·π·125.
    const cube = { lengthMm: 10, widthMm: 10, heightMm: 10 };
    const grownCube = 1000 + 3000 + 12 * 10 * Math.PI * 6.25 + (4 / 3) * Math.PI * 125;
    const room = { lengthMm: 20, widthMm: 20, heightMm: 20 };
    const grownRoom = 8000 + 12_000 + 12 * 20 * Math.PI * 6.25 + (4 / 3) * Math.PI * 125;
    expect(roomShare([{ ...cube, copies: 1 }], room, 10)).toBeCloseTo(grownCube / grownRoom, 12);
  });

  it("grows a cylinder to one with rounded edges", () => {
    // Radius 10, height 20, grown by 5: the cylinder, a cylinder round it, a slab on each end, and half a torus tube
    // on each rim (Pappus: area of the quarter circle × the way of its centroid).
    const r = 5;
    const rim = ((Math.PI * r * r) / 4) * 2 * Math.PI * (10 + (4 * r) / (3 * Math.PI));
    const grown = Math.PI * 15 ** 2 * 20 + 2 * (Math.PI * 100 * r + rim);
    const round = { lengthMm: 20, widthMm: 20, heightMm: 20, diameterMm: 20 };
    const point = { lengthMm: 1e-9, widthMm: 1e-9, heightMm: 1e-9, copies: 1 };
    expect(roomShare([point], round, 2 * r) * grown).toBeCloseTo((4 / 3) * Math.PI * r ** 3, 4);
  });
});

describe("what cannot hang level", () => {
  it("is found where two each need more than half of every direction", () => {
    expect(cannotHangLevel([kind(2, 301, 201, 151)], space, 0)).toBe(true);
    expect(cannotHangLevel([kind(2, 300, 201, 151)], space, 0)).toBe(false);
    expect(cannotHangLevel([kind(2, 301, 200, 151)], space, 0)).toBe(false);
    expect(cannotHangLevel([kind(2, 301, 201, 150)], space, 0)).toBe(false);
    expect(cannotHangLevel([kind(1, 301, 201, 151)], space, 0)).toBe(false);
  });

  it("counts the gap", () => {
    // 285 + 30 + 285 = 600.
    expect(cannotHangLevel([kind(2, 285, 201, 151)], space, 30)).toBe(false);
    expect(cannotHangLevel([kind(2, 285.1, 201, 151)], space, 30)).toBe(true);
  });

  it.each([2, 3, 4, 5])(
    "is found where one more than %i thick slices are to stand side by side",
    (k) => {
      const thick = 600 / k;
      expect(cannotHangLevel([kind(k, thick, 400, 300)], space, 0)).toBe(false);
      expect(cannotHangLevel([kind(k, thick + 0.01, 400, 300)], space, 0)).toBe(true);
    },
  );

  it("weighs a small piece against what a large one leaves", () => {
    // 410 of 600 leaves 190, too little for 200: only the sum of both, cut at a third, tells.
    const large = kind(1, 410, 400, 300);
    expect(cannotHangLevel([large, kind(1, 200.1, 400, 300)], space, 0)).toBe(true);
    expect(cannotHangLevel([large, kind(1, 190, 400, 300)], space, 0)).toBe(false);
  });

  it("lets a piece be turned the way that helps it most", () => {
    const turning: Kind = { copies: 2, ways: [way(301, 201, 151), way(201, 301, 151)] };
    expect(cannotHangLevel([turning], space, 0)).toBe(false);
  });

  it("says nothing of pieces that hang tilted", () => {
    const tilted: Kind = {
      copies: 5,
      ways: [
        {
          ...way(600, 400, 300),
          lie: { kind: "TILTED", tiltDegrees: 20, up: 20, along: 610, across: 400 },
        },
      ],
    };
    expect(cannotHangLevel([tilted], space, 0)).toBe(false);
  });

  it("counts what leaves less than a third as the whole length, and what is between as it is", () => {
    // Lying on a floor of 1000 × 1000 mm: none of the plain counts in halves, thirds or quarters tells, nor the area.
    const floor: PackingSpace = { lengthMm: 1000, widthMm: 1000, heightMm: 100 };
    const long = (lengthMm: number) => [
      kind(1, 600, 300, 100),
      kind(2, lengthMm, 200, 100),
      kind(1, 100, 560, 100),
      kind(1, 500, 860, 100),
    ];
    expect(cannotHangLevel(long(700), floor, 0)).toBe(true);
    expect(cannotHangLevel(long(666), floor, 0)).toBe(false);
  });
});
