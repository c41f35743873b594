import type { Room } from "./packing-room";
import type { Block, Hanging, Hung, Kind, PackingSpace } from "./packing-space";

/** How much it counts that a part ends far along, across and up. */
export type Weights = readonly [along: number, across: number, up: number];

type Candidate = { readonly block: Block; readonly hanging: Hanging };
/** Where a kind could hang: of so many corners, clear of so many blocks. */
type Prospect = { corners: number; blocks: number; found: Candidate[] };

/**
 * Hangs one part after another at the corner where it ends nearest to the origin, by the weights. Corners are the
 * extreme points of Crainic, Perboli & Tadei, INFORMS J. Computing 20 (2008) 368, from memory.
 *
 * @param order the kind of each copy, in the order in which they are hung; one that finds no room is passed over
 */
export function sweepParts(
  kinds: readonly Kind[],
  order: readonly number[],
  weights: Weights,
  room: Room,
): Hung[] {
  const prospects = kinds.map((): Prospect => ({ corners: 0, blocks: 0, found: [] }));
  const hung: Hung[] = [];
  for (const kind of order) {
    const [part, prospect] = [kinds[kind], prospects[kind]];
    if (!part || !prospect) continue;
    update(prospect, part, room);
    const best = nearest(prospect.found, weights, room.space);
    if (!best) continue;
    room.add(best.block);
    hung.push({ kind, ...best });
  }
  return hung;
}

/** What was free stays free but for the blocks that came since; what was not, is not. Only new corners are searched. */
function update(prospect: Prospect, { ways }: Kind, room: Room): void {
  prospect.found = prospect.found.filter(({ block }) => room.takes(block, prospect.blocks));
  for (const corner of room.corners.slice(prospect.corners)) {
    const gauge = room.gauge(corner);
    for (const hanging of ways) {
      if (!gauge.mayFit(hanging)) continue;
      for (const block of room.placesAt(corner, hanging)) {
        if (room.takes(block)) prospect.found.push({ block, hanging });
      }
    }
  }
  prospect.corners = room.corners.length;
  prospect.blocks = room.blocks;
}

function nearest(
  candidates: readonly Candidate[],
  [along, across, up]: Weights,
  space: PackingSpace,
): Candidate | undefined {
  let best: Candidate | undefined;
  let least = Infinity;
  for (const candidate of candidates) {
    const { xMm, yMm, zMm, lengthMm, widthMm, heightMm } = candidate.block;
    const end =
      (along * (xMm + lengthMm)) / space.lengthMm +
      (across * (yMm + widthMm)) / space.widthMm +
      (up * (zMm + heightMm)) / space.heightMm;
    if (end < least) {
      least = end;
      best = candidate;
    }
  }
  return best;
}
