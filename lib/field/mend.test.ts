import { describe, expect, it } from "vitest";
import { catalogueMesh } from "./catalogue";
import { faultsOf } from "./faults";
import { blockMesh, measure, type Mesh, moved, NO_TURN, together, turnedMesh } from "./mesh";
import { mend } from "./mend";

const cube = blockMesh([0, 0, 0], [0.1, 0.1, 0.1]);
/** A ball of 0.1 m in 24 × 16 pieces. */
function ball(): Mesh {
  const outline = Array.from({ length: 17 }, (_, step) => {
    const angle = (Math.PI * step) / 16 - Math.PI / 2;
    return [step % 16 === 0 ? 0 : 0.1 * Math.cos(angle), 0.1 * Math.sin(angle)] as const;
  });
  return turnedMesh(outline, 24);
}
const pan = catalogueMesh("PAN", { lengthMm: 200, widthMm: 200, heightMm: 60, wallMm: 5 });

/** Triangles by number, in their order. */
const only = (mesh: Mesh, keep: (triangle: number) => boolean): Mesh => ({
  positions: mesh.positions,
  indices: mesh.indices.filter((_, at) => keep(Math.floor(at / 3))),
});

const turned = (mesh: Mesh, turn: (triangle: number) => boolean): Mesh => ({
  positions: mesh.positions,
  indices: mesh.indices.map((vertex, at) => {
    const first = at - (at % 3);
    return turn(first / 3) ? (mesh.indices[first + 2 - (at % 3)] ?? 0) : vertex;
  }),
});

const at = (mesh: Mesh, x: number, y = 0, z = 0): Mesh =>
  moved(mesh, { rotation: NO_TURN, translation: [x, y, z] });

function mendedOf(mesh: Mesh) {
  const result = mend(mesh);
  if (!result.ok) throw new Error(result.why);
  expect(faultsOf(result.mesh)).toMatchObject({ openEdges: 0, turnedEdges: 0 });
  return { words: result.mended, found: result.found, ...measure(result.mesh) };
}

function whyNot(mesh: Mesh): string {
  const result = mend(mesh);
  return result.ok ? "mended" : result.why;
}

describe("faults of a mesh", () => {
  it("are none of a closed one", () => {
    expect(faultsOf(cube)).toEqual({
      openEdges: 0,
      crowdedEdges: 0,
      turnedEdges: 0,
      degenerateTriangles: 0,
      shells: 1,
    });
  });

  it("are counted", () => {
    expect(faultsOf(only(cube, (triangle) => triangle !== 4)).openEdges).toBe(3);
    expect(faultsOf(turned(cube, (triangle) => triangle === 4)).turnedEdges).toBe(3);
    const twice = { ...cube, indices: Uint32Array.of(...cube.indices, 0, 2, 3) };
    expect(faultsOf(twice).crowdedEdges).toBe(3);
    const nothing = { ...cube, indices: Uint32Array.of(...cube.indices, 0, 0, 3) };
    expect(faultsOf(nothing).degenerateTriangles).toBe(1);
    expect(faultsOf(together([cube, at(cube, 1), at(cube, 2)])).shells).toBe(3);
  });
});

