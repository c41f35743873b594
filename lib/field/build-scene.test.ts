import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Bathful } from "./bathful";
import { type BuiltScene, buildScene } from "./build-scene";
import { catalogueMesh } from "./catalogue";
import { measure, type Mesh, NO_TURN, turnAbout, turnsTogether } from "./mesh";
import { prepare, shapeLength } from "./potential";
import { BATH, FIRST_ELECTRODE } from "./scene";

const box = catalogueMesh("BOX", { lengthMm: 300, widthMm: 180, heightMm: 150, wallMm: 1.2 });
const tub = {
  kind: "BOX",
  topLengthM: 0.8,
  topWidthM: 0.52,
  bottomLengthM: 0.72,
  bottomWidthM: 0.44,
  depthM: 0.42,
} as const;

function bathful(mesh: Mesh = box, rotation: readonly number[] = NO_TURN): Bathful {
  return {
    vessel: tub,
    levelM: 0.36,
    anodes: [{ id: "wall", name: "wall anode", form: { kind: "STRIPS", count: 4, areaM2: 0.42 } }],
    parts: [{ id: "A", name: "box", mesh, pose: { rotation, translation: [0, 0, 0.1] } }],
  };
}

const areaOf = ({ faces }: BuiltScene, electrode: number): number =>
  faces.areaM2.reduce(
    (sum, area, face) => sum + (faces.electrode[face] === electrode ? area : 0),
    0,
  );

/** Bath cells that can be reached from one of them through the sides of cells. */
function reached({ grid, cells }: BuiltScene, start: number): Set<number> {
  const { nx, ny, nz } = grid;
  const found = new Set([start]);
  const waiting = [start];
  for (let cell = waiting.pop(); cell !== undefined; cell = waiting.pop()) {
    const [i, j, k] = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    const next = [
      i > 0 ? cell - 1 : -1,
      i < nx - 1 ? cell + 1 : -1,
      j > 0 ? cell - nx : -1,
      j < ny - 1 ? cell + nx : -1,
      k > 0 ? cell - nx * ny : -1,
      k < nz - 1 ? cell + nx * ny : -1,
    ];
    for (const to of next) {
      if (to >= 0 && cells[to] === BATH && !found.has(to)) {
        found.add(to);
        waiting.push(to);
      }
    }
  }
  return found;
}

describe("a tub with an open box", () => {
  const scene = buildScene(bathful(), 60_000);

  it("has about the cells asked for", () => {
    expect(scene.cells.length).toBeGreaterThan(45_000);
    expect(scene.cells.length).toBeLessThan(80_000);
  });

  it("gives part and strips their true areas, though the wall is thinner than a cell", () => {
    expect(areaOf(scene, 1)).toBeCloseTo(measure(box).areaM2, 10);
    expect(areaOf(scene, 0)).toBeCloseTo(0.42, 9);
  });

  it("leaves the hollow open at the top", () => {
    const { nx, ny, nz, hz } = scene.grid;
    const hollow = nx / 2 + nx * (ny / 2 + ny * Math.floor(0.15 / hz));
    expect(scene.cells[hollow]).toBe(BATH);
    const top = nx / 2 + nx * (ny / 2 + ny * (nz - 1));
    expect(reached(scene, hollow).has(top)).toBe(true);
  });

  it("has a shape length that finer grids do not move much", () => {
    const coarse = shapeLength(prepare(scene));
    const fine = shapeLength(prepare(buildScene(bathful(), 200_000)));
    expect(Math.abs(coarse / fine - 1)).toBeLessThan(0.03);
  });
});

/** A closed hollow box of thin sheet: nothing gets in, however it lies. */
const closed = ((): Mesh => {
  const outer = catalogueMesh("PLATE", {
    lengthMm: 160,
    widthMm: 120,
    heightMm: 100,
    wallMm: null,
  });
  const inner = catalogueMesh("PLATE", { lengthMm: 158, widthMm: 118, heightMm: 98, wallMm: null });
  const first = outer.positions.length / 3;
  return {
    positions: Float64Array.from([
      ...outer.positions.map((value, at) => (at % 3 === 2 ? value - 0.05 : value)),
      ...inner.positions.map((value, at) => (at % 3 === 2 ? value - 0.049 : value)),
    ]),
    indices: Uint32Array.from([
      ...outer.indices,
      ...inner.indices.map((_, at) => (inner.indices[at - (at % 3) + 2 - (at % 3)] ?? 0) + first),
    ]),
  };
})();

const angle = fc.double({ min: 0, max: 2 * Math.PI, noNaN: true });

describe("a closed box of sheet thinner than a cell", () => {
  it("lets nothing through, and keeps its area, whatever way it is turned", () => {
    fc.assert(
      fc.property(angle, angle, angle, (a, b, c) => {
        const rotation = turnsTogether(
          turnAbout("z", a),
          turnsTogether(turnAbout("y", b), turnAbout("x", c)),
        );
        const full = bathful(closed, rotation);
        const hung = {
          ...full,
          parts: full.parts.map((part) => ({
            ...part,
            pose: { rotation, translation: [0, 0, 0.18] as const },
          })),
        };
        const scene = buildScene(hung, 30_000);
        const { nx, ny, nz, hz } = scene.grid;
        const middle = nx / 2 + nx * (ny / 2 + ny * Math.floor(0.18 / hz));
        const corner = 4 + nx * (4 + ny * (nz - 2));
        expect(scene.cells[middle]).toBe(BATH);
        expect(scene.cells[corner]).toBe(BATH);
        expect(reached(scene, corner).has(middle)).toBe(false);
        const both = measure(closed).areaM2;
        expect(areaOf(scene, 1) / both).toBeCloseTo(1, 9);
      }),
      { numRuns: 25 },
    );
  });
});

describe("what cannot hang so", () => {
  it("is refused in words", () => {
    const whole = bathful();
    const [part] = whole.parts;
    if (!part) throw new Error("a part hangs there");
    const twin = { ...part, id: "B", name: "second box" };
    expect(() => buildScene({ ...whole, parts: [part, twin] }, 20_000)).toThrow(
      /second box and box touch: that is a short circuit/,
    );
    expect(() => buildScene({ ...whole, parts: [] }, 20_000)).toThrow(/a part, got 1 and 0/);
    const outside = { ...part, pose: { ...part.pose, translation: [0.4, 0, 0.1] as const } };
    expect(() => buildScene({ ...whole, parts: [outside] }, 20_000)).toThrow(
      /box (does not lie inside the tank|and wall anode touch)/,
    );
    expect(() => buildScene(whole, 10)).toThrow(/cells must be from 1000 to/);
  });
});

describe("a solid", () => {
  it("fills as many cells as it has volume, the better the finer", () => {
    const ball = catalogueMesh("SOLID", {
      lengthMm: 200,
      widthMm: 160,
      heightMm: 120,
      wallMm: null,
    });
    const errors = [20_000, 160_000].map((cells) => {
      const { grid, cells: codes } = buildScene(bathful(ball), cells);
      const metal = codes.filter((code) => code === FIRST_ELECTRODE + 1).length;
      return Math.abs((metal * grid.hx * grid.hy * grid.hz) / measure(ball).volumeM3 - 1);
    });
    expect(errors[1]).toBeLessThan(0.02);
  });
});
