import { type Column, type Columns, latenessH } from "./exact-columns";
import { Mip } from "./mip";
import type { Units } from "./units";

const MS_PER_HOUR = 3_600_000;
const PER_AMPERE = 1000;

/** What the model is to find. */
export type Goal =
  /** least Σ weight · hours late */
  | { readonly kind: "LATENESS" }
  /** the earliest end of those whose lateness is no more than so many weighted hours */
  | { readonly kind: "MAKESPAN"; readonly latenessH: number };

/** A step at which something changes by some amount. */
type Event = readonly [step: number, variable: number, by: number];

/**
 * The time-indexed model of columns: each unit goes in once; tanks, supplies and hands hold what they can at each step
 * at which anything changes.
 *
 * What is in a tank is a variable of its own, carried on from step to step, so that each column stands in a few rows
 * and not in one for every step it lasts (variables by start: Sousa and Wolsey 1992, from memory).
 *
 * @param members the units that the columns are of
 */
export function modelOf(
  units: Units,
  members: readonly number[],
  { groups, columns }: Columns,
  goal: Goal,
): Mip {
  const mip = new Mip();
  const sole = soleUnits(units);
  const columnsWith = (unit: number): [Column, number][] =>
    columns.flatMap((column, index) =>
      groups[column.group]?.units.includes(unit) ? [[column, index] as [Column, number]] : [],
    );
  const cost = (column: Column): number =>
    column.pullStep === null
      ? 0
      : (groups[column.group]?.units ?? []).reduce(
          (sum, unit) =>
            sum +
            (sole.get(unit) ?? []).reduce((late, job) => late + lateIf(units, job, column), 0),
          0,
        );
  const costs = columns.map(cost);
  for (const own of costs) mip.choice(goal.kind === "LATENESS" ? own : 0);
  const lateness: [number, number][] = costs.flatMap((own, index) =>
    own > 0 ? [[index, own] as [number, number]] : [],
  );
  for (const unit of members) {
    const starts = columnsWith(unit).filter(([{ startStep }]) => startStep !== null);
    mip.row(
      1,
      1,
      starts.map(([, index]) => [index, 1]),
    );
  }
  lateness.push(...lateJobs(mip, units, members, sole, columnsWith, goal));
  addTanks(mip, units, { groups, columns });
  addSupplies(mip, units, { groups, columns });
  addHands(mip, units, columns);
  addPulls(mip, { groups, columns });
  addOrder(mip, units, members, columnsWith);
  if (goal.kind === "MAKESPAN") addMakespan(mip, units, members, columnsWith, lateness, goal);
  return mip;
}

/** Weighted hours that a job is late when a column is the last of it. */
function lateIf(units: Units, job: number, { doneMs }: Column): number {
  const own = units.jobs[job];
  return own ? latenessH(Math.max(doneMs, own.heldUntilMs ?? 0), own.dueMs, own.weight) : 0;
}

/** By unit, the jobs that are done with it and never later. */
function soleUnits({ units, jobs }: Units): ReadonlyMap<number, readonly number[]> {
  const sole = new Map<number, number[]>();
  for (let job = 0; job < jobs.length; job += 1) {
    const own = units.filter((unit) => unit.jobs.includes(job));
    const last = own.find((unit) =>
      own.every(
        (other) =>
          other === unit ||
          // The first end is off the bench by the time that the second is, where it takes no longer there.
          (unit.before.includes(other.index) && other.benchMinutes <= unit.benchMinutes),
      ),
    );
    if (last) sole.set(last.index, [...(sole.get(last.index) ?? []), job]);
  }
  return sole;
}

type ColumnsWith = (unit: number) => readonly [Column, number][];

/** Jobs whose last unit is not known beforehand have their lateness as a variable. */
function lateJobs(
  mip: Mip,
  units: Units,
  members: readonly number[],
  sole: ReadonlyMap<number, readonly number[]>,
  columnsWith: ColumnsWith,
  goal: Goal,
): [number, number][] {
  const known = new Set([...sole.values()].flat());
  const terms: [number, number][] = [];
  for (let job = 0; job < units.jobs.length; job += 1) {
    const own = members.filter((unit) => units.unit(unit).jobs.includes(job));
    if (known.has(job) || own.length === 0) continue;
    const late = mip.amount(goal.kind === "LATENESS" ? 1 : 0, 0, Number.POSITIVE_INFINITY);
    terms.push([late, 1]);
    for (const unit of own) {
      const pulls = columnsWith(unit).filter(([{ pullStep }]) => pullStep !== null);
      mip.row(0, Number.POSITIVE_INFINITY, [
        [late, 1],
        ...pulls.map(([column, index]) => [index, -lateIf(units, job, column)] as const),
      ]);
    }
  }
  return terms;
}

/**
 * A level that events raise and lower, at every step at which one does; it never falls below 0.
 * @param most the highest level allowed from a step up to another
 */
