import { boxOf, type Mesh } from "./mesh";
import { orderOf, upTo } from "./number-order";

/**
 * Grids of cells, each a quarter of a cell beside the last. Two near points may have a cell's side between them
 * in one grid for each axis, so in one of four they always share a cell.
 */
const SHIFTS = [0, 0.25, 0.5, 0.75] as const;

/**
 * Makes one vertex of those that lie together: all within a quarter of `reach`, none further than it apart but in
 * a chain. The first of them stays where it is.
 *
 * @param reach m, > 0 and at least a four-billionth of the mesh's box
 * @param only  1 for each vertex that may be welded; all when left out
 * @returns the mesh with the indices of the vertices that are left, and how many were welded away
 * @example weld(trianglesOnTheirOwn, 1e-6).mesh
 */
export function weld(
  mesh: Mesh,
  reach: number,
  only?: Uint8Array,
): { readonly mesh: Mesh; readonly welded: number } {
  const { positions } = mesh;
  const count = positions.length / 3;
  let chosen = upTo(count);
  if (only) chosen = chosen.filter((vertex) => only[vertex] === 1);
  const { least } = boxOf(mesh);
  const first = upTo(count);
  const keys = [new Uint32Array(count), new Uint32Array(count), new Uint32Array(count)] as const;
  const [x, y, z] = keys;
  for (const shift of SHIFTS) {
    for (const axis of [0, 1, 2] as const) {
      const key = keys[axis];
      for (let vertex = 0; vertex < count; vertex++) {
        key[vertex] = Math.floor((positions[3 * vertex + axis]! - least[axis]) / reach + shift);
      }
    }
    const order = keys.reduce<Uint32Array>((sorted, key) => orderOf(key, sorted), chosen);
    for (let at = 1; at < order.length; at++) {
      const [one, other] = [order[at - 1]!, order[at]!];
      if (x[one] === x[other] && y[one] === y[other] && z[one] === z[other]) {
        join(first, one, other);
      }
    }
    // Most are welded in the first grid; those that are need not be looked at again.
    chosen = chosen.filter((vertex) => first[vertex] === vertex);
  }
  return onlyFirst(mesh, first);
}

/** The first vertex of the group that a vertex is in; shortens the way there for the next time. */
function firstOf(first: Uint32Array, vertex: number): number {
  let at = vertex;
  while (first[at] !== at) {
    first[at] = first[first[at]!]!;
    at = first[at]!;
  }
  return at;
}

/** The lower number leads, so the same file always gives the same mesh. */
function join(first: Uint32Array, one: number, other: number): void {
  const [a, b] = [firstOf(first, one), firstOf(first, other)];
  first[Math.max(a, b)] = Math.min(a, b);
}

function onlyFirst(
  { positions, indices }: Mesh,
  first: Uint32Array,
): { readonly mesh: Mesh; readonly welded: number } {
  const place = new Uint32Array(first.length);
  const kept = new Float64Array(positions.length);
  let count = 0;
  for (let vertex = 0; vertex < first.length; vertex++) {
    if (first[vertex] !== vertex) continue;
    for (let axis = 0; axis < 3; axis++) kept[3 * count + axis] = positions[3 * vertex + axis]!;
    place[vertex] = count++;
  }
  const renamed = new Uint32Array(indices.length);
  for (let at = 0; at < indices.length; at++) renamed[at] = place[firstOf(first, indices[at]!)]!;
  return {
    mesh: { positions: kept.slice(0, 3 * count), indices: renamed },
    welded: first.length - count,
  };
}
