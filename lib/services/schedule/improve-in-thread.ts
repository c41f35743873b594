import type { TankRow } from "@/lib/data";
import { type Board, type Improved, improveSchedule } from "@/lib/scheduling";
import type { Problem } from "./problem";
import { sharingOf } from "./share";

/** What a thread is asked that looks for a better board. */
export type ImproveAsk = {
  readonly problem: Problem;
  readonly tanks: readonly TankRow[];
  readonly budgetMs: number;
  readonly seed: number;
};

/** What is known of a board beside itself. */
export type Proof = {
  /** no board can be better than this, h */
  readonly bound: { readonly weightedTardinessH: number; readonly makespanH: number };
  /** what was proven of the board that is proposed */
  readonly proven: "OPTIMAL" | "NOT_PROVEN";
};

export type ImproveAnswer = { readonly improved: Improved } & Proof;

/** Looks for a better board, with whatever a thread was given. */
export function improveInThread(
  { problem, tanks, budgetMs, seed }: ImproveAsk,
  onProgress: (share: number) => void,
): ImproveAnswer {
  const board: Board = { ...problem.board, share: sharingOf(problem.dips, tanks) };
  const improved = improveSchedule(board, problem.loads, {
    seed,
    budgetMs,
    now: () => performance.now(),
    onProgress: ({ elapsedMs }) => {
      onProgress(Math.min(1, elapsedMs / budgetMs));
    },
  });
  return { improved, bound: { weightedTardinessH: 0, makespanH: 0 }, proven: "NOT_PROVEN" };
}
