/** Moves of this session, and what takes the last one back. Pure. */
import type { RunPlace } from "./moving";

/** A move that was written. */
export type Done = {
  readonly runId: string;
  readonly number: number;
  readonly before: RunPlace;
  readonly after: RunPlace;
  /** the run's own count of changes after it */
  readonly sequence: number;
};

/** A move as it is sent; epoch ms. */
export type Back = {
  readonly runId: string;
  readonly tankId: string;
  readonly startsAt: number;
  readonly endsAt: number;
  readonly sequence: number;
};

type OnBoard = RunPlace & { readonly sequence: number };

/**
 * The move that takes one back.
 *
 * @param onBoard the run as it stands now; null when the board does not show it
 * @returns why not, in words, where somebody moved it on since
 */
export function backOf(
  { runId, number, before, after, sequence }: Done,
  onBoard: OnBoard | null,
): Back | string {
  if (onBoard && !samePlace(onBoard, after)) {
    return `Run ${number} was moved on by somebody since. It stays where it is.`;
  }
  return {
    runId,
    tankId: before.tankId,
    startsAt: before.startsAtMs,
    endsAt: before.endsAtMs,
    // Being fixed or taken on counts as a change too, and is no reason to keep a run where it was put.
    sequence: onBoard?.sequence ?? sequence,
  };
}

const samePlace = (a: RunPlace, b: RunPlace): boolean =>
  a.tankId === b.tankId && a.startsAtMs === b.startsAtMs && a.endsAtMs === b.endsAtMs;

/** The moves that are left after the last was taken back: an earlier one of the same run has seen that change. */
export const afterUndo = (
  all: readonly Done[],
  back: Pick<Done, "runId" | "sequence">,
): readonly Done[] =>
  all
    .slice(0, -1)
    .map((one) => (one.runId === back.runId ? { ...one, sequence: back.sequence } : one));
