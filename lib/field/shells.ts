import { type Edges, edgesOf, nextCorner } from "./edges";
import { cornersOf, cross, dot, type Mesh } from "./mesh";
import { type Pieces, piecesOf } from "./pieces";

/** The mesh with some of its triangles turned to face the other way. */
export function turnTriangles(mesh: Mesh, turn: (triangle: number) => boolean): Mesh {
  const indices = mesh.indices.slice();
  for (let at = 0; at < indices.length; at += 3) {
    if (!turn(at / 3)) continue;
    [indices[at + 1], indices[at + 2]] = [indices[at + 2]!, indices[at + 1]!];
  }
  return { positions: mesh.positions, indices };
}

/**
 * Makes the triangles of each piece agree, turning the fewer of them; null where a piece is one-sided and no
 * turning helps.
 */
export function agree(mesh: Mesh): { readonly mesh: Mesh; readonly turned: number } | null {
  const { count, piece, against, contradictions } = piecesOf(mesh, edgesOf(mesh), 2);
  if (contradictions > 0) return null;
  const sizes = new Uint32Array(count);
  const dissenters = new Uint32Array(count);
  piece.forEach((number, triangle) => {
    sizes[number]!++;
    dissenters[number]! += against[triangle]!;
  });
  let turned = 0;
  const turn = (triangle: number): boolean => {
    const number = piece[triangle]!;
    const most = 2 * dissenters[number]! > sizes[number]! ? 1 : 0;
    if (against[triangle] === most) return false;
    turned++;
    return true;
  };
  return { mesh: turnTriangles(mesh, turn), turned };
}

/**
 * Turns the shells that are inside out: those of negative volume, but for the hollows that lie within another
 * shell, which must be so.
 *
 * @param mesh every edge closed, triangles in agreement
 */
export function turnShells(mesh: Mesh): { readonly mesh: Mesh; readonly turned: number } {
  const edges = edgesOf(mesh);
  const pieces = piecesOf(mesh, edges, 2);
  const shells = shellsOf(mesh, pieces);
  const open = openPieces(edges, pieces);
  const insideOut = shells.map(
    (shell, number) => shell.volume < 0 && open[number] !== 1 && !isHollow(mesh, shells, number),
  );
  return {
    mesh: turnTriangles(mesh, (triangle) => insideOut[pieces.piece[triangle]!]!),
    turned: insideOut.filter(Boolean).length,
  };
}

type Shell = {
  volume: number;
  readonly triangles: number[];
  readonly least: [number, number, number];
  readonly most: [number, number, number];
};

function shellsOf(mesh: Mesh, { count, piece }: Pieces): readonly Shell[] {
  const shells = Array.from({ length: count }, (): Shell => ({
    volume: 0,
    triangles: [],
    least: [Infinity, Infinity, Infinity],
    most: [-Infinity, -Infinity, -Infinity],
  }));
  piece.forEach((number, triangle) => {
    const shell = shells[number]!;
    const [a, b, c] = cornersOf(mesh, triangle);
    shell.triangles.push(triangle);
    shell.volume += dot(a, cross(b, c)) / 6;
    for (const axis of [0, 1, 2] as const) {
      shell.least[axis] = Math.min(shell.least[axis], a[axis], b[axis], c[axis]);
      shell.most[axis] = Math.max(shell.most[axis], a[axis], b[axis], c[axis]);
    }
  });
  return shells;
}

/** 1 for each piece that is closed only together with others: its own volume says nothing. */
function openPieces(edges: Edges, { count, piece }: Pieces): Uint8Array {
  const open = new Uint8Array(count);
  for (let edge = 0; edge < edges.count; edge++) {
    const surplus = new Map<number, number>();
    for (let at = edges.starts[edge]!; at < edges.starts[edge + 1]!; at++) {
      const half = edges.order[at]!;
      const number = piece[Math.floor(half / 3)]!;
      surplus.set(number, (surplus.get(number) ?? 0) + (edges.forward[half] === 1 ? 1 : -1));
    }
    for (const [number, sum] of surplus) if (sum !== 0) open[number] = 1;
  }
  return open;
}

/** Whether a shell lies within an odd number of others. */
function isHollow(mesh: Mesh, shells: readonly Shell[], number: number): boolean {
  const inner = shells[number]!;
  const [place] = cornersOf(mesh, inner.triangles[0]!);
  const axes = [0, 1, 2] as const;
  const round = shells.filter(
    (outer, other) =>
      other !== number &&
      axes.every((axis) => outer.least[axis] < inner.least[axis]) &&
      axes.every((axis) => outer.most[axis] > inner.most[axis]) &&
      isInside(mesh, outer, place),
  );
  return round.length % 2 === 1;
}

/** Counts how often the way up from a place leads through a shell. */
function isInside(
  mesh: Mesh,
  { triangles, least, most }: Shell,
  place: readonly number[],
): boolean {
  // A hair beside, so as not to run into a vertex.
  const x = place[0]! + 1.618e-9 * (most[0] - least[0]);
  const y = place[1]! + 2.718e-9 * (most[1] - least[1]);
  let inside = false;
  for (const triangle of triangles) {
    const corners = cornersOf(mesh, triangle);
    const sides = [0, 1, 2].map((corner) => {
      const [from, to] = [corners[corner]!, corners[nextCorner(corner)]!];
      return (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
    });
    const [ab, bc, ca] = sides as [number, number, number];
    if (!((ab > 0 && bc > 0 && ca > 0) || (ab < 0 && bc < 0 && ca < 0))) continue;
    const [a, b, c] = corners;
    if ((bc * a[2] + ca * b[2] + ab * c[2]) / (ab + bc + ca) > place[2]!) inside = !inside;
  }
  return inside;
}
