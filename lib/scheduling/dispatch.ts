import { type PlanScore, comparePlans, Plan, type PlanLoad } from "./plan";
import { type Bundle, EXACT, repair } from "./repair";
import type { Unit, Units } from "./units";

const MS_PER_HOUR = 3_600_000;
const FAR_H = 1e6;

/** What a dispatch rule looks at. */
type Facts = {
  /** h under current in the tank where that is least */
  readonly hours: number;
  readonly weight: number;
  /** h from now until it is due; very far when nothing was promised */
  readonly dueH: number;
  /** h from now until it may go in */
  readonly releaseH: number;
};

/** Puts units in an order. */
type Rule = (facts: readonly Facts[], tanks: number) => readonly number[];

const by =
  (rank: (facts: Facts) => number): Rule =>
  (facts) => {
    const ranks = facts.map(rank);
    return facts.map((_, unit) => unit).sort((a, b) => (ranks[a] ?? 0) - (ranks[b] ?? 0) || a - b);
  };

/** What comes in within so many hours is weighed against what is there. */
const AHEAD_H = 4;

/**
 * Weighted slack (apparent tardiness cost, Vepsäläinen and Morton 1987, from memory): urgent, heavy and short first, as
 * it looks when all that was chosen before is done.
 *
 * @param lookahead how many mean hours ahead a due date is felt
 * @param waiting   hours that pass for an hour of treatment: nobody pulls at night
 */
const bySlack =
  (lookahead: number, waiting: number): Rule =>
  (facts, tanks) => {
    const scaleH = (lookahead * facts.reduce((sum, { hours }) => sum + hours, 0)) / facts.length;
    const open = new Set(facts.keys());
    const order: number[] = [];
    let clockH = 0;
    while (open.size > 0) {
      let best = -1;
      let bestUrgency = Number.NEGATIVE_INFINITY;
      for (const unit of open) {
        const own = facts[unit];
        if (!own) continue;
        const { hours, weight, dueH, releaseH } = own;
        const slackH = Math.max(0, dueH - hours - clockH);
        const urgency =
          releaseH > clockH + AHEAD_H
            ? clockH - releaseH
            : (weight / hours) * Math.exp(-slackH / scaleH);
        if (urgency > bestUrgency) {
          best = unit;
          bestUrgency = urgency;
        }
      }
      open.delete(best);
      order.push(best);
      clockH += (waiting * (facts[best]?.hours ?? 0)) / tanks;
    }
    return order;
  };

/**
 * Ways of saying what goes in first. By due date (Jackson 1955), by work a weight (Smith 1956), the longest first
 * (Graham 1969), by time left over work left, by release, by weighted slack.
 */
const RULES: readonly Rule[] = [
  bySlack(4, 1.5),
  by(({ dueH }) => dueH),
  ...[1.5, 2.5, 4].flatMap((waiting) => [0.5, 1.5, 4].map((ahead) => bySlack(ahead, waiting))),
  by(({ hours, weight }) => hours / weight),
  by(({ hours }) => -hours),
  by(({ hours, dueH }) => dueH / hours),
  by(({ releaseH, dueH }) => releaseH + 1e-3 * Math.min(dueH, FAR_H)),
];

/** What the rules look at, of a unit alone. */
function factsOf(units: Units, unit: Unit): Facts {
  let hours = FAR_H;
  for (let tank = 0; tank < units.timeline.tankIds.length; tank += 1) {
    hours = Math.min(hours, units.needsOf([unit.index], tank)?.hours ?? FAR_H);
  }
  const { nowMs } = units.board;
  let weight = 0;
  let dueMs = Number.POSITIVE_INFINITY;
  for (const job of unit.jobs) {
    weight += units.jobs[job]?.weight ?? 0;
    dueMs = Math.min(dueMs, units.jobs[job]?.dueMs ?? dueMs);
  }
  return {
    hours,
    weight: Math.max(weight, 1e-3),
    dueH: Math.min(FAR_H, (dueMs - nowMs) / MS_PER_HOUR),
    releaseH: (units.timeline.msOf(unit.releaseStep) - nowMs) / MS_PER_HOUR,
  };
}

/** A plan as a list, to be kept while another is tried. */
export type Kept = { readonly loads: readonly PlanLoad[]; readonly score: PlanScore };

export const keep = (plan: Plan): Kept => ({ loads: [...plan.loads], score: plan.score() });

/** Makes a plan hold exactly what was kept. */
export function bring(plan: Plan, kept: Kept): void {
  const wanted = new Set(kept.loads);
  for (const load of [...plan.loads]) if (!wanted.has(load)) plan.remove(load);
  for (const load of kept.loads) if (!plan.loads.has(load)) plan.add(load);
}

/**
 * The best of the plans that the dispatch rules make, with loads shared and not, from nothing and around what is booked.
 *
 * @param booked loads to leave where they are; null makes only plans from nothing
 * @param isOver asked before each rule but the first
 */
export function construct(
  units: Units,
  booked: readonly PlanLoad[] | null,
  isOver: () => boolean,
): Kept {
  const plan = new Plan(units);
  const facts = units.units.map((unit) => factsOf(units, unit));
  let best: Kept | null = null;
  for (const rule of RULES) {
    if (best && isOver()) return best;
    const order = rule(facts, Math.max(1, units.timeline.tankIds.length));
    const shared = bundled(units, order);
    const alone = order.map((unit) => [unit]);
    for (const fixed of booked ? [booked, []] : [[]]) {
      const there = new Set(fixed.flatMap((load) => load.units));
      for (const bundles of shared.length < alone.length ? [alone, shared] : [alone]) {
        // A booked load that stays cannot be joined by what came to it in this order.
        const open = bundles.flatMap((bundle) =>
          bundle.some((unit) => there.has(unit))
            ? bundle.filter((unit) => !there.has(unit)).map((unit) => [unit])
            : [bundle],
        );
        bring(plan, { loads: fixed, score: plan.score() });
        repair(plan, open, EXACT);
        const made = keep(plan);
        if (!best || comparePlans(made.score, best.score) < 0) best = made;
      }
    }
  }
  return best ?? keep(plan);
}

/** How many bundles a unit is held against before it gets one of its own. */
const LOOK_BACK = 12;

/** Units in order, each in the first of the last bundles that takes it in, where any tank can have them together. */
function bundled(units: Units, order: readonly number[]): Bundle[] {
  const bundles: number[][] = [];
  for (const unit of order) {
    const host = bundles
      .slice(-LOOK_BACK)
      .find((bundle) => units.canShare([...bundle, unit]) && !isChained(units, bundle, unit));
    if (host) host.push(unit);
    else bundles.push([unit]);
  }
  return bundles;
}

/** Ends of parts that wait for each other crosswise could never go in: those are left alone here. */
function isChained(units: Units, bundle: Bundle, unit: number): boolean {
  return [...bundle, unit].some((one) => units.unit(one).before.length > 0);
}
