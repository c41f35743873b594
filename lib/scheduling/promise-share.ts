import type { BoardDip, BoardLoad } from "./board";
import { Booked, type Changed } from "./promise-moved";
import type { Ground } from "./promise-ground";
import { type Plan, planOf, slotsOf } from "./promise-place";
import type { MovedLoad, NewPart, PromiseQuestion } from "./promise-types";

/** A plan in which the part goes in with what is booked, and those loads as they would be. */
export type Sharing = { readonly plan: Plan; readonly moved: readonly MovedLoad[] };

/** A load that a dip may be in: one of its own, or a booked one that it joins. */
type Choice = { readonly load: BoardLoad; readonly joined: BoardLoad | null };

/**
 * The soonest plan in which at least one of the part's dips shares a booked load; null when there is none. One that
 * makes another job late is taken only when there is no other.
 *
 * A load that is joined begins when it was booked to; it may take longer and draw more, and then everything behind it
 * must still be possible.
 *
 * @param byMs a plan must be done by then
 */
export function sharing(question: PromiseQuestion, ground: Ground, byMs: number): Sharing | null {
  const booked = new Booked(ground.board, question.loads);
  const ways = waysOf(question, ground)
    .filter((choices) => choices.some(({ joined }) => joined))
    .map((choices) => ({ plan: planOfChoices(choices), changed: changedBy(choices) }))
    .filter(({ plan }) => plan.doneMs <= byMs)
    .sort((a, b) => a.plan.doneMs - b.plan.doneMs);
  let soonest: Sharing | null = null;
  for (const { plan, changed } of ways) {
    if (!booked.isInOrder(changed)) continue;
    const moved = booked.moved(changed);
    if (moved.every(({ lateJobIds }) => lateJobIds.length === 0)) return { plan, moved };
    soonest ??= { plan, moved };
  }
  return soonest;
}

type Way = readonly [Choice, ...Choice[]];

const planOfChoices = ([first, ...others]: Way): Plan =>
  planOf(first.load, ...others.map(({ load }) => load));

const changedBy = (choices: Way): Changed =>
  new Map(choices.filter(({ joined }) => joined).map(({ load }) => [load.id, load]));

/** Every way to choose loads for the part's dips, in which the first of two is the only one that may be put off. */
function waysOf(question: PromiseQuestion, ground: Ground): readonly Way[] {
  const [first, second] = question.part.dips;
  const firsts = choicesFor(first, question, ground, first.releaseMs);
  if (!second) return firsts.map((choice) => [choice]);
  const ways: Way[] = [];
  for (const choice of notPutOff(firsts)) {
    if (choice.joined) ground.take(choice.joined);
    ground.put(choice.load);
    const after = Math.max(second.releaseMs, choice.load.endsAtMs);
    for (const then of choicesFor(second, question, ground, after)) ways.push([choice, then]);
    ground.take(choice.load);
    if (choice.joined) ground.put(choice.joined);
  }
  return ways;
}

/** Only the soonest of its own loads: the others could but delay the second dip. */
function notPutOff(choices: readonly Choice[]): readonly Choice[] {
  const own = choices.filter(({ joined }) => !joined);
  const [soonest] = own.sort((a, b) => a.load.endsAtMs - b.load.endsAtMs);
  return [...(soonest ? [soonest] : []), ...choices.filter(({ joined }) => joined)];
}

function choicesFor(
  dip: BoardDip,
  question: PromiseQuestion,
  ground: Ground,
  afterMs: number,
): Choice[] {
  const own = slotsOf(ground, dip, afterMs).map((load) => ({ load, joined: null }));
  return [...own, ...joinsFor(dip, question, ground, afterMs)];
}

function joinsFor(
  dip: BoardDip,
  { loads, part }: PromiseQuestion,
  ground: Ground,
  afterMs: number,
): Choice[] {
  const choices: Choice[] = [];
  for (const tankId of dip.tanks.keys()) {
    const ids = new Set(part.joinable?.get(tankId));
    for (const joined of loads) {
      if (!ids.has(joined.id) || joined.tankId !== tankId) continue;
      if (joined.startsAtMs < Math.max(afterMs, ground.board.nowMs)) continue;
      const dipIds = [...joined.dipIds, dip.id];
      const needs = ground.board.share(tankId, dipIds);
      if (!needs) continue;
      ground.take(joined);
      const times = ground.slotAt(needs, tankId, dipIds, joined.startsAtMs);
      ground.put(joined);
      if (times) choices.push({ load: { ...joined, ...times, dipIds, needs }, joined });
    }
  }
  return choices;
}

/** Whether a part could share anything at all. */
export const mayShare = ({ joinable }: NewPart): boolean =>
  joinable !== undefined && [...joinable.values()].some((ids) => ids.length > 0);
