import type { Dice } from "./dice";
import type { Plan, PlanLoad } from "./plan";
import type { Units } from "./units";

const MS_PER_HOUR = 3_600_000;

/** Units that go into one load. */
export type Bundle = readonly number[];

/** How a bundle finds its tank. */
export type Placing = {
  /** the tanks to look at; all when left out */
  readonly tanks?: readonly number[];
  /** how far, as a share, what a place costs is misjudged on purpose; 0 for not at all */
  readonly noise: number;
  readonly dice: Dice;
};

const never: Dice = () => 0;

/** Nothing left to chance. */
export const EXACT: Placing = { noise: 0, dice: never };

/**
 * Puts bundles on a plan one after another, each where it makes its jobs the least late, then where it is done first.
 * One that waits for another end of its part is put back until that is in.
 *
 * @returns the loads that were put on; what found no place is in none
 */
export function repair(plan: Plan, bundles: readonly Bundle[], placing: Placing): PlanLoad[] {
  const added: PlanLoad[] = [];
  let open = [...bundles];
  for (;;) {
    const later: Bundle[] = [];
    const before = added.length;
    const missing = new Set(open.flat());
    for (const bundle of open) {
      const waits = bundle.some((unit) =>
        plan.units.unit(unit).before.some((first) => missing.has(first)),
      );
      const load = waits ? null : bestPlace(plan, bundle, placing);
      if (load) {
        plan.add(load);
        added.push(load);
        for (const unit of bundle) missing.delete(unit);
      } else later.push(bundle);
    }
    if (later.length === 0 || added.length === before) return added;
    open = later;
  }
}

/** The best place for a bundle as the plan stands. */
export function bestPlace(plan: Plan, bundle: Bundle, placing: Placing): PlanLoad | null {
  const { noise, dice } = placing;
  const count = plan.timeline.tankIds.length;
  let best: PlanLoad | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  for (let index = 0; index < (placing.tanks?.length ?? count); index += 1) {
    const tank = placing.tanks ? (placing.tanks[index] ?? 0) : index;
    const load = plan.find(bundle, tank, 0, lastUseful(plan, best, noise));
    if (!load) continue;
    const sure = placeCost(plan.units, load);
    const cost = noise > 0 ? sure * (1 + noise * dice()) : sure;
    if (cost < bestCost) {
      best = load;
      bestCost = cost;
    }
  }
  return best;
}

/** What is done later than the best so far is never better, unless it is misjudged so. */
function lastUseful(plan: Plan, best: PlanLoad | null, noise: number): number | undefined {
  if (!best) return undefined;
  const { pullStep, startStep } = best.stretch;
  return Math.min(plan.timeline.steps - 1, pullStep + Math.ceil(noise * (pullStep - startStep)));
}

/** Hours late by weight, then hours until it is done, then hours that it keeps its tank. */
function placeCost(units: Units, { units: members, doneMs, needs }: PlanLoad): number {
  let late = 0;
  for (const member of members) {
    for (const job of units.unit(member).jobs) {
      const own = units.jobs[job];
      if (own && doneMs > own.dueMs) late += (own.weight * (doneMs - own.dueMs)) / MS_PER_HOUR;
    }
  }
  return late + 0.01 * ((doneMs - units.board.nowMs) / MS_PER_HOUR) + 0.001 * needs.hours;
}

/** Takes loads off together with all that wait for them; tells what was in them. */
export function destroy(plan: Plan, loads: Iterable<PlanLoad>): PlanLoad[] {
  const removed: PlanLoad[] = [];
  const open = [...loads];
  for (let load = open.pop(); load; load = open.pop()) {
    if (!plan.loads.has(load)) continue;
    plan.remove(load);
    removed.push(load);
    for (const unit of load.units) {
      for (const after of plan.units.unit(unit).after) {
        const waiting = plan.loadOf(after);
        if (waiting) open.push(waiting);
      }
    }
  }
  return removed;
}

/** A plan back as it was: what was put on off, what was taken off on. */
export function undo(plan: Plan, added: readonly PlanLoad[], removed: readonly PlanLoad[]): void {
  for (const load of added) plan.remove(load);
  for (const load of removed) plan.add(load);
}
