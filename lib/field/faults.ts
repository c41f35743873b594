import { edgesOf } from "./edges";
import type { Mesh } from "./mesh";
import { piecesOf } from "./pieces";

/** What keeps a mesh from being the skin of a solid. A watertight mesh has 0 of all but shells. */
export type MeshFaults = {
  /** Edges of one triangle only. */
  readonly openEdges: number;
  /** Edges of more than two triangles. */
  readonly crowdedEdges: number;
  /** Edges whose two triangles face opposite ways. */
  readonly turnedEdges: number;
  /** Triangles with two corners in one place. */
  readonly degenerateTriangles: number;
  /** Pieces that hang together by their edges. */
  readonly shells: number;
};

/**
 * Looks whether a mesh is watertight: every edge shared by exactly two triangles that run along it in opposite
 * directions.
 *
 * @example faultsOf(cube).openEdges // 0
 */
export function faultsOf(mesh: Mesh): MeshFaults {
  const edges = edgesOf(mesh);
  let [openEdges, crowdedEdges, turnedEdges] = [0, 0, 0];
  for (let edge = 0; edge < edges.count; edge++) {
    const start = edges.starts[edge]!;
    const uses = edges.starts[edge + 1]! - start;
    if (uses === 1) openEdges++;
    else if (uses > 2) crowdedEdges++;
    else if (edges.forward[edges.order[start]!] === edges.forward[edges.order[start + 1]!]) {
      turnedEdges++;
    }
  }
  const { indices } = mesh;
  let degenerateTriangles = 0;
  for (let at = 0; at < indices.length; at += 3) {
    if (isDegenerate(indices, at)) degenerateTriangles++;
  }
  const shells = piecesOf(mesh, edges).count;
  return { openEdges, crowdedEdges, turnedEdges, degenerateTriangles, shells };
}

/** Whether two corners of the triangle that begins at a place in the indices are one. */
export function isDegenerate(indices: Uint32Array, at: number): boolean {
  const [a, b, c] = [indices[at], indices[at + 1], indices[at + 2]];
  return a === b || b === c || c === a;
}