function addLevel(
  mip: Mip,
  events: readonly Event[],
  most: (from: number, until: number) => number,
): void {
  const bySteps = new Map<number, [number, number][]>();
  for (const [step, variable, by] of events) {
    const there = bySteps.get(step) ?? [];
    there.push([variable, -by]);
    bySteps.set(step, there);
  }
  const steps = [...bySteps.keys()].sort((a, b) => a - b);
  let before: number | null = null;
  for (const [index, step] of steps.entries()) {
    const level = mip.amount(0, 0, most(step, steps[index + 1] ?? step + 1));
    const carried: [number, number][] = before === null ? [] : [[before, -1]];
    mip.row(0, 0, [[level, 1], ...carried, ...(bySteps.get(step) ?? [])]);
    before = level;
  }
}

const leastOf = (from: number, until: number, of: (step: number) => number): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let step = from; step < until; step += 1) least = Math.min(least, of(step));
  return least;
};

/** In at the start, out at the end. */
function stays(columns: readonly Column[], by: (column: Column) => number): Event[] {
  return columns.flatMap((column, index): Event[] => [
    ...(column.startStep === null ? [] : [[column.startStep, index, by(column)] as const]),
    ...(column.pullStep === null ? [] : [[column.endStep, index, -by(column)] as const]),
  ]);
}

function addTanks(mip: Mip, { timeline }: Units, { groups, columns }: Columns): void {
  for (let tank = 0; tank < timeline.tankIds.length; tank += 1) {
    const events = stays(columns, ({ group }) => (groups[group]?.tank === tank ? 1 : 0));
    addLevel(
      mip,
      events.filter(([, , by]) => by !== 0),
      (from, until) =>
        leastOf(from, until, (step) =>
          timeline.isFree(tank, step) || step >= timeline.steps ? 1 : 0,
        ),
    );
  }
}

function addSupplies(mip: Mip, { timeline, board }: Units, { groups, columns }: Columns): void {
  for (const { id } of board.supplies) {
    const first = board.tanks.findIndex(({ supplyId }) => supplyId === id);
    if (first < 0) continue;
    const draws = ({ group }: Column): number => {
      const own = groups[group];
      return own && board.tanks[own.tank]?.supplyId === id ? own.milliamperes / PER_AMPERE : 0;
    };
    addLevel(
      mip,
      stays(columns, draws).filter(([, , by]) => by !== 0),
      (from, until) =>
        leastOf(from, Math.min(until, timeline.steps), (step) =>
          timeline.freeMilliamperes(first, step),
        ) / PER_AMPERE,
    );
  }
}

/** Nothing to say where each unit could have hands of its own. */
function addHands(mip: Mip, { timeline, board, units }: Units, columns: readonly Column[]): void {
  if (board.hands >= units.length + board.held.length) return;
  const events = columns.flatMap((column, index): Event[] => [
    ...busy(column.startStep, column.loadSteps, index),
    ...busy(column.pullStep, column.attendedSteps, index),
  ]);
  addLevel(mip, events, (from, until) => {
    const left = leastOf(from, until, (step) =>
      timeline.freeHands(step) > 0 ? timeline.freeHands(step) : Number.POSITIVE_INFINITY,
    );
    return Math.min(left, board.hands);
  });
}

const busy = (step: number | null, lasts: number, variable: number): Event[] =>
  step === null || lasts === 0
    ? []
    : [
        [step, variable, 1],
        [step + lasts, variable, -1],
      ];

/** What is ready in a tank is pulled then or later, and everything that went in is. */
function addPulls(mip: Mip, { groups, columns }: Columns): void {
  const all = groups.map((): Event[] => []);
  for (const [index, column] of columns.entries()) {
    if (column.startStep !== null && column.pullStep !== null) continue;
    all[column.group]?.push([column.readyStep, index, column.startStep === null ? -1 : 1]);
  }
  for (const events of all) {
    if (events.length === 0) continue;
    addLevel(mip, events, () => 1);
    mip.row(
      0,
      0,
      events.map(([, variable, by]) => [variable, by]),
    );
  }
}

/** The second end of a part goes in when the first is out. */
function addOrder(
  mip: Mip,
  units: Units,
  members: readonly number[],
  columnsWith: ColumnsWith,
): void {
  for (const second of members) {
    for (const first of units.unit(second).before) {
      if (!members.includes(first)) continue;
      const out = columnsWith(first).flatMap(([{ pullStep, endStep }, index]): Event[] =>
        pullStep === null ? [] : [[endStep, index, 1]],
      );
      const into = columnsWith(second).flatMap(([{ startStep }, index]): Event[] =>
        startStep === null ? [] : [[startStep, index, -1]],
      );
      addLevel(mip, [...out, ...into], () => 1);
    }
  }
}

function addMakespan(
  mip: Mip,
  units: Units,
  members: readonly number[],
  columnsWith: ColumnsWith,
  lateness: readonly [number, number][],
  goal: Extract<Goal, { kind: "MAKESPAN" }>,
): void {
  const { nowMs } = units.board;
  const last = mip.amount(1, 0, Number.POSITIVE_INFINITY);
  for (const unit of members) {
    const pulls = columnsWith(unit).filter(([{ pullStep }]) => pullStep !== null);
    mip.row(0, Number.POSITIVE_INFINITY, [
      [last, 1],
      ...pulls.map(([{ doneMs }, index]) => [index, (nowMs - doneMs) / MS_PER_HOUR] as const),
    ]);
  }
  mip.row(Number.NEGATIVE_INFINITY, goal.latenessH, lateness);
}
