import { leastAssignment } from "./assignment";
import type { Board, BoardLoad } from "./board";
import { Units } from "./units";
import { apart, type Work, worksOf } from "./work";

const MS_PER_HOUR = 3_600_000;

/** What no schedule can do without. */
export type BoundKind =
  /** nothing has to be done, or nothing has to be late */
  | "NONE"
  /** one dip from now: its hours, and the nights that it has to wait */
  | "LONGEST"
  /** one dip that comes in late, or follows another end */
  | "RELEASE"
  /** hours of tanks */
  | "TANKS"
  /** ampere-hours of supplies */
  | "ENERGY"
  /** hours of hands */
  | "HANDS"
  /** each job alone is late already */
  | "ALONE"
  /** so many jobs cannot all be done by then, whichever comes first */
  | "QUEUE";

export type LowerBound = {
  /** h from now; no schedule that places everything ends earlier */
  readonly makespanH: number;
  readonly makespanBy: BoundKind;
  /** no schedule has less Σ weight · hours late */
  readonly weightedTardinessH: number;
  readonly tardinessBy: BoundKind;
};

/** How often two units are asked whether they may share: a packing may stand behind each answer. */
const ASKS = 20_000;

/**
 * What no schedule of a board can be better than.
 *
 * Makespan: the largest of each dip alone among what is held, of the work that only these tanks, supplies or hands can
 * do, counted from the earliest of its releases to the shortest of its tails (as Carlier 1982 bounds one machine by
 * r + Σp + q, from memory). Lateness: each job alone, or, when jobs cannot all come first, the cheapest assignment of
 * jobs to the earliest instants by which one, two, three … of them can be done.
 *
 * Rests on a load asking for no fewer hours and amperes than each of its dips would alone in the same tank.
 *
 * @param current booked loads that may be moved
 * @example lowerBound(board).makespanBy // "TANKS"
 */
export function lowerBound(board: Board, current: readonly BoardLoad[] = []): LowerBound {
  const units = new Units(board, current);
  const works = worksOf(units).filter((work) => work !== null);
  const alone = apart(units, works, ASKS);
  const [makespanMs, makespanBy] = largest([
    ...works.map((work) => oneDip(units, work)),
    ...tankSets(board).flatMap((tanks) => tankWork(units, alone, tanks)),
    handWork(units, alone),
  ]);
  const [lateMs, tardinessBy] = lateness(units, works, alone);
  return {
    makespanH: Math.max(0, makespanMs - board.nowMs) / MS_PER_HOUR,
    makespanBy,
    weightedTardinessH: lateMs / MS_PER_HOUR,
    tardinessBy,
  };
}

type Bound = readonly [atMs: number, by: BoundKind];

const largest = (bounds: readonly Bound[]): Bound =>
  bounds.reduce<Bound>((a, b) => (b[0] > a[0] ? b : a), [0, "NONE"]);

const doneMs = (units: Units, { outStep, tailMs }: Work): number => outMs(units, outStep) + tailMs;

/** Ends on steps are rounded up, pulls are not: what is out by a step may have been out almost a step before. */
function outMs({ board, timeline }: Units, outStep: number): number {
  const pullMs = board.pullMinutes * 60_000;
  const pullSteps = Math.ceil(pullMs / board.stepMs - 1e-9);
  return timeline.msOf(outStep - pullSteps) + pullMs;
}

function oneDip(units: Units, work: Work): Bound {
  const first = units.timeline.stepAt(units.board.nowMs);
  const comesLate = work.unit.releaseStep > first || work.unit.before.length > 0;
  return [doneMs(units, work), comesLate ? "RELEASE" : "LONGEST"];
}

/** All tanks, those of each supply, and each alone: what fits nowhere else has to be done there. */
function tankSets({ tanks, supplies }: Board): readonly (readonly number[])[] {
  const all = tanks.map((_, index) => index);
  const bySupply = supplies.map(({ id }) => all.filter((index) => tanks[index]?.supplyId === id));
  return [all, ...bySupply, ...all.map((index) => [index])];
}

function tankWork(units: Units, works: readonly Work[], tanks: readonly number[]): Bound[] {
  const own = works.filter((work) => work.tanks.every((tank) => tanks.includes(tank)));
  if (own.length === 0) return [];
  const { timeline, board } = units;
  const isOfSupply = new Set<string>();
  const onePerSupply = tanks.filter((tank) => {
    const supplyId = board.tanks[tank]?.supplyId ?? "";
    return !isOfSupply.has(supplyId) && isOfSupply.add(supplyId);
  });
  const freeTanks = (step: number): number =>
    tanks.reduce((sum, tank) => sum + (timeline.isFree(tank, step) ? 1 : 0), 0);
  const freeCharge = (step: number): number =>
    onePerSupply.reduce((sum, tank) => sum + timeline.freeMilliamperes(tank, step), 0);
  return [
    ...headsAndTails(units, own, freeTanks, ({ tankSteps }) => tankSteps, "TANKS"),
    ...headsAndTails(units, own, freeCharge, ({ chargeSteps }) => chargeSteps, "ENERGY"),
  ];
}

