import { beforeAll, describe, expect, it } from "vitest";
import type { Bathful } from "./bathful";
import { type BuiltScene, buildScene } from "./build-scene";
import { catalogueMesh } from "./catalogue";
import { type FreeWay, Hollow } from "./hollow";
import {
  blockMesh,
  cornersOf,
  cross,
  dot,
  type Mesh,
  minus,
  moved,
  NO_TURN,
  type Point,
  together,
  turnAbout,
} from "./mesh";

const bath = (mesh: Mesh, translation: Point, rotation = NO_TURN): Bathful => ({
  vessel: {
    kind: "BOX",
    ...{ topLengthM: 0.64, topWidthM: 0.4, bottomLengthM: 0.64, bottomWidthM: 0.4 },
    depthM: 0.4,
  },
  levelM: 0.32,
  anodes: [{ id: "wall", name: "wall", form: { kind: "STRIPS", count: 4, areaM2: 0.3 } }],
  parts: [{ id: "part", name: "part", mesh, pose: { rotation, translation } }],
});

/** Nearest that a triangle comes to a place (Ericson, Real-Time Collision Detection, ch. 5: from memory). */
function toTriangle(place: Point, [a, b, c]: [Point, Point, Point]): number {
  const normal = cross(minus(b, a), minus(c, a));
  const inside = [
    [a, b],
    [b, c],
    [c, a],
  ].every(([one, other]) => {
    if (!one || !other) return false;
    return dot(cross(minus(other, one), minus(place, one)), normal) >= 0;
  });
  if (inside) return Math.abs(dot(minus(place, a), normal)) / Math.hypot(...normal);
  return Math.min(toEdge(place, a, b), toEdge(place, b, c), toEdge(place, c, a));
}
function toEdge(place: Point, from: Point, to: Point): number {
  const along = minus(to, from);
  const share = dot(minus(place, from), along) / dot(along, along);
  const t = Math.min(1, Math.max(0, share));
  return Math.hypot(...minus(place, from).map((value, axis) => value - t * (along[axis] ?? 0)));
}

/** Nearest that the middle line of a way comes to the true part, m. */
function trueClearance({ parts }: Bathful, { from, to }: FreeWay): number {
  const [part] = parts;
  if (!part) throw new Error("a part hangs");
  const mesh = moved(part.mesh, part.pose);
  const triangles = Array.from({ length: mesh.indices.length / 3 }, (_, at) => cornersOf(mesh, at));
  const steps = 100;
  let least = Infinity;
  for (let step = 0; step <= steps; step++) {
    const place = from.map((value, axis) => value + (step / steps) * ((to[axis] ?? 0) - value));
    for (const corners of triangles) {
      least = Math.min(least, toTriangle(place as unknown as Point, corners));
    }
  }
  return least;
}

const longestEdge = ({ grid }: BuiltScene): number => Math.max(grid.hx, grid.hy, grid.hz);
const CELLS = 20_000;
/** A scene and the hollow of its one part, which comes after the anode at the wall. */
function hollowOf(bathful: Bathful, cells = CELLS): { scene: BuiltScene; hollow: Hollow } {
  const scene = buildScene(bathful, cells);
  return { scene, hollow: new Hollow(scene, 1) };
}

