import type { TankRow } from "@/lib/data";
import { type Board, type Improvement, improveSchedule } from "@/lib/scheduling";
import type { BoardProposal } from "./propose";
import type { Problem } from "./problem";
import { sharingOf } from "./share";

/** What a thread is asked that looks for a better board. */
export type ImproveAsk = {
  readonly problem: Problem;
  readonly tanks: readonly TankRow[];
  readonly budgetMs: number;
  readonly seed: number;
};

export type ImproveAnswer = { readonly improvement: Improvement } & Pick<
  BoardProposal,
  "bound" | "proven"
>;

/** Looks for a better board, with whatever a thread was given. */
export function improveInThread(
  { problem, tanks, budgetMs, seed }: ImproveAsk,
  onProgress: (share: number) => void,
): ImproveAnswer {
  const board: Board = { ...problem.board, share: sharingOf(problem.dips, tanks) };
  const improvement = improveSchedule(board, problem.loads, {
    seed,
    budgetMs,
    now: () => performance.now(),
    onProgress,
  });
  return { improvement, bound: { weightedTardinessH: 0, makespanH: 0 }, proven: "NOT_PROVEN" };
}
