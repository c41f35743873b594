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

/**
 * Averages normals and densities over the triangles that meet in a corner and look about the same way.
 * @example evenSurface(look.surface).ratio.length // three a triangle
 */
export function evenSurface({ corners, ratio, electrode }: FieldLook["surface"]): SurfaceShape {
  const count = ratio.length;
  const flat = flatNormals(corners);
  const { first, next } = meetings(corners);
  const normals = new Float32Array(9 * count);
  const even = new Float32Array(3 * count).fill(Number.NaN);
  for (let corner = 0; corner < 3 * count; corner++) {
    const own = Math.floor(corner / 3);
    const wet = !Number.isNaN(ratio[own] ?? Number.NaN);
    const sum = [0, 0, 0];
    let [flow, area] = [0, 0];
    for (let other = first[corner] ?? -1; other >= 0; other = next[other] ?? -1) {
      const patch = Math.floor(other / 3);
      const size = alike(flat, own, patch);
      if (size === 0 || electrode[patch] !== electrode[own]) continue;
      for (let axis = 0; axis < 3; axis++)
        sum[axis] = (sum[axis] ?? 0) + (flat[3 * patch + axis] ?? 0);
      const density = ratio[patch] ?? Number.NaN;
      if (Number.isNaN(density)) continue;
      flow += size * density;
      area += size;
    }
    const length = Math.hypot(...sum) || 1;
    sum.forEach((value, axis) => (normals[3 * corner + axis] = value / length));
    if (wet && area > 0) even[corner] = flow / area;
  }
  return { normals, ratio: even };
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
