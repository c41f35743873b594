import { type Dice, pick, roll, shuffled } from "./dice";
import type { Plan, PlanLoad } from "./plan";
import type { Bundle, Placing } from "./repair";

/** What one try takes off a plan, in which order it comes back, and how the tanks are chosen. */
export type Try = {
  readonly loads: readonly PlanLoad[];
  /** what comes back of what was taken off, units that were in no load too; in order */
  readonly bundles: (removed: readonly PlanLoad[]) => Bundle[];
  readonly placing: Placing;
};

type Operator = (plan: Plan, dice: Dice, most: number) => Try | null;

const loadsOf = (plan: Plan): PlanLoad[] => [...plan.loads];
const byStart = (a: PlanLoad, b: PlanLoad): number =>
  a.stretch.startStep - b.stretch.startStep || a.stretch.tank - b.stretch.tank;
const asTheyWere = (removed: readonly PlanLoad[]): Bundle[] => removed.map(({ units }) => units);

/** Some loads at random, back in any order. */
const someLoads: Operator = (plan, dice, most) => ({
  loads: shuffled(dice, loadsOf(plan)).slice(0, 1 + roll(dice, most)),
  bundles: (removed) => shuffled(dice, asTheyWere(removed)),
  placing: { noise: dice() < 0.5 ? 0 : 0.3, dice },
});

/** What follows on one or two tanks, back in nearly the order it had: the sequence of a tank is turned over. */
const tankTail: Operator = (plan, dice, most) => {
  const first = pick(dice, loadsOf(plan));
  if (!first) return null;
  const tanks = [first.stretch.tank];
  if (dice() < 0.5) tanks.push(roll(dice, plan.timeline.tankIds.length));
  const loads = loadsOf(plan)
    .filter(({ stretch }) => tanks.includes(stretch.tank))
    .filter(({ stretch }) => stretch.startStep >= first.stretch.startStep)
    .sort(byStart)
    .slice(0, 2 * most);
  const stays = dice() < 0.5;
  return {
    loads,
    bundles: (removed) => perturbed(dice, asTheyWere([...removed].sort(byStart))),
    placing: { noise: 0, dice, ...(stays ? { tanks } : {}) },
  };
};

/** What begins within some hours, on all tanks. */
const window: Operator = (plan, dice, most) => {
  const sorted = loadsOf(plan).sort(byStart);
  const from = roll(dice, Math.max(1, sorted.length - 1));
  return {
    loads: sorted.slice(from, from + 2 + roll(dice, most)),
    bundles: (removed) =>
      dice() < 0.5
        ? perturbed(dice, asTheyWere([...removed].sort(byStart)))
        : shuffled(dice, asTheyWere(removed)),
    placing: { noise: dice() < 0.5 ? 0 : 0.2, dice },
  };
};

/** A load that is late, or the last, with some of what lies before it where it could lie; it comes back first. */
const costly: Operator = (plan, dice, most) => {
  const all = loadsOf(plan);
  const late = all.filter((load) => isLate(plan, load));
  const last = all.reduce<PlanLoad | undefined>(
    (a, b) => (a && a.doneMs >= b.doneMs ? a : b),
    undefined,
  );
  const chosen = dice() < 0.8 ? (pick(dice, late) ?? last) : last;
  if (!chosen) return null;
  const inTheWay = all.filter(
    (load) =>
      load !== chosen &&
      load.stretch.startStep < chosen.stretch.pullStep &&
      plan.units.needsOf(chosen.units, load.stretch.tank) !== null,
  );
  const others = shuffled(dice, inTheWay).slice(0, 1 + roll(dice, most));
  return {
    loads: [chosen, ...others],
    bundles: (removed) => {
      const rest = removed.filter((load) => load !== chosen);
      return [chosen.units, ...shuffled(dice, asTheyWere(rest))];
    },
    placing: { noise: dice() < 0.7 ? 0 : 0.2, dice },
  };
};

/** How many loads a guest is held against. */
const HOSTS = 30;

/** Two loads that may share become one. */
const merge: Operator = (plan, dice, most) => {
  const waiting = loadsOf(plan).filter((load) => isWaiting(plan, load));
  const guest = pick(dice, waiting);
  if (!guest) return null;
  const hosts = shuffled(dice, loadsOf(plan)).filter((load) => load !== guest);
  const host = hosts
    .slice(0, HOSTS)
    .find((load) => plan.units.canShare([...load.units, ...guest.units]));
  if (!host) return null;
  const both = [...host.units, ...guest.units].sort((a, b) => a - b);
  // What came after the guest moves up.
  const others = hosts
    .filter((load) => load !== host && load.stretch.tank === guest.stretch.tank)
    .filter(({ stretch }) => stretch.startStep > guest.stretch.startStep)
    .sort(byStart)
    .slice(0, most + roll(dice, most));
  return {
    loads: [guest, host, ...others],
    bundles: (removed) => {
      const rest = removed.filter((load) => load !== guest && load !== host);
      return [both, ...asTheyWere(rest.sort(byStart))];
    },
    placing: { noise: 0, dice },
  };
};

/** A load of several comes apart, or one unit leaves it. */
const split: Operator = (plan, dice, most) => {
  const all = loadsOf(plan);
  const chosen = pick(
    dice,
    all.filter(({ units }) => units.length > 1),
  );
  if (!chosen) return null;
  const leaves = pick(dice, chosen.units);
  const others = shuffled(
    dice,
    all.filter((load) => load !== chosen),
  ).slice(0, roll(dice, most));
  const pieces =
    dice() < 0.5
      ? chosen.units.map((unit) => [unit])
      : [chosen.units.filter((unit) => unit !== leaves), leaves === undefined ? [] : [leaves]];
  return {
    loads: [chosen, ...others],
    bundles: (removed) => {
      const rest = removed.filter((load) => load !== chosen);
      return shuffled(dice, [...pieces.filter((piece) => piece.length > 0), ...asTheyWere(rest)]);
    },
    placing: { noise: 0, dice },
  };
};

/** A row, not a table, so that how often each is tried is seen at once. */
const OPERATORS: readonly Operator[] = [
  someLoads,
  tankTail,
  tankTail,
  tankTail,
  window,
  costly,
  costly,
  costly,
  merge,
  split,
];

/** The next thing to try. */
export function nextTry(plan: Plan, dice: Dice, most: number): Try | null {
  return pick(dice, OPERATORS)?.(plan, dice, most) ?? null;
}

const isWaiting = (plan: Plan, load: PlanLoad): boolean =>
  load.units.every((unit) => plan.units.unit(unit).booked === null);

function isLate(plan: Plan, load: PlanLoad): boolean {
  return load.units.some((unit) =>
    plan.units
      .unit(unit)
      .jobs.some((job) => load.doneMs > (plan.units.jobs[job]?.dueMs ?? load.doneMs)),
  );
}

/** Two places of a list exchanged, or one thing of it put elsewhere. */
function perturbed(dice: Dice, bundles: readonly Bundle[]): Bundle[] {
  const result = [...bundles];
  if (result.length < 2) return result;
  const [moved] = result.splice(roll(dice, result.length), 1);
  const to = roll(dice, result.length + 1);
  if (!moved) return result;
  if (dice() < 0.5 || to === result.length) result.splice(to, 0, moved);
  else {
    const [other] = result.splice(to, 1, moved);
    if (other) result.splice(roll(dice, result.length + 1), 0, other);
  }
  return result;
}
