import type { Edges } from "./edges";
import type { Mesh } from "./mesh";
import { upTo } from "./number-order";

/** Triangles that hang together over edges of two, and which of them must turn to agree. */
export type Pieces = {
  readonly count: number;
  /** Piece of each triangle, numbered from 0 in the order in which they come. */
  readonly piece: Uint32Array;
  /** 1 where a triangle faces the other way than the first one of its piece. */
  readonly against: Uint8Array;
  /** Edges at which no turning makes both sides agree: 0 unless a piece is one-sided. */
  readonly contradictions: number;
};

/**
 * Finds the pieces of a mesh and which way round their triangles stand to each other: two that share an edge
 * agree when they run along it in opposite directions.
 *
 * @param mostUses edges of more triangles than this do not join; every edge joins when left out
 */
export function piecesOf({ indices }: Mesh, edges: Edges, mostUses = Infinity): Pieces {
  const leader = upTo(indices.length / 3);
  const against = new Uint8Array(leader.length);
  let contradictions = 0;
  for (let edge = 0; edge < edges.count; edge++) {
    const [start, stop] = [edges.starts[edge]!, edges.starts[edge + 1]!];
    if (stop - start > mostUses) continue;
    const first = edges.order[start]!;
    for (let at = start + 1; at < stop; at++) {
      const other = edges.order[at]!;
      const clash = edges.forward[first] === edges.forward[other] ? 1 : 0;
      const [a, b] = [Math.floor(first / 3), Math.floor(other / 3)];
      const [leadsA, leadsB] = [shorten(leader, against, a), shorten(leader, against, b)];
      const differs = against[a]! ^ against[b]! ^ clash;
      if (leadsA === leadsB) contradictions += differs;
      else {
        leader[Math.max(leadsA, leadsB)] = Math.min(leadsA, leadsB);
        against[Math.max(leadsA, leadsB)] = differs;
      }
    }
  }
  return { ...numbered(leader, against), against, contradictions };
}

/**
 * Lets a triangle, and all on its way, point straight at the first of their piece; `against` is then as seen from
 * there. @returns that first one
 */
function shorten(leader: Uint32Array, against: Uint8Array, triangle: number): number {
  let first = triangle;
  let parity = 0;
  while (leader[first] !== first) {
    parity ^= against[first]!;
    first = leader[first]!;
  }
  for (let at = triangle; leader[at] !== first && at !== first;) {
    const [next, own] = [leader[at]!, against[at]!];
    leader[at] = first;
    against[at] = parity;
    parity ^= own;
    at = next;
  }
  return first;
}

function numbered(
  leader: Uint32Array,
  against: Uint8Array,
): { readonly count: number; readonly piece: Uint32Array } {
  const piece = new Uint32Array(leader.length);
  let count = 0;
  // A leader is the lowest of its piece, so it has its number before the others ask for it.
  for (let triangle = 0; triangle < leader.length; triangle++) {
    const first = shorten(leader, against, triangle);
    piece[triangle] = first === triangle ? count++ : piece[first]!;
  }
  return { count, piece };
}