describe("the hollow of an open box", () => {
  const LOWEST_M = 0.08;
  const box = catalogueMesh("BOX", { lengthMm: 300, widthMm: 200, heightMm: 150, wallMm: 1.2 });
  const bathful = bath(box, [0, 0, LOWEST_M]);
  let scene: BuiltScene;
  let hollow: Hollow;
  beforeAll(() => {
    ({ scene, hollow } = hollowOf(bathful));
  });

  it.each([0.02, 0.04, 0.06])(
    "has an upright way in its middle, %f m clear of its floor",
    (clear) => {
      const way = hollow.upright(clear);
      if (!way) throw new Error("no way");
      const edge = longestEdge(scene);
      expect(way.axis).toBe(2);
      expect(Math.abs(way.from[0])).toBeLessThan(edge);
      expect(Math.abs(way.from[1])).toBeLessThan(edge);
      expect(way.to[2]).toBeGreaterThan(0.32 - edge);
      const floor = LOWEST_M + 0.0012;
      expect(way.from[2]).toBeGreaterThanOrEqual(floor + clear);
      // And no more than two cells is given away.
      expect(way.from[2]).toBeLessThan(floor + clear + 2.5 * edge);
      // What is under the rim is enclosed; the floor is 0.15 m under it.
      expect(way.enclosedM).toBeLessThanOrEqual(0.15 - clear + edge);
      expect(way.enclosedM).toBeGreaterThan(0.15 - clear - 3 * edge);
    },
  );

  it.each([0.02, 0.035, 0.05, 0.07])(
    "keeps %f m from the true box, and says no more than is true",
    (clear) => {
      for (const way of [hollow.upright(clear), hollow.lying(0, clear), hollow.lying(1, clear)]) {
        if (!way) continue;
        const nearest = trueClearance(bathful, way);
        expect(nearest).toBeGreaterThanOrEqual(clear - 1e-9);
        expect(way.clearM).toBeLessThanOrEqual(nearest + 1e-9);
        expect(way.meanClearM).toBeGreaterThanOrEqual(way.clearM);
      }
      expect(hollow.upright(clear)).not.toBeNull();
    },
  );

  it("goes down where it is told to, or not at all", () => {
    const beside = hollow.upright(0.02, [0.08, 0.03]);
    expect(Math.abs((beside?.from[0] ?? NaN) - 0.08)).toBeLessThan(longestEdge(scene));
    expect(Math.abs((beside?.from[1] ?? NaN) - 0.03)).toBeLessThan(longestEdge(scene));
    // Right over the wall it ends above the rim: nothing of it is in the hollow.
    expect(hollow.upright(0.02, [0.149, 0])?.enclosedM ?? 0).toBe(0);
  });

  it("lies along the longer measure for longer", () => {
    const [along, across] = [hollow.lying(0, 0.02), hollow.lying(1, 0.02)];
    expect(along?.enclosedM).toBeGreaterThan((across?.enclosedM ?? Infinity) + 0.05);
    expect(along?.enclosedM).toBeLessThan(0.3 - 2 * 0.02);
  });

  it("has no way that is to be clearer than the walls let it", () => {
    // The nearer walls are 197.6 mm apart.
    expect(hollow.upright(0.1)?.enclosedM ?? 0).toBe(0);
    expect(hollow.lying(0, 0.1)).toBeNull();
  });

  it("keeps its distance on whatever grid the box lies askew of", () => {
    for (const [cells, shift] of [
      [8000, 0.003],
      [14_000, 0.0071],
      [30_000, 0.011],
    ] as const) {
      const moved = bath(box, [shift, -shift / 2, LOWEST_M + shift]);
      const { hollow: other } = hollowOf(moved, cells);
      for (const way of [other.upright(0.03), other.lying(0, 0.03)]) {
        if (!way) throw new Error("no way");
        const nearest = trueClearance(moved, way);
        expect(nearest).toBeGreaterThanOrEqual(0.03 - 1e-9);
        expect(way.clearM).toBeLessThanOrEqual(nearest + 1e-9);
      }
    }
  });

  it("keeps its distance from thick walls too", () => {
    for (const wallMm of [9, 14, 19, 23, 30]) {
      const thick = catalogueMesh("BOX", { lengthMm: 320, widthMm: 220, heightMm: 170, wallMm });
      const hung = bath(thick, [0, 0, LOWEST_M]);
      const { hollow: other } = hollowOf(hung, 14_000);
      for (const way of [other.upright(0.025), other.lying(0, 0.025)]) {
        if (!way) throw new Error("no way");
        const nearest = trueClearance(hung, way);
        expect(nearest).toBeGreaterThanOrEqual(0.025 - 1e-9);
        expect(way.clearM).toBeLessThanOrEqual(nearest + 1e-9);
      }
    }
  });
});

