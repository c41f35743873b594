import type { Mesh } from "./mesh";
import { orderOf } from "./number-order";

/**
 * The edges of a mesh. Half-edge 3·t + p runs from corner p of triangle t to its next corner; the half-edges of one
 * edge stand together in `order`, from `starts[edge]` up to `starts[edge + 1]`.
 */
export type Edges = {
  readonly count: number;
  readonly starts: Uint32Array;
  readonly order: Uint32Array;
  /** 1 for each half-edge that runs from the lower vertex to the higher one. */
  readonly forward: Uint8Array;
};

/** The corner after each corner of a triangle, as half-edges. */
export const nextCorner = (halfEdge: number): number =>
  halfEdge % 3 === 2 ? halfEdge - 2 : halfEdge + 1;

/** All edges of a mesh; linear in its triangles. */
export function edgesOf({ indices }: Mesh): Edges {
  const lower = new Uint32Array(indices.length);
  const higher = new Uint32Array(indices.length);
  const forward = new Uint8Array(indices.length);
  for (let half = 0; half < indices.length; half++) {
    const [from, to] = [indices[half]!, indices[nextCorner(half)]!];
    forward[half] = from < to ? 1 : 0;
    lower[half] = Math.min(from, to);
    higher[half] = Math.max(from, to);
  }
  const order = orderOf(lower, orderOf(higher));
  const starts = new Uint32Array(indices.length + 1);
  let count = 0;
  for (let at = 0; at < order.length; at++) {
    const [one, before] = [order[at]!, order[at - 1]];
    if (before !== undefined && lower[one] === lower[before] && higher[one] === higher[before]) {
      continue;
    }
    starts[count++] = at;
  }
  starts[count] = order.length;
  return { count, starts: starts.slice(0, count + 1), order, forward };
}

/** How many more of an edge's triangles run along it forward than backward: 0 where it is closed. */
export function surplusOf({ starts, order, forward }: Edges, edge: number): number {
  let surplus = 0;
  for (let at = starts[edge]!; at < starts[edge + 1]!; at++) {
    surplus += forward[order[at]!] === 1 ? 1 : -1;
  }
  return surplus;
}
