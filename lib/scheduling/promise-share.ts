import type { Board, BoardDip, BoardLoad } from "./board";
import { loadsBefore, movedBetween } from "./promise-moved";
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
 */
export function sharing(question: PromiseQuestion, ground: Ground): Sharing | null {
  let best: Sharing | null = null;
  for (const choices of waysOf(question, ground)) {
    if (choices.every(({ joined }) => !joined)) continue;
    const found = sharingOf(question, ground.board, choices);
    if (found && (!best || isBetter(found, best))) best = found;
  }
  return best;
}

const lateJobs = ({ moved }: Sharing): number =>
  moved.reduce((sum, { lateJobIds }) => sum + lateJobIds.length, 0);

const isBetter = (a: Sharing, b: Sharing): boolean =>
  Number(lateJobs(a) > 0) - Number(lateJobs(b) > 0) < 0 ||
  (lateJobs(a) > 0 === lateJobs(b) > 0 && a.plan.doneMs < b.plan.doneMs);

/** Every way to choose loads for the part's dips, in which the first of two is the only one that may be put off. */
function waysOf(question: PromiseQuestion, ground: Ground): readonly (readonly Choice[])[] {
  const [first, second] = question.part.dips;
  const firsts = choicesFor(first, question, ground, first.releaseMs);
  if (!second) return firsts.map((choice) => [choice]);
  const ways: Choice[][] = [];
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

/** The plan of a choice; null when a load that waits for one that was joined would begin before that is out. */
function sharingOf(
  { loads }: PromiseQuestion,
  board: Board,
  choices: readonly Choice[],
): Sharing | null {
  const after = new Map(loads.map((load) => [load.id, load]));
  for (const { load } of choices) after.set(load.id, load);
  for (const [id, before] of loadsBefore(board, [...after.values()])) {
    const startsAtMs = after.get(id)?.startsAtMs ?? 0;
    if (before.some(({ endsAtMs }) => endsAtMs > startsAtMs)) return null;
  }
  const [first, ...others] = choices.map(({ load }) => load);
  if (!first) return null;
  return { plan: planOf(first, ...others), moved: movedBetween(board, loads, after) };
}

/** Whether a part could share anything at all. */
export const mayShare = ({ joinable }: NewPart): boolean =>
  joinable !== undefined && [...joinable.values()].some((ids) => ids.length > 0);
