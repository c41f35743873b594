import { edgesOf, nextCorner, surplusOf } from "./edges";
import type { Mesh } from "./mesh";

/** A way round a hole, along vertices, so that what closes it faces as its surroundings do. */
type Loop = readonly number[];

export type Closed = {
  readonly mesh: Mesh;
  readonly holes: number;
  /** The longest edge of the box round the widest, m. */
  readonly widestM: number;
};

/**
 * Closes all holes of a mesh with a fan of triangles from each one's middle.
 *
 * The open edges of triangles that agree always form closed ways, whatever the mesh: as many lead to a vertex as
 * lead away from it.
 *
 * @param mesh triangles in agreement
 * @example closeHoles(mesh).holes // 2
 */
export function closeHoles(mesh: Mesh): Closed {
  const loops = loopsOf(mesh);
  if (loops.length === 0) return { mesh, holes: 0, widestM: 0 };
  const positions = Array.from(mesh.positions);
  const indices = Array.from(mesh.indices);
  let widestM = 0;
  for (const loop of loops) {
    widestM = Math.max(widestM, widthOf(mesh, loop));
    if (loop.length === 3) {
      indices.push(...loop);
      continue;
    }
    const middle = positions.length / 3;
    positions.push(...middleOf(mesh, loop));
    loop.forEach((from, at) => indices.push(from, loop[(at + 1) % loop.length]!, middle));
  }
  return {
    mesh: { positions: Float64Array.from(positions), indices: Uint32Array.from(indices) },
    holes: loops.length,
    widestM,
  };
}

/** Ways against the open edges, without crossing themselves. */
function loopsOf(mesh: Mesh): readonly Loop[] {
  const leads = new Map<number, number[]>();
  for (const [from, to] of openEdges(mesh)) {
    const there = leads.get(from);
    if (there) there.push(to);
    else leads.set(from, [to]);
  }
  const loops: Loop[] = [];
  for (const start of leads.keys()) {
    const way: number[] = [];
    const place = new Map<number, number>();
    for (let at: number | undefined = start; at !== undefined; at = leads.get(at)?.pop()) {
      const before = place.get(at);
      if (before !== undefined) {
        const loop = way.splice(before);
        for (const vertex of loop) place.delete(vertex);
        loops.push(loop);
      }
      place.set(at, way.length);
      way.push(at);
    }
  }
  return loops;
}

/** Against the half-edges that have none to go with them. */
function openEdges(mesh: Mesh): readonly (readonly [number, number])[] {
  const edges = edgesOf(mesh);
  const open: [number, number][] = [];
  for (let edge = 0; edge < edges.count; edge++) {
    const surplus = surplusOf(edges, edge);
    if (surplus === 0) continue;
    const half = edges.order[edges.starts[edge]!]!;
    const ends = [mesh.indices[half]!, mesh.indices[nextCorner(half)]!].sort((a, b) => a - b);
    const [lower, higher] = ends as [number, number];
    const against: [number, number] = surplus > 0 ? [higher, lower] : [lower, higher];
    for (let copy = 0; copy < Math.abs(surplus); copy++) open.push(against);
  }
  return open;
}

const coordinates = ({ positions }: Mesh, loop: Loop, axis: number): readonly number[] =>
  loop.map((vertex) => positions[3 * vertex + axis]!);

const middleOf = (mesh: Mesh, loop: Loop): readonly number[] =>
  [0, 1, 2].map((axis) => coordinates(mesh, loop, axis).reduce((a, b) => a + b) / loop.length);

function widthOf(mesh: Mesh, loop: Loop): number {
  const spans = [0, 1, 2].map((axis) => {
    const values = coordinates(mesh, loop, axis);
    const least = values.reduce((a, b) => Math.min(a, b));
    return values.reduce((a, b) => Math.max(a, b)) - least;
  });
  return Math.max(...spans);
}