describe("what is mended", () => {
  it("is nothing where nothing is wrong", () => {
    expect(mendedOf(cube).words).toEqual([]);
    expect(mendedOf(pan).words).toEqual([]);
    expect(mendedOf(pan).volumeM3).toBeCloseTo(measure(pan).volumeM3, 12);
  });

  it.each<[string, Mesh, readonly string[]]>([
    ["a triangle turned", turned(cube, (triangle) => triangle === 3), ["turned a triangle round"]],
    ["two turned", turned(cube, (n) => n === 3 || n === 8), ["turned 2 triangles round"]],
    ["a solid inside out", turned(cube, () => true), ["turned a shell that was inside out"]],
    [
      "all but one turned",
      turned(cube, (triangle) => triangle !== 3),
      ["turned a triangle round", "turned a shell that was inside out"],
    ],
    [
      "one there twice",
      { ...cube, indices: Uint32Array.of(...cube.indices, ...cube.indices.slice(6, 9)) },
      ["dropped a triangle that lay on another"],
    ],
    [
      "some without area",
      { ...cube, indices: Uint32Array.of(...cube.indices, 1, 1, 2, 5, 6, 5) },
      ["dropped 2 triangles without area"],
    ],
    [
      "a flap of two, back to back",
      { ...cube, indices: Uint32Array.of(...cube.indices, 0, 1, 7, 0, 7, 1) },
      ["dropped 2 that lay on others"],
    ],
  ])("%s", (_name, mesh, words) => {
    const result = mendedOf(mesh);
    expect(result.words).toEqual(words);
    expect(result.volumeM3).toBeCloseTo(0.001, 12);
    expect(result.areaM2).toBeCloseTo(0.06, 12);
  });

  it("a crack whose sides lie a hair apart", () => {
    const positions = Float64Array.of(...cube.positions, 0.1 + 5e-6, 0.1, 0.1);
    const indices = cube.indices.map((vertex, place) => (vertex === 7 && place < 12 ? 8 : vertex));
    const result = mendedOf({ positions, indices });
    expect(result.words).toEqual(["welded a corner at a crack"]);
    expect(result.volumeM3).toBeCloseTo(0.001, 7);
  });

  it("small holes, of three corners and of more", () => {
    const whole = ball();
    const one = mendedOf(only(whole, (triangle) => triangle !== 100));
    expect(one.words).toEqual([expect.stringMatching(/^closed a hole up to 21 mm wide$/)]);
    expect(one.volumeM3).toBeCloseTo(measure(whole).volumeM3, 12);
    const two = mendedOf(only(whole, (n) => n !== 100 && n !== 300 && n !== 301));
    expect(two.words).toEqual([expect.stringMatching(/^closed 2 holes up to \d\d mm wide$/)]);
    expect(Math.abs(two.volumeM3 / measure(whole).volumeM3 - 1)).toBeLessThan(0.002);
  });

  it("leaves a hollow within a solid, and cubes that touch along an edge", () => {
    const hollow = turned(
      at(blockMesh([0, 0, 0], [0.06, 0.06, 0.06]), 0.02, 0.02, 0.02),
      () => true,
    );
    const result = mendedOf(together([cube, hollow]));
    expect(result.words).toEqual([]);
    expect(result.volumeM3).toBeCloseTo(0.001 - 0.06 ** 3, 12);
    expect(mendedOf(together([cube, at(cube, 0.1, 0.1)])).words).toEqual([
      "left an edge at which solids touch",
    ]);
  });

  it("joins solids that share a side: what lies back to back between them goes", () => {
    const result = mendedOf(together([cube, at(cube, 0.1)]));
    expect(result.words).toEqual(["dropped 4 that lay on others"]);
    expect(result.areaM2).toBeCloseTo(0.1, 12);
    expect(result.volumeM3).toBeCloseTo(0.002, 12);
  });
});

describe("what is refused", () => {
  it("a hole too wide to guess at, just beyond a tenth of the diagonal", () => {
    expect(whyNot(only(cube, (triangle) => triangle > 1))).toMatch(/hole 100 mm wide is too large/);
    expect(whyNot(only(cube, (triangle) => triangle !== 0))).toMatch(/too large/);
  });

  it("a one-sided band", () => {
    const count = 7;
    const positions = Float64Array.from({ length: 6 * count }, (_, place) => {
      const [vertex, axis] = [Math.floor(place / 3), place % 3];
      const around = (2 * Math.PI * Math.floor(vertex / 2)) / count;
      const [r, z] =
        vertex % 2
          ? [1 + 0.3 * Math.cos(around / 2), 0.3 * Math.sin(around / 2)]
          : [1 - 0.3 * Math.cos(around / 2), -0.3 * Math.sin(around / 2)];
      return [r * Math.cos(around), r * Math.sin(around), z][axis] ?? 0;
    });
    const indices = Array.from({ length: count }, (_, step) => {
      const [a, b] = [2 * step, 2 * step + 1];
      const [c, d] = step === count - 1 ? [1, 0] : [2 * step + 2, 2 * step + 3];
      return [a, c, b, b, c, d];
    }).flat();
    expect(whyNot({ positions, indices: Uint32Array.from(indices) })).toMatch(/one-sided/);
  });

  it("a sheet of no thickness, and dust", () => {
    const sheet = { ...cube, indices: Uint32Array.of(0, 1, 3, 0, 3, 1) };
    expect(whyNot(sheet)).toMatch(/encloses no volume/);
    const speck = blockMesh([0, 0, 0], [0.001, 0.001, 0.001]);
    const dust = together(Array.from({ length: 501 }, (_, place) => at(speck, place / 100)));
    expect(whyNot(dust)).toMatch(/501 separate pieces; at most 500/);
    expect(
      whyNot(together(Array.from({ length: 500 }, (_, place) => at(speck, place / 100)))),
    ).toBe("mended");
  });
});
