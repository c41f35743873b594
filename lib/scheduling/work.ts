import type { Unit, Units } from "./units";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** The least that a unit takes, in whichever tank, alone. */
export type Work = {
  readonly unit: Unit;
  readonly tanks: readonly number[];
  /** steps that a tank is held */
  readonly tankSteps: number;
  /** steps of a pair of hands */
  readonly handSteps: number;
  /** mA · steps of a supply */
  readonly chargeSteps: number;
  /** the first step by which it can be out of its tank, nothing else moving */
  readonly outStep: number;
  /** ms on the bench after that */
  readonly tailMs: number;
};

/** The least work of every unit that fits a tank at all, with what is held on the board and nothing else. */
export function worksOf(units: Units): readonly (Work | null)[] {
  const works: (Work | null)[] = [];
  const find = (index: number): Work | null => {
    const known = works[index];
    if (known !== undefined) return known;
    works[index] = null; // an end that waits for itself through others never goes in
    const unit = units.unit(index);
    const firsts = unit.before.map(find);
    const isStuck = firsts.includes(null);
    const fromStep = Math.max(unit.releaseStep, ...firsts.map((first) => first?.outStep ?? 0));
    const work = isStuck ? null : workOf(units, unit, fromStep);
    works[index] = work;
    return work;
  };
  return units.units.map(({ index }) => find(index));
}

function workOf(units: Units, unit: Unit, fromStep: number): Work | null {
  const { board, timeline } = units;
  const loadMs = board.loadMinutes * MS_PER_MINUTE;
  const pullMs = board.pullMinutes * MS_PER_MINUTE;
  const least = {
    tankSteps: Number.POSITIVE_INFINITY,
    chargeSteps: Number.POSITIVE_INFINITY,
    outStep: Number.POSITIVE_INFINITY,
  };
  const tanks: number[] = [];
  let handSteps = 0;
  for (let tank = 0; tank < timeline.tankIds.length; tank += 1) {
    const needs = units.needsOf([unit.index], tank);
    const stretch = needs && timeline.earliest(tank, needs, unit.benchMinutes, fromStep);
    if (!stretch) continue;
    tanks.push(tank);
    const treatSteps = Math.ceil((loadMs + needs.hours * MS_PER_HOUR) / board.stepMs - 1e-9);
    const tankSteps = treatSteps + Math.ceil(pullMs / board.stepMs - 1e-9);
    least.tankSteps = Math.min(least.tankSteps, tankSteps);
    least.chargeSteps = Math.min(least.chargeSteps, tankSteps * stretch.milliamperes);
    least.outStep = Math.min(least.outStep, stretch.endStep);
    handSteps = stretch.loadSteps + stretch.attendedSteps;
  }
  if (tanks.length === 0) return null;
  if (isBetweenSteps(units, unit)) {
    // Where it was booked it may end within a step, and share the first and the last with its neighbours.
    const outStep = units.timeline.stepAt(unit.booked?.endsAtMs ?? 0) - 1;
    least.outStep = Math.min(least.outStep - 1, outStep);
    least.tankSteps = Math.max(0, least.tankSteps - 2);
    least.chargeSteps = (least.chargeSteps * least.tankSteps) / (least.tankSteps + 2);
    handSteps = Math.max(0, handSteps - 4);
  }
  return { unit, tanks, handSteps, tailMs: unit.benchMinutes * MS_PER_MINUTE, ...least };
}

function isBetweenSteps({ board }: Units, { booked }: Unit): boolean {
  const isBetween = (atMs: number): boolean => atMs % board.stepMs !== 0;
  return booked !== null && (isBetween(booked.startsAtMs) || isBetween(booked.pullAtMs));
}

/**
 * Works of which no two can ever be in one load, so that each takes its own time of a tank. The largest come first.
 * Whether two may share is asked at most `asks` times; after that they are taken to.
 */
export function apart(units: Units, works: readonly Work[], asks: number): readonly Work[] {
  let left = asks;
  const mayShare = (a: Work, b: Work): boolean =>
    a.tanks.some((tank) => {
      if (!b.tanks.includes(tank)) return false;
      left -= 1;
      return left < 0 || units.needsOf([a.unit.index, b.unit.index], tank) !== null;
    });
  const chosen: Work[] = [];
  for (const work of [...works].sort((a, b) => b.tankSteps - a.tankSteps)) {
    if (!chosen.some((other) => mayShare(other, work))) chosen.push(work);
  }
  return chosen;
}
