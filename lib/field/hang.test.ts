import { describe, expect, it } from "vitest";
import type { AnodeForm, Bathful } from "./bathful";
import { type BuiltScene, buildScene } from "./build-scene";
import { catalogueMesh } from "./catalogue";
import { blockMesh, type Mesh, NO_TURN, type Point, turnAbout } from "./mesh";
import { BATH, FIRST_ELECTRODE } from "./scene";

const box = catalogueMesh("BOX", { lengthMm: 300, widthMm: 200, heightMm: 150, wallMm: 1.2 });
const wall: AnodeForm = { kind: "STRIPS", count: 4, areaM2: 0.3 };
const straight = {
  kind: "BOX",
  ...{ topLengthM: 0.64, topWidthM: 0.4, bottomLengthM: 0.64, bottomWidthM: 0.4 },
  depthM: 0.4,
} as const;

const part = (id: string, mesh: Mesh, translation: Point, rotation = NO_TURN) => ({
  ...{ id, name: `part ${id}`, mesh },
  pose: { rotation, translation },
});

const bath = (parts: Bathful["parts"], anodes: readonly AnodeForm[] = [wall]): Bathful => ({
  vessel: straight,
  levelM: 0.32,
  parts,
  anodes: anodes.map((form, index) => ({ id: String(index), name: `anode ${index}`, form })),
});

const areaOf = ({ faces }: BuiltScene, electrode: number): number =>
  faces.areaM2.reduce(
    (sum, area, face) => sum + (faces.electrode[face] === electrode ? area : 0),
    0,
  );

const rod = (x: number, y: number, radiusM: number): AnodeForm => ({
  ...{ kind: "ROD", from: [x, y, 0.06], to: [x, y, 0.31] },
  radiusM,
});

describe("what touches and what does not", () => {
  const inBox = part("A", box, [0, 0, 0.05]);
  it("is asked of the true solids: a rod a hair off a wall much thinner than a cell hangs free", () => {
    // The wall's inner side is at x = 0.1488; the rod has a radius of 0.006.
    const scene = buildScene(bath([inBox], [wall, rod(0.1418, 0, 0.006)]), 20_000);
    expect(scene.grid.hx).toBeGreaterThan(0.01);
    expect(() => buildScene(bath([inBox], [wall, rod(0.1438, 0, 0.006)]), 20_000)).toThrow(
      /part A and anode 1 touch: that is a short circuit/,
    );
  });

  it("finds a wire through a wall between all rows, and a solid within a solid", () => {
    const wire: AnodeForm = {
      kind: "ROD",
      from: [0.1, 0.003, 0.1],
      to: [0.2, 0.003, 0.1],
      radiusM: 0.0005,
    };
    expect(() => buildScene(bath([inBox], [wall, wire]), 8000)).toThrow(/touch/);
    const solid = part("B", blockMesh([-0.1, -0.1, 0], [0.1, 0.1, 0.2]), [0, 0, 0.05]);
    expect(() => buildScene(bath([solid], [wall, rod(0, 0, 0.006)]), 8000)).toThrow(/touch/);
    const twin = { ...inBox, id: "C", name: "part C" };
    expect(() => buildScene(bath([inBox, twin]), 8000)).toThrow(/part C and part A touch/);
  });

  it("lets a small part hang in the hollow of another", () => {
    const small = part("B", blockMesh([-0.05, -0.05, 0], [0.05, 0.05, 0.05]), [0, 0, 0.1]);
    const scene = buildScene(bath([inBox, small]), 20_000);
    expect(areaOf(scene, 2)).toBeCloseTo(0.04, 10);
  });

  it("keeps parts within walls and floor, and in the bath", () => {
    const block = blockMesh([-0.1, -0.1, 0], [0.1, 0.1, 0.1]);
    const at = (x: number, z: number) => () =>
      buildScene(bath([part("A", block, [x, 0, z])]), 8000);
    expect(at(0.22005, 0.1)).not.toThrow();
    expect(at(0.2202, 0.1)).toThrow(/part A does not lie inside the tank/);
    expect(at(0, -0.00005)).not.toThrow();
    expect(at(0, -0.0002)).toThrow(/does not lie inside/);
    expect(at(0, 0.31)).not.toThrow();
    expect(at(0, 0.32)).toThrow(/part A does not reach into the bath/);
  });
});

