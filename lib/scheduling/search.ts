import { diceOf, type Dice, pick, roll } from "./dice";
import { nextTry } from "./destroy";
import { bring, keep, type Kept } from "./dispatch";
import { comparePlans, Plan, type PlanLoad, type PlanScore } from "./plan";
import { destroy, repair, undo } from "./repair";
import type { Units } from "./units";

/** How long a search goes on, and who hears of it. */
export type SearchLimits = {
  /** any whole number; the same seed and `maxTries` give the same schedule */
  readonly seed: number;
  /** how many changes are tried at most; no limit when left out */
  readonly maxTries?: number;
  /** asked now and then: true ends the search with what it has */
  readonly isOver: () => boolean;
  readonly onBetter?: (score: PlanScore, tries: number) => void;
};

/** The clock and the caller are asked once in so many tries. */
const TRIES_A_LOOK = 8;
/** A change is accepted that is no worse than the plan was so many tries ago: on a large board there is no time for detours. */
const memoryFor = (units: number): number => (units <= 30 ? 40 : 4);
/** After so many tries without anything better the search goes back to the best and shakes it. */
const PATIENCE = 1500;

/**
 * Looks for better plans by taking a few loads off and putting them back otherwise.
 *
 * Late acceptance (Burke and Bykov 2017, from memory): a change is kept when it is no worse than what was there some
 * tries ago. It needs nothing but the order of two scores, so lateness and makespan need no exchange rate.
 *
 * @returns the best plan met, never worse than `start`
 */
export function search(
  units: Units,
  start: Kept,
  limits: SearchLimits,
): { readonly best: Kept; readonly tries: number } {
  const plan = new Plan(units);
  bring(plan, start);
  const dice = diceOf(limits.seed);
  const most = Math.max(2, Math.min(7, units.units.length));
  let best = start;
  let present = start.score;
  const length = memoryFor(units.units.length);
  let memory = Array.from({ length }, () => present);
  let tries = 0;
  let stale = 0;
  while (goesOn(units, tries, limits)) {
    const slot = tries % length;
    const asked = memory[slot] ?? present;
    tries += 1;
    stale += 1;
    const change = tryOnce(plan, dice, most);
    if (change) {
      const score = plan.score();
      if (comparePlans(score, asked) <= 0 || comparePlans(score, present) <= 0) {
        present = score;
        if (comparePlans(score, best.score) < 0) {
          best = keep(plan);
          stale = 0;
          limits.onBetter?.(score, tries);
        }
      } else undo(plan, change.added, change.removed);
    }
    memory[slot] = present;
    if (stale >= PATIENCE) {
      stale = 0;
      bring(plan, best);
      present = shaken(plan, dice, most);
      memory = Array.from({ length }, () => present);
    }
  }
  return { best, tries };
}

function goesOn({ units }: Units, tries: number, { maxTries, isOver }: SearchLimits): boolean {
  if (units.length === 0 || (maxTries !== undefined && tries >= maxTries)) return false;
  return tries % TRIES_A_LOOK !== 0 || !isOver();
}

/** How many units that found no place a try gives another chance. */
const RETRIED = 3;

type Change = { readonly added: readonly PlanLoad[]; readonly removed: readonly PlanLoad[] };

function tryOnce(plan: Plan, dice: Dice, most: number): Change | null {
  const next = nextTry(plan, dice, most);
  const missing = plan.unplaced();
  if (!next && missing.length === 0) return null;
  const removed = destroy(plan, next?.loads ?? []);
  const bundles = next?.bundles(removed) ?? [];
  for (let again = 0; again < Math.min(RETRIED, missing.length); again += 1) {
    const unit = pick(dice, missing);
    if (unit === undefined || bundles.some((bundle) => bundle.includes(unit))) continue;
    bundles.splice(roll(dice, bundles.length + 1), 0, [unit]);
  }
  const added = repair(plan, bundles, next?.placing ?? { noise: 0, dice });
  return { added, removed };
}

/** A few changes kept whatever they cost. */
function shaken(plan: Plan, dice: Dice, most: number): PlanScore {
  for (let times = 0; times < 3; times += 1) {
    const before = plan.unplaced().length;
    const change = tryOnce(plan, dice, most);
    if (change && plan.unplaced().length > before) undo(plan, change.added, change.removed);
  }
  return plan.score();
}