describe("a tube", () => {
  const tube = catalogueMesh("TUBE", { lengthMm: 300, widthMm: 140, heightMm: 140, wallMm: 4 });

  it("that lies has a way through along its axis, and none from above", () => {
    const bathful = bath(tube, [0, 0, 0.09]);
    const { scene, hollow } = hollowOf(bathful);
    const way = hollow.lying(0, 0.03);
    if (!way) throw new Error("no way");
    const edge = longestEdge(scene);
    // Through from end to end, near its axis at half its height.
    expect(way.to[0] - way.from[0]).toBeGreaterThan(0.3 - 3 * edge);
    expect(way.to[0] - way.from[0]).toBeLessThanOrEqual(0.3 + 2 * edge);
    expect(Math.hypot(way.from[1], way.from[2] - 0.16)).toBeLessThan(0.037);
    expect(trueClearance(bathful, way)).toBeGreaterThanOrEqual(0.03 - 1e-9);
    expect(way.clearM).toBeLessThanOrEqual(trueClearance(bathful, way) + 1e-9);
    expect(hollow.upright(0.02)).toBeNull();
    // Across it a rod would soon meet the wall.
    expect(hollow.lying(1, 0.03)?.enclosedM ?? 0).toBeLessThan(0.09);
  });

  it("that stands has one from above down through it", () => {
    const bathful = bath(tube, [0, 0, 0.16], turnAbout("y", Math.PI / 2));
    const { hollow } = hollowOf({
      ...bathful,
      parts: bathful.parts.map((part) => ({
        ...part,
        // On its end, 10 mm over the tank's floor.
        pose: { ...part.pose, translation: [-0.07, 0, 0.16] as const },
      })),
    });
    const way = hollow.upright(0.02);
    expect(way?.enclosedM).toBeGreaterThan(0.2);
    expect(hollow.lying(0, 0.02)?.enclosedM ?? 0).toBeLessThan(0.14);
  });
});

describe("a box with a block on the middle of its floor", () => {
  it("has the way beside the block, where it goes deeper", () => {
    const box = catalogueMesh("BOX", { lengthMm: 400, widthMm: 240, heightMm: 180, wallMm: 3 });
    const block = blockMesh([-0.06, -0.1, 0.001], [0.06, 0.1, 0.12]);
    const bathful = bath(together([box, block]), [0, 0, 0.08]);
    const { hollow } = hollowOf(bathful);
    const way = hollow.upright(0.02);
    if (!way) throw new Error("no way");
    expect(Math.abs(way.from[0])).toBeGreaterThan(0.08);
    expect(way.from[2]).toBeLessThan(0.08 + 0.12);
    expect(trueClearance(bathful, way)).toBeGreaterThanOrEqual(0.02 - 1e-9);
    expect(hollow.upright(0.02, [0, 0])?.enclosedM).toBeLessThan(way.enclosedM);
  });
});

describe("what is not hollow", () => {
  it.each(["PLATE", "SOLID"] as const)("has no way into it: %s", (shape) => {
    const mesh = catalogueMesh(shape, { lengthMm: 250, widthMm: 160, heightMm: 60, wallMm: null });
    const { hollow } = hollowOf(bath(mesh, [0, 0, 0.1]));
    expect([hollow.upright(0.01), hollow.lying(0, 0.01), hollow.lying(1, 0.01)]).toEqual([
      null,
      null,
      null,
    ]);
  });

  it("has none in a corner of three plates, which is open to three sides", () => {
    const corner = together([
      blockMesh([-0.1, -0.1, 0], [0.1, 0.1, 0.02]),
      blockMesh([-0.1, -0.1, 0.01], [-0.08, 0.1, 0.18]),
      blockMesh([-0.09, -0.1, 0.01], [0.1, -0.08, 0.18]),
    ]);
    const { hollow } = hollowOf(bath(corner, [0, 0, 0.06]));
    expect([hollow.upright(0.01), hollow.lying(0, 0.01), hollow.lying(1, 0.01)]).toEqual([
      null,
      null,
      null,
    ]);
  });
});