/** Different releases and tails that are looked at: enough for a week's orders. */
const CUTS = 8;

/** For works released no earlier and finished no faster than some: the first of their releases, all, the least tail. */
function headsAndTails(
  units: Units,
  works: readonly Work[],
  capacity: (step: number) => number,
  amount: (work: Work) => number,
  by: BoundKind,
): Bound[] {
  const bounds: Bound[] = [];
  for (const release of cuts(works.map(({ unit }) => unit.releaseStep))) {
    const late = works.filter(({ unit }) => unit.releaseStep >= release);
    const profile = profileFrom(units, capacity, release);
    for (const tail of cuts(late.map(({ tailMs }) => tailMs))) {
      const own = late.filter(({ tailMs }) => tailMs >= tail);
      const sum = own.reduce((total, work) => total + amount(work), 0);
      bounds.push([outMs(units, stepOf(profile, sum)) + tail, by]);
    }
  }
  return bounds;
}

function cuts(values: readonly number[]): readonly number[] {
  const distinct = [...new Set(values)].sort((a, b) => a - b);
  const every = Math.max(1, Math.ceil(distinct.length / CUTS));
  return distinct.filter((_, index) => index % every === 0);
}

/** By step, what the capacity from a step on has come to by its beginning; nothing begins before hands are there. */
function profileFrom(
  { timeline }: Units,
  capacity: (step: number) => number,
  release: number,
): Float64Array {
  const sums = new Float64Array(timeline.steps + 1);
  let isBegun = false;
  for (let step = 0; step < timeline.steps; step += 1) {
    isBegun ||= step >= release && timeline.freeHands(step) > 0;
    sums[step + 1] = (sums[step] ?? 0) + (isBegun ? capacity(step) : 0);
  }
  return sums;
}

/** The first step by whose beginning so much has been done; the horizon when it never is. */
function stepOf(profile: Float64Array, amount: number): number {
  let low = 0;
  let high = profile.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((profile[middle] ?? 0) >= amount - 1e-6) high = middle;
    else low = middle + 1;
  }
  return low;
}

function handWork(units: Units, works: readonly Work[]): Bound {
  if (works.length === 0) return [0, "NONE"];
  const { timeline } = units;
  const release = Math.min(...works.map(({ unit }) => unit.releaseStep));
  const profile = profileFrom(units, (step) => timeline.freeHands(step), release);
  const sum = works.reduce((total, { handSteps }) => total + handSteps, 0);
  // The last step of hands may reach past what it finishes: it counts from its beginning.
  return [timeline.msOf(Math.max(0, stepOf(profile, sum) - 1)), "HANDS"];
}

/** Σ weight · ms late. */
function lateness(units: Units, works: readonly Work[], alone: readonly Work[]): Bound {
  const { jobs, timeline, board } = units;
  const earliest = jobs.map(({ heldUntilMs }) => heldUntilMs ?? 0);
  for (const work of works) {
    for (const job of work.unit.jobs) {
      earliest[job] = Math.max(earliest[job] ?? 0, doneMs(units, work));
    }
  }
  const lateIf = (job: number, atMs: number): number => {
    const own = jobs[job];
    if (!own || own.dueMs === Number.POSITIVE_INFINITY) return 0;
    return own.weight * Math.max(0, Math.max(atMs, earliest[job] ?? 0) - own.dueMs);
  };
  const byItself = jobs.reduce((sum, _, job) => sum + lateIf(job, 0), 0);
  const steps = jobs.map((_, job) =>
    alone
      .filter(({ unit }) => unit.jobs.length === 1 && unit.jobs[0] === job)
      .reduce((sum, { tankSteps }) => sum + tankSteps, 0),
  );
  const queued = jobs.flatMap((_, job) => ((steps[job] ?? 0) > 0 ? [job] : []));
  const all = board.tanks.map((_, index) => index);
  const freeTanks = (step: number): number =>
    all.reduce((sum, tank) => sum + (timeline.isFree(tank, step) ? 1 : 0), 0);
  const profile = profileFrom(units, freeTanks, 0);
  let sum = 0;
  const instants = [...queued]
    .map((job) => steps[job] ?? 0)
    .sort((a, b) => a - b)
    .map((own) => {
      sum += own;
      return outMs(units, stepOf(profile, sum));
    });
  const rest = jobs.reduce(
    (total, _, job) => total + (queued.includes(job) ? 0 : lateIf(job, 0)),
    0,
  );
  const inTurn =
    rest + leastAssignment(queued.map((job) => instants.map((atMs) => lateIf(job, atMs))));
  if (byItself <= 0 && inTurn <= 1e-6) return [0, "NONE"];
  return inTurn > byItself * (1 + 1e-9) ? [inTurn, "QUEUE"] : [byItself, "ALONE"];
}
