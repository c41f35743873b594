import type { BoardDip, BoardLoad } from "./board";
import type { Ground } from "./promise-ground";
import type { NewPart } from "./promise-types";

/** A part's dips as placed: one load each, in order. */
export type Plan = {
  readonly loads: readonly [BoardLoad, ...BoardLoad[]];
  /** epoch ms, P90, when the last has left the bench */
  readonly doneMs: number;
};

/**
 * The part's best plan for each tank that its last dip may go in, soonest first; the ground is left as it was.
 *
 * The first of two dips goes where it is out soonest: a later one could only delay the second, and what it holds until
 * then it has given back. So these are the best there are, not only good ones.
 */
export function plansByTank(ground: Ground, part: NewPart): readonly Plan[] {
  const [first, second] = part.dips;
  const firsts = slotsOf(ground, first, first.releaseMs);
  if (!second) return soonestFirst(firsts.map((load) => planOf(load)));
  const best = firsts.sort((a, b) => a.endsAtMs - b.endsAtMs)[0];
  if (!best) return [];
  ground.put(best);
  const seconds = slotsOf(ground, second, Math.max(second.releaseMs, best.endsAtMs));
  ground.take(best);
  return soonestFirst(seconds.map((load) => planOf(best, load)));
}

/** The part's best plan of all. */
export function bestPlan(ground: Ground, part: NewPart): Plan | null {
  return plansByTank(ground, part)[0] ?? null;
}

/** The first slot of a dip in each tank it may go in, as a load of its own. */
export function slotsOf(ground: Ground, dip: BoardDip, afterMs: number): BoardLoad[] {
  const slots: BoardLoad[] = [];
  for (const [tankId, needs] of dip.tanks) {
    const slot = ground.earliest(needs, tankId, [dip.id], afterMs);
    if (slot) slots.push({ ...slot, id: ownLoadId(dip.id), dipIds: [dip.id], tankId, needs });
  }
  return slots;
}

export function planOf(...loads: readonly [BoardLoad, ...BoardLoad[]]): Plan {
  return { loads, doneMs: Math.max(...loads.map(({ benchUntilMs }) => benchUntilMs)) };
}

/** The id of a load made for one new dip. */
export const ownLoadId = (dipId: string): string => `new load of ${dipId}`;

function soonestFirst(plans: readonly Plan[]): readonly Plan[] {
  return [...plans].sort(
    (a, b) => a.doneMs - b.doneMs || a.loads[0].startsAtMs - b.loads[0].startsAtMs,
  );
}