describe("areas", () => {
  it("count below the level only: a block that sticks out", () => {
    const block = blockMesh([-0.1, -0.05, 0], [0.1, 0.05, 0.3]);
    const scene = buildScene(bath([part("A", block, [0, 0, 0.123])]), 20_000);
    const wet = 0.197;
    expect(areaOf(scene, 1)).toBeCloseTo(0.02 + 0.6 * wet, 10);
    const dry = scene.patches.areaM2.reduce(
      (sum, area, patch) => sum + (scene.patches.face[patch] === -1 ? area : 0),
      0,
    );
    expect(dry).toBeCloseTo(0.02 + 0.6 * (0.3 - wet), 10);
  });

  it("of a rod much thinner than a cell are its own, and it is there all along", () => {
    const block = part("A", blockMesh([-0.1, -0.1, 0], [0.1, 0.1, 0.1]), [-0.15, 0, 0.1]);
    const scene = buildScene(bath([block], [rod(0.2, 0.013, 0.002)]), 20_000);
    const side = 2 * Math.PI * 0.002 * 0.25;
    expect((areaOf(scene, 0) - side) / (2 * Math.PI * 0.002 ** 2)).toBeCloseTo(0.99, 1);
    const { nx, ny, nz } = scene.grid;
    const layers = Array.from({ length: nz }, (_, k) =>
      scene.cells.subarray(nx * ny * k, nx * ny * (k + 1)).includes(FIRST_ELECTRODE),
    );
    const filled = layers.filter(Boolean).length;
    expect(filled).toBeGreaterThanOrEqual(Math.floor((0.25 / scene.grid.hz - 1) / 3));
  });

  it("of strips are as given, and at most the wall; the bath keeps all its cells", () => {
    const block = part("A", blockMesh([-0.1, -0.1, 0], [0.1, 0.1, 0.1]), [0, 0, 0.1]);
    const all = buildScene(bath([block], [{ kind: "STRIPS", count: 4, areaM2: 9 }]), 20_000);
    expect(areaOf(all, 0)).toBeCloseTo(2 * (0.64 + 0.4) * 0.32, 10);
    const { nx, ny, nz, hx, hy } = all.grid;
    expect((nx - 2) * hx).toBeCloseTo(0.64, 12);
    expect((ny - 2) * hy).toBeCloseTo(0.4, 12);
    const inside = all.cells.filter((code) => code === BATH || code === FIRST_ELECTRODE + 1);
    expect(inside.length).toBe((nx - 2) * (ny - 2) * nz);
    const gaps = all.faces.gap.filter((_, face) => all.faces.electrode[face] === 0);
    gaps.forEach((gap) => expect(gap).toBeCloseTo(0.5, 9));
  });
});

describe("openings", () => {
  /** A sheet with a square hole, of four bars. */
  const sheetWithHole = (holeM: number): Mesh => {
    const [h, t] = [holeM / 2, 0.0006];
    const outer = [
      [-0.15, -0.15],
      [0.15, -0.15],
      [0.15, 0.15],
      [-0.15, 0.15],
    ];
    const inner = [
      [-h, -h],
      [h, -h],
      [h, h],
      [-h, h],
    ];
    const positions = [-t, t].flatMap((z) =>
      [...outer, ...inner].flatMap(([x, y]) => [x ?? 0, y ?? 0, z]),
    );
    const indices: number[] = [];
    for (let side = 0; side < 4; side++) {
      const next = (side + 1) % 4;
      const quad = (a: number, b: number, c: number, d: number) => indices.push(a, b, c, a, c, d);
      quad(8 + side, 8 + next, 12 + next, 12 + side);
      quad(next, side, 4 + side, 4 + next);
      quad(side, next, 8 + next, 8 + side);
      quad(4 + next, 4 + side, 12 + side, 12 + next);
    }
    return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
  };

  it.each([0, 0.2, 0.5, 0.78])("wider than two cells stay open in a sheet tilted by %f", (tilt) => {
    const sheet = sheetWithHole(0.06);
    const scene = buildScene(bath([part("A", sheet, [0, 0, 0.16], turnAbout("y", tilt))]), 20_000);
    const { nx, ny, hx, hz } = scene.grid;
    expect(0.06).toBeGreaterThan(2 * Math.max(hx, hz));
    // Straight through the hole's middle along the sheet's normal, no metal.
    for (let way = -0.06; way <= 0.06; way += 0.002) {
      const i = Math.floor((way * Math.sin(tilt)) / hx + nx / 2);
      const k = Math.floor((0.16 + way * Math.cos(tilt)) / hz);
      expect(scene.cells[i + nx * (ny / 2 + ny * k)]).toBe(BATH);
    }
  });
});
