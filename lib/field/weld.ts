import type { Mesh } from "./mesh";
import { orderOf } from "./number-order";

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
  const chosen = Uint32Array.from(Array.from(positions.subarray(0, positions.length / 3).keys()));
  const some = only ? chosen.filter((vertex) => only[vertex] === 1) : chosen;
  const least = leastOf(positions);
  const first = Uint32Array.from(chosen);
  for (const shift of SHIFTS) {
    const keys = [0, 1, 2].map((axis) =>
      Uint32Array.from(chosen, (vertex) =>
        Math.floor((positions[3 * vertex + axis]! - least[axis]!) / reach + shift),
      ),
    ) as [Uint32Array, Uint32Array, Uint32Array];
    const order = keys.reduce<Uint32Array>((sorted, key) => orderOf(key, sorted), some);
    for (let at = 1; at < order.length; at++) {
      const [one, other] = [order[at - 1]!, order[at]!];
      if (keys.every((key) => key[one] === key[other])) join(first, one, other);
    }
  }
  return onlyFirst(mesh, first);
}

function leastOf(positions: Float64Array): readonly number[] {
  const least = [Infinity, Infinity, Infinity];
  for (let at = 0; at < positions.length; at++) {
    if (positions[at]! < least[at % 3]!) least[at % 3] = positions[at]!;
  }
  return least;
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
    kept.set(positions.subarray(3 * vertex, 3 * vertex + 3), 3 * count);
    place[vertex] = count++;
  }
  return {
    mesh: {
      positions: kept.slice(0, 3 * count),
      indices: indices.map((vertex) => place[firstOf(first, vertex)]!),
    },
    welded: first.length - count,
  };
}
