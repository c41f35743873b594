import { fillCorners } from "./packing-fill";
import { Room } from "./packing-room";
import { bulk, type Extents, type Hung, type Kind, type PackingSpace } from "./packing-space";
import { sweepParts, type Weights } from "./packing-sweep";

export type Search = {
  readonly space: PackingSpace;
  readonly gapMm: number;
  readonly kinds: readonly Kind[];
};

/**
 * How much is tried before the search gives up, in comparisons of two blocks: a count, so that the answer is the same
 * on every machine. Set so that twelve parts are answered within 50 ms on one core (`npm run bench:packing`).
 */
const MOST_COMPARISONS = 300_000;

/** Fill one direction first, then another. */
const LESS = 1e-3;
const LEAST = 1e-6;
const DIRECTIONS: readonly Weights[] = [
  [LEAST, LESS, 1],
  [1, LESS, LEAST],
  [LEAST, 1, LESS],
  [1, 1, 1],
];

/** What is hung first: the bulkiest, the longest, the most slender. */
const ORDERS: readonly ((part: Extents) => number)[] = [
  bulk,
  ({ lengthMm, widthMm, heightMm }) => Math.max(lengthMm, widthMm, heightMm),
  ({ lengthMm, widthMm, heightMm }) => -Math.min(lengthMm, widthMm, heightMm),
];

/**
 * Looks for an arrangement: first plain sweeps in a few orders and directions, which do for most loads, then, turn by
 * turn, corners filled with what fits them best, and sweeps in orders drawn from a fixed seed.
 *
 * The same kinds in the same order give the same answer: neither clock nor chance decides.
 *
 * @param mostComparisons when to give up; the first sweep is always made
 * @returns the fullest arrangement found; it holds every copy when the search succeeded
 */
export function searchPacking(search: Search, mostComparisons = MOST_COMPARISONS): readonly Hung[] {
  const wanted = search.kinds.reduce((sum, { copies }) => sum + copies, 0);
  let best: readonly Hung[] = [];
  let spent = 0;
  for (const attempt of attempts(search)) {
    const room = new Room(search.space, search.gapMm);
    const hung = attempt(room);
    if (hung.length > best.length) best = hung;
    spent += room.comparisons;
    if (best.length === wanted || spent > mostComparisons) break;
  }
  return best;
}

type Attempt = (room: Room) => readonly Hung[];

function* attempts({ kinds }: Search): Generator<Attempt> {
  for (const order of ORDERS) {
    for (const weights of DIRECTIONS) {
      yield (room) => sweepParts(kinds, inOrder(kinds, order), weights, room);
    }
  }
  const random = seeded(1);
  for (let turn = 0; ; turn += 1) {
    if (turn % 3 === 2) {
      const order = inOrder(kinds, (part) => bulk(part) * (0.4 + random()));
      const weights: Weights = [random(), random(), random()];
      yield (room) => sweepParts(kinds, order, weights, room);
    } else {
      const favour = kinds.map(() => 0.5 + random());
      yield (room) => fillCorners(kinds, { turn, favour }, room);
    }
  }
}

/** The kind of every copy, largest first. */
function inOrder(kinds: readonly Kind[], size: (part: Extents) => number): number[] {
  return kinds
    .map(({ ways: [way], copies }, kind) => ({ kind, copies, size: way ? size(way) : 0 }))
    .sort((a, b) => b.size - a.size || a.kind - b.kind)
    .flatMap(({ kind, copies }) => Array<number>(copies).fill(kind));
}

/** Numbers from 0 up to 1 that look drawn and are always the same ("mulberry32", public domain, from memory). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}
