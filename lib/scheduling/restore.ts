import { compareScores } from "./place";
import { bring, keep, type Kept } from "./dispatch";
import { Plan, type PlanLoad } from "./plan";
import { destroy, EXACT, repair } from "./repair";
import type { Units } from "./units";

/**
 * Puts booked loads back where they were booked wherever the score is none the worse for it: nobody should write a new
 * time on a tank for nothing.
 *
 * @param isOver asked before each load
 */
export function restore(units: Units, found: Kept, isOver: () => boolean): Kept {
  const plan = new Plan(units);
  bring(plan, found);
  let best = found;
  let moved = countMoved(plan);
  for (;;) {
    const before = moved;
    for (const { index } of units.units) {
      if (isOver()) return best;
      const load = plan.loadOf(index);
      const home = plan.home(index);
      if (!home || !load || load.isHome || load.units.length > 1) continue;
      putBack(plan, load, home);
      const score = plan.score();
      const count = countMoved(plan);
      if (compareScores(score, found.score) <= 0 && count < moved) {
        best = keep(plan);
        moved = count;
      } else bring(plan, best);
    }
    if (moved === before) return best;
  }
}

/** The load goes home, and what is in its way there goes where it can. */
function putBack(plan: Plan, load: PlanLoad, home: PlanLoad): void {
  const own = destroy(plan, [load]).filter((other) => other !== load);
  const [unit] = home.units;
  if (unit === undefined) return;
  // Found exactly at home when nothing is in the way; else all that shares the tank's time goes first.
  const inTheWay = [...plan.loads].filter(
    ({ stretch }) =>
      stretch.tank === home.stretch.tank &&
      stretch.startStep < home.stretch.endStep &&
      home.stretch.startStep < stretch.endStep,
  );
  const removed = [...own, ...destroy(plan, inTheWay)];
  const there = plan.find([unit], home.stretch.tank, home.stretch.startStep);
  const bundles = removed.map(({ units }) => units);
  if (!there?.isHome) {
    repair(plan, [...bundles, load.units], EXACT);
    return;
  }
  plan.add(there);
  repair(plan, bundles, EXACT);
}

function countMoved(plan: Plan): number {
  let count = 0;
  for (const { index, booked } of plan.units.units) {
    if (booked && plan.loadOf(index)?.isHome !== true) count += 1;
  }
  return count;
}
