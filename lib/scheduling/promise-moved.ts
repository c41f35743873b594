import type { Board, BoardLoad } from "./board";
import type { MovedLoad } from "./promise-types";

/** When each job is done, as far as it is booked or held; epoch ms by job id. */
function jobsDone(board: Board, loads: Iterable<BoardLoad>): ReadonlyMap<string, number> {
  const jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobId]));
  const done = new Map(board.jobs.map(({ id, heldUntilMs }) => [id, heldUntilMs ?? 0]));
  for (const { dipIds, benchUntilMs } of loads) {
    for (const dip of dipIds) {
      const job = jobOf.get(dip);
      if (job !== undefined) done.set(job, Math.max(done.get(job) ?? 0, benchUntilMs));
    }
  }
  return done;
}

/**
 * The loads that differ, and the jobs in them that kept their promised day before and do not after.
 *
 * @param after the same loads by id, as they would be; loads of the new part may be among them
 */
export function movedBetween(
  board: Board,
  before: readonly BoardLoad[],
  after: ReadonlyMap<string, BoardLoad>,
): readonly MovedLoad[] {
  const moved = before.flatMap((from) => {
    const to = after.get(from.id);
    return to && differs(from, to) ? [{ from, to }] : [];
  });
  if (moved.length === 0) return [];
  const was = jobsDone(board, before);
  const is = jobsDone(board, after.values());
  const late = new Set(
    board.jobs
      .filter(({ id, dueMs }) => {
        const due = dueMs ?? Number.POSITIVE_INFINITY;
        return (was.get(id) ?? 0) <= due && (is.get(id) ?? 0) > due;
      })
      .map(({ id }) => id),
  );
  const jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobId]));
  return moved.map(({ from, to }) => ({
    from,
    to,
    lateJobIds: [...new Set(from.dipIds.map((dip) => jobOf.get(dip) ?? ""))].filter((id) =>
      late.has(id),
    ),
  }));
}

const differs = (a: BoardLoad, b: BoardLoad): boolean =>
  a.tankId !== b.tankId ||
  a.startsAtMs !== b.startsAtMs ||
  a.benchUntilMs !== b.benchUntilMs ||
  a.dipIds.length !== b.dipIds.length;

/**
 * Of each load, the loads that hold the other end of one of its parts and must be out before it begins.
 */
export function loadsBefore(
  board: Board,
  loads: readonly BoardLoad[],
): ReadonlyMap<string, readonly BoardLoad[]> {
  const loadOf = new Map(loads.flatMap((load) => load.dipIds.map((dip) => [dip, load] as const)));
  const afterOf = new Map(board.dips.map(({ id, afterId }) => [id, afterId]));
  return new Map(
    loads.map((load) => [
      load.id,
      load.dipIds.flatMap((dip) => loadOf.get(afterOf.get(dip) ?? "") ?? []),
    ]),
  );
}
