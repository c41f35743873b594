import type { FieldLook } from "@/lib/field";

/** The surface of a part made even for the eye: three corners a triangle, in the order of `FieldLook.surface`. */
export type SurfaceShape = {
  /** Unit normal at each corner, nine numbers a triangle: round where the part is round, sharp at its edges. */
  readonly normals: Float32Array;
  /** Current density over the part's mean at each corner; NaN where dry, and on anodes. */
  readonly ratio: Float32Array;
};

/** Cosine between two triangles from which they count as one face: up to 40° apart. */
const ONE_FACE = 0.77;
/** Corners nearer than this are one, m. */
const SAME_PLACE_M = 2e-5;

/** Times that densities are averaged: each spreads them by about a cell, which is how finely they are known. */
const ROUNDS = 2;

/**
 * Averages normals and densities over the triangles that meet in a corner and look about the same way. For the eye
 * alone: figures are summed from the densities as they are.
 * @example evenSurface(look.surface).ratio.length // three a triangle
 */
export function evenSurface(surface: FieldLook["surface"]): SurfaceShape {
  const flat = flatNormals(surface.corners);
  const places = meetings(surface.corners);
  const normals = new Float32Array(3 * flat.length);
  const ratio = new Float32Array(3 * surface.ratio.length);
  const means = surface.ratio.slice();
  const even = { ...surface, ratio: means };
  for (let round = 0; round < ROUNDS; round++) {
    for (let corner = 0; corner < ratio.length; corner++) {
      const about = meanAbout(even, flat, places, corner);
      const wet = !Number.isNaN(means[Math.floor(corner / 3)] ?? Number.NaN);
      normals.set(about.normal, 3 * corner);
      ratio[corner] = wet ? about.density : Number.NaN;
    }
    for (let patch = 0; patch < means.length; patch++) {
      const [a = 0, b = 0, c = 0] = ratio.subarray(3 * patch, 3 * patch + 3);
      means[patch] = (a + b + c) / 3;
    }
  }
  return { normals, ratio };
}

/** Unit normal and density, by area, of what meets in a corner and looks about the same way; NaN where all is dry. */
function meanAbout(
  { ratio, electrode }: FieldLook["surface"],
  flat: Float32Array,
  { first, next }: Meetings,
  corner: number,
): { readonly normal: readonly number[]; readonly density: number } {
  const own = Math.floor(corner / 3);
  let [x, y, z, flow, area] = [0, 0, 0, 0, 0];
  for (let other = first[corner] ?? -1; other >= 0; other = next[other] ?? -1) {
    const patch = Math.floor(other / 3);
    const size = electrode[patch] === electrode[own] ? alike(flat, own, patch) : 0;
    if (size === 0) continue;
    x += flat[3 * patch] ?? 0;
    y += flat[3 * patch + 1] ?? 0;
    z += flat[3 * patch + 2] ?? 0;
    const density = ratio[patch] ?? Number.NaN;
    if (Number.isNaN(density)) continue;
    flow += size * density;
    area += size;
  }
  const length = Math.hypot(x, y, z) || 1;
  return { normal: [x / length, y / length, z / length], density: flow / area };
}

/** Area of the other triangle where both look about the same way, else 0. Normals are as long as the area. */
function alike(flat: Float32Array, own: number, other: number): number {
  const [a, b] = [3 * own, 3 * other];
  const [ax, ay, az] = [flat[a] ?? 0, flat[a + 1] ?? 0, flat[a + 2] ?? 0];
  const [bx, by, bz] = [flat[b] ?? 0, flat[b + 1] ?? 0, flat[b + 2] ?? 0];
  const size = Math.sqrt(bx * bx + by * by + bz * bz);
  const lengths = Math.sqrt(ax * ax + ay * ay + az * az) * size;
  return ax * bx + ay * by + az * bz >= ONE_FACE * lengths ? size : 0;
}

/** Outward normals as long as each triangle's area. */
export function flatNormals(corners: Float32Array): Float32Array {
  const normals = new Float32Array(corners.length / 3);
  const edge = (at: number, axis: number): number =>
    (corners[at + axis] ?? 0) - (corners[at - (at % 9) + axis] ?? 0);
  for (let at = 0; at < corners.length; at += 9) {
    const [ax, ay, az] = [edge(at + 3, 0), edge(at + 3, 1), edge(at + 3, 2)];
    const [bx, by, bz] = [edge(at + 6, 0), edge(at + 6, 1), edge(at + 6, 2)];
    normals[at / 3] = (ay * bz - az * by) / 2;
    normals[at / 3 + 1] = (az * bx - ax * bz) / 2;
    normals[at / 3 + 2] = (ax * by - ay * bx) / 2;
  }
  return normals;
}

type Meetings = {
  /** For each corner the first of those at its place. */
  readonly first: Int32Array;
  /** For each corner the next one at its place, −1 behind the last. */
  readonly next: Int32Array;
};

/** Which corners are at the same place, by a table of places. */
function meetings(corners: Float32Array): Meetings {
  const count = corners.length / 3;
  const slots = 2 ** Math.ceil(Math.log2(2 * count + 2));
  const table = new Int32Array(slots).fill(-1);
  const head = new Int32Array(count).fill(-1);
  const next = new Int32Array(count).fill(-1);
  const own = new Int32Array(count);
  const key = (corner: number, axis: number): number =>
    Math.round((corners[3 * corner + axis] ?? 0) / SAME_PLACE_M);
  for (let corner = 0; corner < count; corner++) {
    const [x, y, z] = [key(corner, 0), key(corner, 1), key(corner, 2)];
    const mixed = Math.imul(x, 73856093) ^ Math.imul(y, 19349663) ^ Math.imul(z, 83492791);
    let slot = (mixed ^ (mixed >>> 15)) & (slots - 1);
    for (let found = table[slot] ?? -1; found >= 0; found = table[slot] ?? -1) {
      if (key(found, 0) === x && key(found, 1) === y && key(found, 2) === z) break;
      slot = (slot + 1) & (slots - 1);
    }
    if ((table[slot] ?? -1) < 0) table[slot] = corner;
    const chief = table[slot] ?? corner;
    own[corner] = chief;
    next[corner] = head[chief] ?? -1;
    head[chief] = corner;
  }
  return { first: own.map((chief) => head[chief] ?? -1), next };
}
