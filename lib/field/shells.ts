import { type Edges, edgesOf, nextCorner } from "./edges";
import type { Mesh } from "./mesh";
import { type Pieces, piecesOf } from "./pieces";

/** The way up stands this far beside its vertex, m, so as not to run into others. */
const HAIR = 1.618e-10;

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
  if (shells.every(({ volume }) => volume >= 0)) return { mesh, turned: 0 };
  const open = openPieces(edges, pieces);
  const insideOut = shells.map(
    ({ volume }, number) =>
      volume < 0 && open[number] !== 1 && !isHollow(mesh, pieces, shells, number),
  );
  return {
    mesh: turnTriangles(mesh, (triangle) => insideOut[pieces.piece[triangle]!]!),
    turned: insideOut.filter(Boolean).length,
  };
}

type Shell = {
  volume: number;
  /** Place of one of its vertices in the positions. */
  readonly place: number;
  readonly least: [number, number, number];
  readonly most: [number, number, number];
};

const AXES = [0, 1, 2] as const;

/** Volume by tetrahedra, and box, of each piece. */
function shellsOf({ positions, indices }: Mesh, { piece }: Pieces): readonly Shell[] {
  const shells: Shell[] = [];
  for (let triangle = 0; triangle < piece.length; triangle++) {
    const [a, b, c] = placesOf(indices, triangle);
    const shell = (shells[piece[triangle]!] ??= {
      volume: 0,
      place: a,
      least: [Infinity, Infinity, Infinity],
      most: [-Infinity, -Infinity, -Infinity],
    });
    for (const axis of AXES) {
      const [p, q, r] = [positions[a + axis]!, positions[b + axis]!, positions[c + axis]!];
      if (Math.min(p, q, r) < shell.least[axis]) shell.least[axis] = Math.min(p, q, r);
      if (Math.max(p, q, r) > shell.most[axis]) shell.most[axis] = Math.max(p, q, r);
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
      const across = positions[b + u]! * positions[c + v]! - positions[b + v]! * positions[c + u]!;
      shell.volume += (p * across) / 6;
    }
  }
  return shells;
}

/** Where the corners of a triangle begin in the positions. */
const placesOf = (indices: Uint32Array, triangle: number): [number, number, number] => [
  3 * indices[3 * triangle]!,
  3 * indices[3 * triangle + 1]!,
  3 * indices[3 * triangle + 2]!,
];

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
function isHollow(mesh: Mesh, pieces: Pieces, shells: readonly Shell[], number: number): boolean {
  const inner = shells[number]!;
  const round = shells.filter(
    (outer, other) =>
      other !== number &&
      AXES.every((axis) => outer.least[axis] < inner.least[axis]) &&
      AXES.every((axis) => outer.most[axis] > inner.most[axis]) &&
      isInside(mesh, pieces, other, inner.place),
  );
  return round.length % 2 === 1;
}

/** Whether the way up from a vertex leads through a piece an odd number of times. */
function isInside(
  { positions, indices }: Mesh,
  { piece }: Pieces,
  number: number,
  at: number,
): boolean {
  const [x, y, z] = [positions[at]!, positions[at + 1]!, positions[at + 2]!];
  let inside = false;
  for (let triangle = 0; triangle < piece.length; triangle++) {
    if (piece[triangle] !== number) continue;
    const places = placesOf(indices, triangle);
    const sides = AXES.map((corner) => {
      const [from, to] = [places[corner], places[nextCorner(corner)]!];
      const [fromX, fromY] = [positions[from]! - x - HAIR, positions[from + 1]! - y - HAIR / 2];
      const [toX, toY] = [positions[to]! - x - HAIR, positions[to + 1]! - y - HAIR / 2];
      return fromX * toY - fromY * toX;
    });
    const [ab, bc, ca] = sides as [number, number, number];
    if (!((ab > 0 && bc > 0 && ca > 0) || (ab < 0 && bc < 0 && ca < 0))) continue;
    const [a, b, c] = places;
    const height =
      (bc * positions[a + 2]! + ca * positions[b + 2]! + ab * positions[c + 2]!) / (ab + bc + ca);
    if (height > z) inside = !inside;
  }
  return inside;
}
