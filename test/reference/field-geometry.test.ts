import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  measure,
  type Mesh,
  moved,
  readStl,
  turnAbout,
  turnedMesh,
  turnsTogether,
} from "@/lib/field";
import { asBytes, binaryStl, cornersIn, textStl } from "../support/stl-files";

/*
 * Areas and volumes of solids against their closed forms (Euclid; Archimedes for the sphere; Pappus for the
 * torus), through the mesh and through files written as the STL format is described in public.
 */

/** Twenty equal triangles on a sphere; each halving of the edges makes four of one. */
function icosphere(radius: number, halvings: number): Mesh {
  const golden = (1 + Math.sqrt(5)) / 2;
  let points = [-1, 1].flatMap((a) =>
    [-golden, golden].flatMap((b) => [
      [0, a, b],
      [a, b, 0],
      [b, 0, a],
    ]),
  );
  const edge = 2.01;
  const distance = (p: number[], q: number[]): number =>
    Math.hypot(...p.map((value, axis) => value - (q[axis] ?? 0)));
  let triangles: number[][] = [];
  for (let a = 0; a < 12; a++)
    for (let b = a + 1; b < 12; b++)
      for (let c = b + 1; c < 12; c++) {
        const [p, q, r] = [points[a] ?? [], points[b] ?? [], points[c] ?? []];
        if ([distance(p, q), distance(q, r), distance(r, p)].some((length) => length > edge))
          continue;
        const [x, y, z] = [0, 1, 2].map((k) => {
          const [u, v] = [(k + 1) % 3, (k + 2) % 3];
          return (
            ((q[u] ?? 0) - (p[u] ?? 0)) * ((r[v] ?? 0) - (p[v] ?? 0)) -
            ((q[v] ?? 0) - (p[v] ?? 0)) * ((r[u] ?? 0) - (p[u] ?? 0))
          );
        });
        const outward =
          (x ?? 0) * (p[0] ?? 0) + (y ?? 0) * (p[1] ?? 0) + (z ?? 0) * (p[2] ?? 0) > 0;
        triangles.push(outward ? [a, b, c] : [a, c, b]);
      }
  for (let halving = 0; halving < halvings; halving++) {
    const middles = new Map<string, number>();
    const middle = (a: number, b: number): number => {
      const key = a < b ? `${a} ${b}` : `${b} ${a}`;
      const known = middles.get(key);
      if (known !== undefined) return known;
      points = [
        ...points,
        [0, 1, 2].map((k) => ((points[a]?.[k] ?? 0) + (points[b]?.[k] ?? 0)) / 2),
      ];
      middles.set(key, points.length - 1);
      return points.length - 1;
    };
    triangles = triangles.flatMap(([a = 0, b = 0, c = 0]) => {
      const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
      return [
        [a, ab, ca],
        [ab, b, bc],
        [ca, bc, c],
        [ab, bc, ca],
      ];
    });
    points = points.map((point) => {
      const length = Math.hypot(...point);
      return point.map((value) => (value * golden) / length);
    });
  }
  return {
    positions: Float64Array.from(
      points.flatMap((point) => point.map((value) => (value * radius) / Math.hypot(...point))),
    ),
    indices: Uint32Array.from(triangles.flat()),
  };
}

/** A regular tetrahedron of one edge. */
function tetrahedron(edge: number): Mesh {
  const s = edge / Math.sqrt(8);
  return {
    positions: Float64Array.of(s, s, s, s, -s, -s, -s, s, -s, -s, -s, s),
    indices: Uint32Array.of(0, 1, 2, 0, 2, 3, 0, 3, 1, 1, 3, 2),
  };
}

/** A torus: a polygon of so many sides turned in as many steps. */
const torus = (R: number, r: number, pieces: number): Mesh =>
  turnedMesh(
    Array.from({ length: pieces }, (_, step) => {
      const angle = (2 * Math.PI * step) / pieces;
      return [R + r * Math.cos(angle), r * Math.sin(angle)] as const;
    }),
    pieces,
  );

