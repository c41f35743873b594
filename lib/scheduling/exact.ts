import type { Board, BoardLoad, Schedule, Score } from "./board";
import { lowerBound } from "./bound";
import { type Column, type Columns, columnsOf, latenessH, type Windows } from "./exact-columns";
import { type Goal, modelOf } from "./exact-model";
import { improveSchedule } from "./improve";
import type { MipSolver } from "./mip";
import { compareScores, scoreOf } from "./place";
import { EXACT, repair } from "./repair";
import { Plan, type PlanLoad } from "./plan";
import { Units } from "./units";

const MS_PER_HOUR = 3_600_000;
/** A smaller gain than this is rounding, h. */
const GAIN_H = 1e-3;

export type ExactOptions = {
  /** for both solves together, s; each has half */
  readonly timeLimitS: number;
  readonly solver: MipSolver;
  /** booked loads that may be moved, on steps; none when left out */
  readonly current?: readonly BoardLoad[];
  /** columns of the model; more are too many. 60 000 when left out */
  readonly mostColumns?: number;
  /** changes that the search tries first, so that only what is better needs a look; 3000 when left out */
  readonly searchTries?: number;
};

export type Exact = {
  /** proven best; the best found in time; or not even tried */
  readonly status: "OPTIMAL" | "FOUND" | "TOO_LARGE";
  readonly schedule: Schedule;
  readonly score: Score;
  /** no schedule that places everything is less late, or, at that lateness, ends earlier */
  readonly bound: Pick<Score, "weightedTardinessH" | "makespanH">;
};

/**
 * The best schedule there is, proven: least weighted lateness first, then the earliest end, each by a time-indexed
 * model on the board's steps, the grid of the search. Only what would be better than what the search finds is looked for; that there is none is the proof.
 *
 * @throws whatever the solver throws
 * @example (await solveExactly(board, { timeLimitS: 60, solver: await loadSolver() })).status // "OPTIMAL"
 */
export function solveExactly(board: Board, options: ExactOptions): Exact {
  const current = options.current ?? [];
  const units = new Units(board, current);
  const first = improveSchedule(board, current, {
    seed: 1,
    now: () => 0,
    budgetMs: 1,
    maxTries: options.searchTries ?? 3000,
  });
  const state: State = {
    units,
    best: first.schedule,
    score: first.score,
    bound: { ...lowerBound(board, current) },
    options,
  };
  if (first.score.unplaced > 0) return resultOf(state, "FOUND");
  const late = provenLate(state);
  if (late !== "PROVEN") return resultOf(state, late);
  const end = provenEnd(state);
  return resultOf(state, end === "PROVEN" ? "OPTIMAL" : end);
}

type State = {
  readonly units: Units;
  best: Schedule;
  score: Score;
  bound: { weightedTardinessH: number; makespanH: number };
  readonly options: ExactOptions;
};

type Outcome = "PROVEN" | "FOUND" | "TOO_LARGE";

const resultOf = ({ best, score, bound }: State, status: Exact["status"]): Exact => ({
  status,
  schedule: best,
  score,
  bound: {
    weightedTardinessH: Math.min(bound.weightedTardinessH, score.weightedTardinessH),
    makespanH: Math.min(bound.makespanH, score.makespanH),
  },
});

/** Is nothing less late than the best? Where something is, it becomes the best. */
function provenLate(state: State): Outcome {
  const { units, score, bound } = state;
  if (score.weightedTardinessH <= bound.weightedTardinessH + GAIN_H) return "PROVEN";
  const windows = windowsFor(units, score.weightedTardinessH, Number.POSITIVE_INFINITY);
  // What nobody waits for cannot make anything less late: it is put on afterwards.
  const isAsked = units.units.map(
    (unit) =>
      unit.booked !== null ||
      unit.after.length > 0 ||
      unit.jobs.some((job) => (units.jobs[job]?.dueMs ?? 0) < Number.POSITIVE_INFINITY),
  );
  const narrowed = windows.map((until, unit) =>
    isAsked[unit] === true ? until : Number.NEGATIVE_INFINITY,
  );
  const answer = solve(state, narrowed, { kind: "LATENESS" }, score.weightedTardinessH);
  if (typeof answer === "string") {
    if (answer === "PROVEN") bound.weightedTardinessH = score.weightedTardinessH;
    return answer;
  }
  bound.weightedTardinessH = Math.max(bound.weightedTardinessH, answer.bound);
  take(state, answer.loads);
  const isReached = state.score.weightedTardinessH <= answer.bound + GAIN_H;
  return answer.isOptimal && isReached ? "PROVEN" : "FOUND";
}

