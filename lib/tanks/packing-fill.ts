import type { Corner, Room } from "./packing-room";
import { bulk, type Hung, type Kind } from "./packing-space";

/** The direction that is filled first, second and last. */
type Axes = readonly [0 | 1 | 2, 0 | 1 | 2, 0 | 1 | 2];
const AXES: readonly Axes[] = [
  [0, 1, 2],
  [1, 2, 0],
  [2, 0, 1],
  [0, 2, 1],
  [2, 1, 0],
  [1, 0, 2],
];
/** A part is snug where it leaves less than this share of the tank before it: exactly, or nearly. */
const SNUG_SHARES = [1e-3, 5e-2] as const;
/** Parts hung and taken off again before the next try begins from an empty tank. */
const MOST_HANGINGS = 40;

export type FillTry = {
  /** Number of the try: it decides the direction and how snug is snug. */
  readonly turn: number;
  /** By how much each kind's bulk is favoured. */
  readonly favour: readonly number[];
};

type Filling = FillTry & {
  readonly kinds: readonly Kind[];
  readonly room: Room;
  readonly left: number[];
  readonly hung: Hung[];
  /** Corners that are done with, by number. */
  readonly done: boolean[];
  best: readonly Hung[];
  hangings: number;
};

type Option = Hung & { readonly score: number };

/**
 * Fills the first free corner, by one direction, with the part that fits it most snugly; goes back a few times where
 * that leads nowhere. Finds tight arrangements that hanging part by part misses.
 *
 * @returns the fullest arrangement met
 */
export function fillCorners(kinds: readonly Kind[], fillTry: FillTry, room: Room): readonly Hung[] {
  const left = kinds.map(({ copies }) => copies);
  const filling = { ...fillTry, kinds, room, left, hung: [], done: [], best: [], hangings: 0 };
  descend(filling);
  return filling.best;
}

/** @returns whether everything hangs */
function descend(filling: Filling): boolean {
  const { room, hung, left, done } = filling;
  if (hung.length > filling.best.length) filling.best = [...hung];
  if (left.every((copies) => copies === 0)) return true;
  const closed: number[] = [];
  let options: Option[] = [];
  // A corner that takes nothing is waste; the first that takes something must take it.
  while (options.length === 0 && filling.hangings < MOST_HANGINGS) {
    const at = firstCorner(filling);
    const corner = room.corners[at];
    if (!corner) break;
    options = optionsAt(corner, filling);
    done[at] = true;
    closed.push(at);
  }
  const found = options.some((option) => tryOption(option, filling));
  if (!found) for (const at of closed) done[at] = false;
  return found;
}

function tryOption({ kind, hanging, block }: Option, filling: Filling): boolean {
  if (filling.hangings >= MOST_HANGINGS) return false;
  filling.hangings += 1;
  const { room, hung, left, done } = filling;
  const { blocks, corners } = { blocks: room.blocks, corners: room.corners.length };
  room.add(block);
  done.length = corners;
  hung.push({ kind, hanging, block });
  left[kind] = (left[kind] ?? 0) - 1;
  if (descend(filling)) return true;
  room.rewind(blocks, corners);
  hung.pop();
  left[kind] = (left[kind] ?? 0) + 1;
  return false;
}

/** Number of the first corner not done with, by the direction of this try; −1 when there is none. */
function firstCorner({ room, done, turn }: Filling): number {
  const [first, second, third] = AXES[turn % AXES.length] ?? [0, 1, 2];
  let at = -1;
  let low: Corner | undefined;
  room.corners.forEach((corner, index) => {
    if (done[index]) return;
    const ahead =
      low === undefined ||
      (corner[first] - low[first] || corner[second] - low[second] || corner[third] - low[third]) <
        0;
    if (!ahead) return;
    low = corner;
    at = index;
  });
  return at;
}

function optionsAt(corner: Corner, { kinds, room, left, turn, favour }: Filling): Option[] {
  const gauge = room.gauge(corner);
  const snugShare = SNUG_SHARES[Math.floor(turn / AXES.length) % 2] ?? 0;
  const options: Option[] = [];
  kinds.forEach(({ ways }, kind) => {
    if (left[kind] === 0) return;
    for (const hanging of ways) {
      if (!gauge.mayFit(hanging)) continue;
      const block = room.placesAt(corner, hanging).find((place) => room.takes(place));
      if (!block) continue;
      // Snug sides count before bulk.
      const score =
        gauge.snugSides(hanging, snugShare) * 1e15 + bulk(hanging) * (favour[kind] ?? 1);
      options.push({ kind, hanging, block, score });
    }
  });
  return options.sort((a, b) => b.score - a.score);
}
