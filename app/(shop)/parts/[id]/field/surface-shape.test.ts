import { describe, expect, it } from "vitest";
import { evenSurface, flatNormals } from "./surface-shape";

/** Two triangles in a plane, and one that stands upright on their common edge. */
const corners = Float32Array.from([
  ...[0, 0, 0, 1, 0, 0, 1, 1, 0],
  ...[0, 0, 0, 1, 1, 0, 0, 1, 0],
  ...[0, 0, 0, 1, 1, 0, 1, 1, 1],
]);
const surface = (ratio: readonly number[]) => ({
  corners,
  ratio: Float32Array.from(ratio),
  electrode: new Uint8Array(3),
  inside: new Uint8Array(3),
});

describe("the even surface", () => {
  it("has normals as long as the area, outwards by the order of the corners", () => {
    expect([...flatNormals(corners).slice(0, 3)]).toEqual([0, 0, 0.5]);
  });

  it("averages densities over what looks the same way, by area, and keeps edges apart", () => {
    const { ratio, normals } = evenSurface(surface([1, 3, 10]));
    // Corners that both triangles share lie between; one that is a triangle's own keeps more of its density.
    [2, 5 / 3, 2, 2, 2, 7 / 3, 10, 10, 10].forEach((density, corner) =>
      expect(ratio[corner]).toBeCloseTo(density, 5),
    );
    expect([...normals.slice(0, 3)]).toEqual([0, 0, 1]);
    expect(normals[18 + 2]).toBeCloseTo(0, 6);
    expect(Math.hypot(normals[18] ?? 0, normals[19] ?? 0)).toBeCloseTo(1, 6);
  });

  it("lets what is dry neither have nor give a density", () => {
    expect([...evenSurface(surface([1, Number.NaN, 10])).ratio]).toEqual([
      ...[1, 1, 1],
      ...[Number.NaN, Number.NaN, Number.NaN],
      ...[10, 10, 10],
    ]);
  });
});