const cylinder = (r: number, h: number, pieces: number): Mesh =>
  turnedMesh(
    [
      [0, 0],
      [r, 0],
      [r, h],
      [0, h],
    ],
    pieces,
  );

describe("solids", () => {
  it("regular tetrahedron: √3·a² and a³/(6√2), exactly", () => {
    const { areaM2, volumeM3 } = measure(tetrahedron(0.2));
    expect(areaM2).toBeCloseTo(Math.sqrt(3) * 0.04, 14);
    expect(volumeM3).toBeCloseTo(0.008 / (6 * Math.SQRT2), 14);
  });

  it.each<[string, (level: number) => Mesh, number, number]>([
    ["sphere", (level) => icosphere(0.1, level), 4 * Math.PI * 0.01, (4 / 3) * Math.PI * 0.001],
    [
      "cylinder",
      (level) => cylinder(0.05, 0.2, 12 * 2 ** level),
      2 * Math.PI * 0.05 * 0.25,
      Math.PI * 0.0025 * 0.2,
    ],
    [
      "torus",
      (level) => torus(0.1, 0.03, 12 * 2 ** level),
      4 * Math.PI ** 2 * 0.1 * 0.03,
      2 * Math.PI ** 2 * 0.1 * 0.0009,
    ],
  ])("%s: a finer one is four times as near to its closed form", (_name, meshAt, area, volume) => {
    const [coarse, fine] = [2, 3].map((level) => {
      const { areaM2, volumeM3 } = measure(meshAt(level));
      return { area: 1 - areaM2 / area, volume: 1 - volumeM3 / volume };
    });
    expect(fine?.area).toBeGreaterThan(0);
    expect(fine?.area).toBeLessThan(0.01);
    expect(fine?.volume).toBeLessThan(0.015);
    expect((coarse?.area ?? 0) / (fine?.area ?? 1)).toBeCloseTo(4, 0);
    expect((coarse?.volume ?? 0) / (fine?.volume ?? 1)).toBeCloseTo(4, 0);
  });

  const number = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
  it("keep area and volume when turned and moved; scale by the square and the cube", () => {
    const whole = torus(0.1, 0.03, 16);
    const before = measure(whole);
    fc.assert(
      fc.property(
        number(7),
        number(7),
        number(2),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (a, b, x, scale) => {
          const rotation = turnsTogether(turnAbout("z", a), turnAbout("x", b));
          const after = measure(moved(whole, { rotation, translation: [x, -x, 1] }));
          expect(after.areaM2).toBeCloseTo(before.areaM2, 12);
          expect(after.volumeM3).toBeCloseTo(before.volumeM3, 12);
          const large = measure({
            ...whole,
            positions: whole.positions.map((value) => value * scale),
          });
          expect(large.areaM2 / before.areaM2).toBeCloseTo(scale ** 2, 8);
          expect(large.volumeM3 / before.volumeM3).toBeCloseTo(scale ** 3, 8);
        },
      ),
      { numRuns: 30 },
    );
  });

  it.each([
    ["tetrahedron", tetrahedron(0.2)],
    ["sphere", icosphere(0.1, 2)],
    ["torus", torus(0.1, 0.03, 20)],
  ])(
    "%s: comes back from a binary and a text file, to what single precision keeps",
    (_name, mesh) => {
      const expected = measure(mesh);
      for (const [unit, metres] of [
        ["mm", 0.001],
        ["in", 0.0254],
      ] as const) {
        const triangles = cornersIn(mesh, metres);
        for (const bytes of [binaryStl(triangles), asBytes(textStl(triangles))]) {
          const read = readStl(bytes, unit);
          if (!read.ok) throw new Error(read.why);
          expect(read.mended).toEqual([]);
          expect(read.mesh.positions.length).toBe(mesh.positions.length);
          expect(measure(read.mesh).areaM2 / expected.areaM2).toBeCloseTo(1, 6);
          expect(measure(read.mesh).volumeM3 / expected.volumeM3).toBeCloseTo(1, 6);
        }
      }
    },
  );
});