/** Does nothing that is as little late end earlier? */
function provenEnd(state: State): Outcome {
  const { units, score, bound } = state;
  if (score.makespanH <= bound.makespanH + GAIN_H) return "PROVEN";
  const lastMs = units.board.nowMs + (score.makespanH - GAIN_H) * MS_PER_HOUR;
  const windows = windowsFor(units, score.weightedTardinessH, lastMs);
  const goal = { kind: "MAKESPAN", latenessH: lateRoom(units, score) } as const;
  const answer = solve(state, windows, goal, score.makespanH);
  if (typeof answer === "string") {
    if (answer === "PROVEN") bound.makespanH = score.makespanH;
    return answer;
  }
  bound.makespanH = Math.max(bound.makespanH, answer.bound);
  take(state, answer.loads);
  return answer.isOptimal ? "PROVEN" : "FOUND";
}

/** What the model's own lateness may come to: what is late of jobs that only run is none of its business. */
const lateRoom = (units: Units, { weightedTardinessH }: Score): number =>
  weightedTardinessH - heldLateH(units) + GAIN_H / 10;

function heldLateH({ units, jobs }: Units): number {
  const asked = new Set(units.flatMap((unit) => unit.jobs));
  return jobs.reduce((sum, { heldUntilMs, dueMs, weight }, job) => {
    const isOver = heldUntilMs !== null && !asked.has(job);
    return sum + (isOver ? latenessH(heldUntilMs, dueMs, weight) : 0);
  }, 0);
}

/** By unit, when it has to be done for all lateness together to stay within some weighted hours, epoch ms. */
function windowsFor(units: Units, lateH: number, lastMs: number): Windows {
  const { board, jobs } = units;
  const horizonMs = Math.min(lastMs, board.horizonMs + MS_PER_HOUR * 24);
  return units.units.map((unit) =>
    unit.jobs.reduce((until, job) => {
      const own = jobs[job];
      if (!own || own.dueMs === Number.POSITIVE_INFINITY || own.weight <= 0) return until;
      return Math.min(until, own.dueMs + (lateH / own.weight) * MS_PER_HOUR + 1);
    }, horizonMs),
  );
}

type Answer = {
  readonly loads: readonly PlanLoad[];
  readonly bound: number;
  readonly isOptimal: boolean;
};

/** The model's answer; "PROVEN" when nothing is better than `toBeat`, h. */
function solve(state: State, windows: Windows, goal: Goal, toBeat: number): Answer | Outcome {
  const { units, options } = state;
  const columns = columnsOf(units, windows, options.mostColumns ?? 60_000);
  if (!columns) return "TOO_LARGE";
  const members = units.units
    .map(({ index }) => index)
    .filter((unit) => windows[unit] !== Number.NEGATIVE_INFINITY);
  const mip = modelOf(units, members, columns, goal);
  const constH = goal.kind === "LATENESS" ? heldLateH(units) : 0;
  // Anything no better than what is known is left out: often nothing is left, which is all that has to be shown.
  const objective = mip.costs.flatMap((cost, index) =>
    cost === 0 ? [] : [[index, cost] as const],
  );
  mip.row(Number.NEGATIVE_INFINITY, toBeat - constH - GAIN_H, objective);
  const { status, values, bound } = options.solver(mip, options.timeLimitS / 2);
  if (status === "INFEASIBLE") return "PROVEN";
  if (!values) return "FOUND";
  return {
    loads: loadsOf(units, columns, values),
    bound: bound + constH,
    isOptimal: status === "OPTIMAL",
  };
}

function loadsOf(
  units: Units,
  { groups, columns }: Columns,
  values: readonly number[],
): PlanLoad[] {
  const chosen = columns.filter((_, index) => (values[index] ?? 0) > 0.5);
  return chosen.flatMap((start): PlanLoad[] => {
    const group = groups[start.group];
    const pull = chosen.find(
      (column: Column) => column.group === start.group && column.pullStep !== null,
    );
    if (start.startStep === null || !group || !pull || pull.pullStep === null) return [];
    const { startStep, loadSteps } = start;
    const { pullStep, endStep, attendedSteps } = pull;
    const { tank, milliamperes } = group;
    const stretch = { tank, startStep, loadSteps, pullStep, endStep, attendedSteps, milliamperes };
    return [
      { units: group.units, needs: group.needs, stretch, doneMs: pull.doneMs, isHome: false },
    ];
  });
}

/** Puts what the model left out round what it placed; the result is kept where it is better. */
function take(state: State, loads: readonly PlanLoad[]): void {
  const plan = new Plan(state.units);
  for (const load of loads) plan.add(load);
  repair(
    plan,
    plan.unplaced().map((unit) => [unit]),
    EXACT,
  );
  const schedule = plan.schedule();
  const score = scoreOf(state.units.board, schedule);
  if (compareScores(score, state.score) >= 0) return;
  state.best = schedule;
  state.score = score;
}
