import type { TankRow } from "@/lib/data";
import {
  type Board,
  type BoardLoad,
  compareScores,
  type Improved,
  improveSchedule,
  type LowerBound,
  lowerBound,
  movesBetween,
  solveExactly,
} from "@/lib/scheduling";
import { loadSolver } from "@/lib/scheduling/solver";
import type { Problem } from "./problem";
import { sharingOf } from "./share";

/** Boards of up to so many dips are small enough to prove what is best; more would take minutes. */
const PROVABLE_DIPS = 10;
const PROOF_S = 8;

/** What a thread is asked that looks for a better board. */
export type ImproveAsk = {
  readonly problem: Problem;
  readonly tanks: readonly TankRow[];
  readonly budgetMs: number;
  readonly seed: number;
};

/** What is known of a board beside itself. */
export type Proof = {
  /** no board that places everything can be better than this, h */
  readonly bound: Pick<LowerBound, "weightedTardinessH" | "makespanH">;
  /** whether there is no better board than the one proposed */
  readonly proven: "OPTIMAL" | "NOT_PROVEN";
};

export type ImproveAnswer = { readonly improved: Improved } & Proof;

/** Looks for a better board, with whatever a thread was given, and for a proof where the board is small. */
export async function improveInThread(
  { problem, tanks, budgetMs, seed }: ImproveAsk,
  onProgress: (share: number) => void,
): Promise<ImproveAnswer> {
  const board: Board = { ...problem.board, share: sharingOf(problem.dips, tanks) };
  const improved = improveSchedule(board, problem.loads, {
    seed,
    budgetMs,
    now: () => performance.now(),
    onProgress: ({ elapsedMs }) => {
      onProgress(Math.min(1, elapsedMs / budgetMs));
    },
  });
  const onStep = problem.loads.every(({ startsAtMs }) => startsAtMs % board.stepMs === 0);
  if (board.dips.length <= PROVABLE_DIPS && onStep && improved.score.unplaced === 0) {
    return proven(board, problem.loads, improved);
  }
  return { improved, bound: lowerBound(board, problem.loads), proven: "NOT_PROVEN" };
}

async function proven(
  board: Board,
  current: readonly BoardLoad[],
  improved: Improved,
): Promise<ImproveAnswer> {
  const solver = await loadSolver();
  const exact = solveExactly(board, { timeLimitS: PROOF_S, solver, current });
  const { bound, status, schedule, score } = exact;
  // Of two that are equally good, the search's moves fewer loads.
  const isBetter = compareScores(score, improved.score) < 0;
  const best = isBetter
    ? { ...improved, schedule, score, moves: movesBetween(current, schedule) }
    : improved;
  const isOptimal = status === "OPTIMAL" && compareScores(best.score, score) <= 0;
  return { improved: best, bound, proven: isOptimal ? "OPTIMAL" : "NOT_PROVEN" };
}
