import { checkPositive } from "@/lib/units";

/** Triangles in metres; outward normals by the right-hand rule. */
export type Mesh = {
  /** x, y, z of each vertex. */
  readonly positions: Float64Array;
  /** Three vertices of each triangle. */
  readonly indices: Uint32Array;
};

export type Point = readonly [number, number, number];

/** A turn and then a move. */
export type Pose = {
  /** Rows of an orthonormal matrix, nine numbers. */
  readonly rotation: readonly number[];
  /** m */
  readonly translation: Point;
};

export type Box = { readonly least: Point; readonly most: Point };

export const NO_TURN: readonly number[] = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** Turn about an axis, right-handed. @example turnAbout("z", Math.PI) // half-way round */
export function turnAbout(axis: "x" | "y" | "z", radians: number): readonly number[] {
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  switch (axis) {
    case "x":
      return [1, 0, 0, 0, c, -s, 0, s, c];
    case "y":
      return [c, 0, s, 0, 1, 0, -s, 0, c];
    case "z":
      return [c, -s, 0, s, c, 0, 0, 0, 1];
  }
}

/** First `inner`, then `outer`. */
export function turnsTogether(outer: readonly number[], inner: readonly number[]): number[] {
  return Array.from({ length: 9 }, (_, place) => {
    const [row, column] = [Math.floor(place / 3), place % 3];
    return [0, 1, 2].reduce((sum, k) => sum + outer[3 * row + k]! * inner[3 * k + column]!, 0);
  });
}

/** The mesh where a pose puts it. */
export function moved({ positions, indices }: Mesh, { rotation, translation }: Pose): Mesh {
  const out = new Float64Array(positions.length);
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = rotation;
  const [tx, ty, tz] = translation;
  for (let at = 0; at < positions.length; at += 3) {
    const [x, y, z] = [positions[at]!, positions[at + 1]!, positions[at + 2]!];
    out[at] = xx! * x + xy! * y + xz! * z + tx;
    out[at + 1] = yx! * x + yy! * y + yz! * z + ty;
    out[at + 2] = zx! * x + zy! * y + zz! * z + tz;
  }
  return { positions: out, indices };
}

/** @throws RangeError if the mesh has no vertex */
export function boxOf({ positions }: Mesh): Box {
  if (positions.length === 0) throw new RangeError("a mesh needs at least one vertex, got none");
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let at = 0; at < positions.length; at += 3) {
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[at + axis]!;
      if (value < least[axis]!) least[axis] = value;
      if (value > most[axis]!) most[axis] = value;
    }
  }
  return { least: least as unknown as Point, most: most as unknown as Point };
}

/** Corners of one triangle. */
export function cornersOf({ positions, indices }: Mesh, triangle: number): [Point, Point, Point] {
  const corner = (place: number): Point => {
    const at = 3 * indices[3 * triangle + place]!;
    return [positions[at]!, positions[at + 1]!, positions[at + 2]!];
  };
  return [corner(0), corner(1), corner(2)];
}

export const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export type MeshMeasures = {
  readonly areaM2: number;
  /** Below 0 where the mesh is inside out. */
  readonly volumeM3: number;
  readonly box: Box;
};

/**
 * Area by the triangles, volume by the tetrahedra that they span with the origin (divergence theorem).
 *
 * @throws RangeError if the mesh is empty
 * @example measure(cube).volumeM3 // 0.001 for a cube of 0.1 m
 */
export function measure(mesh: Mesh): MeshMeasures {
  let areaM2 = 0;
  let volumeM3 = 0;
  for (let triangle = 0; triangle < mesh.indices.length / 3; triangle++) {
    const [a, b, c] = cornersOf(mesh, triangle);
    const normal = cross(minus(b, a), minus(c, a));
    areaM2 += Math.hypot(...normal) / 2;
    volumeM3 += dot(a, cross(b, c)) / 6;
  }
  return { areaM2, volumeM3, box: boxOf(mesh) };
}

/** Several closed meshes as one. */
export function together(meshes: readonly Mesh[]): Mesh {
  let offset = 0;
  const positions: number[] = [];
  const indices: number[] = [];
  for (const mesh of meshes) {
    positions.push(...mesh.positions);
    for (const index of mesh.indices) indices.push(index + offset);
    offset += mesh.positions.length / 3;
  }
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}

/** A block from one corner to the opposite one. @throws RangeError unless each edge is above 0 */
export function blockMesh(least: Point, most: Point): Mesh {
  const edges = minus(most, least);
  edges.forEach((edge, axis) => checkPositive(`edge ${"xyz"[axis] ?? ""} of the block`, edge, "m"));
  const positions = Array.from({ length: 8 }, (_, corner) =>
    [0, 1, 2].map((axis) => ((corner >> axis) & 1 ? most[axis]! : least[axis]!)),
  ).flat();
  const sides = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  return {
    positions: Float64Array.from(positions),
    indices: Uint32Array.from(sides.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
  };
}

/**
 * A closed outline turned about the z axis.
 *
 * @param outline points [r, z] in m, r ≥ 0, so ordered that the metal lies on their left when r points right
 * and z up; a point with r = 0 is a tip
 * @param pieces  sides of the polygon that stands for the circle, ≥ 3
 */
export function turnedMesh(outline: readonly (readonly [number, number])[], pieces: number): Mesh {
  const positions: number[] = [];
  const rings = outline.map(([r, z]) => {
    const first = positions.length / 3;
    const around = r === 0 ? 1 : pieces;
    for (let piece = 0; piece < around; piece++) {
      const angle = (2 * Math.PI * piece) / pieces;
      positions.push(r * Math.cos(angle), r * Math.sin(angle), z);
    }
    return (piece: number): number => first + (around === 1 ? 0 : piece % pieces);
  });
  const indices: number[] = [];
  rings.forEach((here, index) => {
    const next = rings[(index + 1) % rings.length]!;
    const tips = [outline[index]![0] === 0, outline[(index + 1) % rings.length]![0] === 0];
    if (tips[0] && tips[1]) return;
    for (let piece = 0; piece < pieces; piece++) {
      if (!tips[0]) indices.push(here(piece), here(piece + 1), next(piece));
      if (!tips[1]) indices.push(here(piece + 1), next(piece + 1), next(piece));
    }
  });
  return { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) };
}
