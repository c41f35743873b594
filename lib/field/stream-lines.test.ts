import { describe, expect, it } from "vitest";
import type { Bathful } from "./bathful";
import { catalogueMesh } from "./catalogue";
import { type FieldLook, lookAt } from "./look";
import { blockMesh, NO_TURN, turnedMesh } from "./mesh";
import { NO_ELECTRODE, type StreamLines, streamLines } from "./stream-lines";

type Line = readonly (readonly [number, number, number])[];

function linesOf({ points, starts }: StreamLines): readonly Line[] {
  return Array.from({ length: starts.length - 1 }, (_, line) =>
    Array.from({ length: starts[line + 1]! - starts[line]! }, (_, at) => {
      const from = 3 * (starts[line]! + at);
      return [points[from]!, points[from + 1]!, points[from + 2]!] as const;
    }),
  );
}

const UPRIGHT = { rotation: NO_TURN, translation: [0, 0, 0] } as const;

/** Two plates that shut off a trough of 600 × 200 mm, 100 mm deep; 380 mm of bath between them. */
const plates: Bathful = {
  vessel: {
    kind: "BOX",
    ...{ topLengthM: 0.6, topWidthM: 0.2, bottomLengthM: 0.6, bottomWidthM: 0.2 },
    depthM: 0.12,
  },
  levelM: 0.1,
  anodes: [
    {
      id: "anode",
      name: "anode",
      form: { kind: "PLATE", least: [0.2, -0.0999, 0.0001], most: [0.24, 0.0999, 0.12] },
    },
  ],
  parts: [
    {
      ...{ id: "part", name: "plate", pose: UPRIGHT },
      mesh: blockMesh([-0.22, -0.0999, 0.0001], [-0.18, 0.0999, 0.12]),
    },
  ],
};

/** A bar of 80 mm in the middle of a drum of 500 mm with anode all round. */
const drum: Bathful = {
  vessel: { kind: "ROUND", topDiameterM: 0.5, bottomDiameterM: 0.5, depthM: 0.2 },
  levelM: 0.16,
  anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count: 4, areaM2: 9 } }],
  parts: [
    {
      ...{ id: "part", name: "bar", pose: UPRIGHT },
      mesh: turnedMesh(
        [
          [0, 0.0001],
          [0.04, 0.0001],
          [0.04, 0.19],
          [0, 0.19],
        ],
        48,
      ),
    },
  ],
};

const box: Bathful = {
  vessel: {
    kind: "BOX",
    ...{ topLengthM: 0.8, topWidthM: 0.52, bottomLengthM: 0.72, bottomWidthM: 0.44 },
    depthM: 0.42,
  },
  levelM: 0.36,
  anodes: [{ id: "wall", name: "wall anode", form: { kind: "STRIPS", count: 4, areaM2: 0.42 } }],
  parts: [
    {
      ...{ id: "part", name: "box" },
      mesh: catalogueMesh("BOX", { lengthMm: 300, widthMm: 180, heightMm: 150, wallMm: 1.2 }),
      pose: { rotation: NO_TURN, translation: [0, 0, 0.1] },
    },
  ],
};

describe("lines of current", () => {
  it("between plates are straight, and end on the other plate", () => {
    const look = lookAt(plates, { cells: 30_000 });
    const facing = facingTo(look, -0.18);
    const found = streamLines(look, { count: 40, weights: facing });
    expect(found.ends).toHaveLength(40);
    for (const line of linesOf(found)) {
      const [first, last] = [line[0]!, line.at(-1)!];
      expect(first[0]).toBeCloseTo(-0.18, 4);
      expect(Math.abs(last[0] - 0.2)).toBeLessThan(look.grid.hx);
      for (const [, y, z] of line) {
        expect(Math.abs(y - first[1])).toBeLessThan(0.003);
        expect(Math.abs(z - first[2])).toBeLessThan(0.003);
      }
    }
    expect([...found.ends].every((end) => end === 0)).toBe(true);
  });

  it("between cylinders run along the spokes, and stay level", () => {
    const look = lookAt(drum, { cells: 60_000 });
    const found = streamLines(look, { count: 60 });
    const off = linesOf(found).map((line) => {
      const [first, last] = [line[1]!, line.at(-1)!];
      expect(Math.hypot(last[0], last[1])).toBeGreaterThan(0.25 - look.grid.hx);
      const turn = Math.atan2(last[1], last[0]) - Math.atan2(first[1], first[0]);
      expect(Math.abs(last[2] - first[2])).toBeLessThan(look.grid.hz);
      return Math.abs(Math.atan2(Math.sin(turn), Math.cos(turn)));
    });
    off.sort((one, other) => one - other);
    // Stairs of cells stand for both circles: a few degrees, most lines far less.
    expect(off[Math.floor(off.length / 2)]).toBeLessThan(0.03);
    expect(off.at(-1)).toBeLessThan(0.15);
  });

  it("go to each side of a part as its current does", () => {
    const look = lookAt(box, { cells: 40_000 });
    const { corners, ratio, electrode, inside } = look.surface;
    let [within, all] = [0, 0];
    ratio.forEach((density, patch) => {
      if (electrode[patch] !== 1 || !(density > 0)) return;
      const current = density * areaOf(corners, patch);
      all += current;
      if (inside[patch] === 1) within += current;
    });
    const count = 400;
    const begun = linesOf(streamLines(look, { count })).map((line) => line[1]!);
    const inBox = begun.filter(
      ([x, y, z]) => Math.abs(x) < 0.15 && Math.abs(y) < 0.09 && z > 0.1 && z < 0.25,
    );
    expect(begun.length).toBeGreaterThan(0.98 * count);
    expect(inBox.length / begun.length).toBeCloseTo(within / all, 1);
    expect(inBox.length).toBeGreaterThan(0);
  });

  it("come to the anode, all but a few", () => {
    const { ends } = streamLines(lookAt(box, { cells: 40_000 }), { count: 100 });
    expect([...ends].filter((end) => end === 0).length).toBeGreaterThanOrEqual(97);
    expect([...ends].every((end) => end === 0 || end === NO_ELECTRODE)).toBe(true);
  });

  it("are none where nothing flows, and are refused in a number that makes no sense", () => {
    const look = lookAt(plates, { cells: 5000 });
    const weights = new Float32Array(look.surface.ratio.length);
    expect(streamLines(look, { count: 5, weights }).ends).toHaveLength(0);
    for (const count of [0, 1.5, 5001, Number.NaN]) {
      expect(() => streamLines(look, { count })).toThrow(/lines must be a whole number/);
    }
  });
});

function areaOf(corners: Float32Array, patch: number): number {
  const at = (corner: number, axis: number): number => corners[9 * patch + 3 * corner + axis]!;
  const [a, b] = [1, 2].map((corner) => [0, 1, 2].map((axis) => at(corner, axis) - at(0, axis)));
  return (
    Math.hypot(
      a![1]! * b![2]! - a![2]! * b![1]!,
      a![2]! * b![0]! - a![0]! * b![2]!,
      a![0]! * b![1]! - a![1]! * b![0]!,
    ) / 2
  );
}

/** Weights of the patches that lie in the plane at x. */
function facingTo({ surface }: FieldLook, x: number): Float32Array {
  return surface.ratio.map((density, patch) =>
    density > 0 && [0, 3, 6].every((at) => Math.abs(surface.corners[9 * patch + at]! - x) < 1e-4)
      ? density * areaOf(surface.corners, patch)
      : 0,
  );
}
