import { boxOf, cross, type Mesh, minus } from "./mesh";

/**
 * Whether two solids run into each other: an edge of one goes through a triangle of the other, or one lies within
 * the other. Solids that just touch do not.
 *
 * Both surfaces are looked at only where their boxes overlap, and along x only against what is beside.
 */
export function overlap(one: Mesh, other: Mesh): boolean {
  const [a, b] = [boxOf(one), boxOf(other)];
  const least = [0, 1, 2].map((axis) => Math.max(a.least[axis]!, b.least[axis]!));
  const most = [0, 1, 2].map((axis) => Math.min(a.most[axis]!, b.most[axis]!));
  if (least.some((value, axis) => value > most[axis]!)) return false;
  const near = trianglesIn(one, least, most);
  const beside = trianglesIn(other, least, most);
  if (cutEachOther(one, near, other, beside)) return true;
  return holds(one, other) || holds(other, one);
}

/** Triangles whose boxes reach into a box, with how far theirs reach along x, by where that begins. */
type Near = { readonly triangle: number; readonly from: number; readonly to: number };

function trianglesIn(
  { positions, indices }: Mesh,
  least: readonly number[],
  most: readonly number[],
): readonly Near[] {
  const found: Near[] = [];
  for (let at = 0; at < indices.length; at += 3) {
    const [a, b, c] = [3 * indices[at]!, 3 * indices[at + 1]!, 3 * indices[at + 2]!];
    const reaches = [0, 1, 2].every((axis) => {
      const [p, q, r] = [positions[a + axis]!, positions[b + axis]!, positions[c + axis]!];
      return Math.max(p, q, r) >= least[axis]! && Math.min(p, q, r) <= most[axis]!;
    });
    if (!reaches) continue;
    const [p, q, r] = [positions[a]!, positions[b]!, positions[c]!];
    found.push({ triangle: at, from: Math.min(p, q, r), to: Math.max(p, q, r) });
  }
  return found.sort((one, other) => one.from - other.from);
}

function cutEachOther(
  one: Mesh,
  near: readonly Near[],
  other: Mesh,
  beside: readonly Near[],
): boolean {
  const widest = beside.reduce((most, { from, to }) => Math.max(most, to - from), 0);
  let first = 0;
  for (const mine of near) {
    while (first < beside.length && beside[first]!.from < mine.from - widest) first++;
    for (let at = first; at < beside.length && beside[at]!.from <= mine.to; at++) {
      const theirs = beside[at]!;
      if (theirs.to < mine.from) continue;
      if (
        edgesCut(one, mine.triangle, other, theirs.triangle) ||
        edgesCut(other, theirs.triangle, one, mine.triangle)
      ) {
        return true;
      }
    }
  }
  return false;
}

/** Whether an edge of one triangle goes through another. */
function edgesCut(one: Mesh, mine: number, other: Mesh, theirs: number): boolean {
  const [a, b, c] = [0, 1, 2].map((corner) => 3 * other.indices[theirs + corner]!);
  for (let corner = 0; corner < 3; corner++) {
    const from = 3 * one.indices[mine + corner]!;
    const to = 3 * one.indices[mine + ((corner + 1) % 3)]!;
    const above = height(other, a!, b!, c!, one, from);
    const below = height(other, a!, b!, c!, one, to);
    if (!(above * below < 0)) continue;
    const sides = [
      through(one, from, to, other, a!, b!),
      through(one, from, to, other, b!, c!),
      through(one, from, to, other, c!, a!),
    ];
    if (sides.every((side) => side > 0) || sides.every((side) => side < 0)) return true;
  }
  return false;
}

/** Six times the volume over a triangle to a place: which side of its plane that is on. */
function height(mesh: Mesh, a: number, b: number, c: number, other: Mesh, place: number): number {
  const p = mesh.positions;
  const q = other.positions;
  return determinant(
    [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!],
    [p[c]! - p[a]!, p[c + 1]! - p[a + 1]!, p[c + 2]! - p[a + 2]!],
    [q[place]! - p[a]!, q[place + 1]! - p[a + 1]!, q[place + 2]! - p[a + 2]!],
  );
}

/** Which way round a line passes an edge. */
function through(mesh: Mesh, from: number, to: number, other: Mesh, a: number, b: number): number {
  const p = mesh.positions;
  const q = other.positions;
  return determinant(
    [p[to]! - p[from]!, p[to + 1]! - p[from + 1]!, p[to + 2]! - p[from + 2]!],
    [q[a]! - p[from]!, q[a + 1]! - p[from + 1]!, q[a + 2]! - p[from + 2]!],
    [q[b]! - p[from]!, q[b + 1]! - p[from + 1]!, q[b + 2]! - p[from + 2]!],
  );
}

type Three = readonly [number, number, number];

const determinant = (u: Three, v: Three, w: Three): number =>
  u[0] * (v[1] * w[2] - v[2] * w[1]) -
  u[1] * (v[0] * w[2] - v[2] * w[0]) +
  u[2] * (v[0] * w[1] - v[1] * w[0]);

/** So far below a surface one is within the solid, m; thinner sheets than twice this there are none. */
const DEPTH = 1e-7;

/** A place just within a solid, under the middle of its first triangle that has area. */
function placeWithin({ positions, indices }: Mesh): Three {
  for (let at = 0; at < indices.length; at += 3) {
    const [a, b, c] = [0, 1, 2].map((corner): Three => {
      const place = 3 * indices[at + corner]!;
      return [positions[place]!, positions[place + 1]!, positions[place + 2]!];
    }) as [Three, Three, Three];
    const normal = cross(minus(b, a), minus(c, a));
    const length = Math.hypot(...normal);
    if (length === 0) continue;
    const under = (axis: 0 | 1 | 2): number =>
      // Not just the middle: that may lie in line with edges of a solid of the same make.
      0.3 * a[axis] + 0.36 * b[axis] + 0.34 * c[axis] - (DEPTH * normal[axis]) / length;
    return [under(0), under(1), under(2)];
  }
  return [NaN, NaN, NaN];
}

/** Whether a solid holds a place just within another: the way up from there leads out more often than in. */
function holds({ positions, indices }: Mesh, other: Mesh): boolean {
  const [x, y, z] = placeWithin(other);
  let depth = 0;
  for (let at = 0; at < indices.length; at += 3) {
    const places = [3 * indices[at]!, 3 * indices[at + 1]!, 3 * indices[at + 2]!] as const;
    const [ab, bc, ca] = [0, 1, 2].map((corner) => {
      const [from, to] = [places[corner]!, places[(corner + 1) % 3]!];
      const [fromX, fromY] = [positions[from]! - x, positions[from + 1]! - y];
      return fromX * (positions[to + 1]! - y) - fromY * (positions[to]! - x);
    }) as [number, number, number];
    const left = ab > 0 && bc > 0 && ca > 0;
    if (!left && !(ab < 0 && bc < 0 && ca < 0)) continue;
    const [a, b, c] = places;
    const height =
      (bc * positions[a + 2]! + ca * positions[b + 2]! + ab * positions[c + 2]!) / (ab + bc + ca);
    if (height > z) depth += left ? 1 : -1;
  }
  return depth > 0;
}
