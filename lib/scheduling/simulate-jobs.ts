import type { Board, BoardDip, BoardJob, BoardLoad } from "./board";
import { wilson, Z975 } from "./simulate-chance";
import type { PlayedLoad } from "./simulate-play";
import type { MeanOfPlays, SimulatedJob } from "./simulate-types";

type FollowedJob = {
  readonly job: BoardJob;
  readonly loadIds: readonly string[];
  /** a dip of it is in no load, so that it is never done */
  readonly unbooked: boolean;
  /** epoch ms of being done, by play */
  readonly doneMs: Float64Array;
};

/** Follows the jobs of a board through the plays. */
export class JobBook {
  private readonly followed: readonly FollowedJob[];
  /** share of the promises kept, by play */
  readonly kept: Float64Array;

  constructor(
    board: Board,
    loads: readonly BoardLoad[],
    private readonly times: number,
  ) {
    const loadOf = new Map(loads.flatMap(({ id, dipIds }) => dipIds.map((dip) => [dip, id])));
    const dipsOf = new Map<string, BoardDip[]>();
    for (const dip of board.dips) {
      const dips = dipsOf.get(dip.jobId);
      if (dips) dips.push(dip);
      else dipsOf.set(dip.jobId, [dip]);
    }
    this.followed = board.jobs.flatMap((job) => {
      const dips = dipsOf.get(job.id) ?? [];
      if (dips.length === 0 && job.heldUntilMs === null) return [];
      const loadIds = dips.flatMap(({ id }) => loadOf.get(id) ?? []);
      const unbooked = loadIds.length < dips.length;
      return [{ job, loadIds: [...new Set(loadIds)], unbooked, doneMs: new Float64Array(times) }];
    });
    this.kept = new Float64Array(times);
  }

  note(play: number, loads: ReadonlyMap<string, PlayedLoad>): void {
    let promised = 0;
    let kept = 0;
    for (const { job, loadIds, unbooked, doneMs } of this.followed) {
      let done = unbooked ? Number.POSITIVE_INFINITY : (job.heldUntilMs ?? 0);
      for (const id of loadIds) done = Math.max(done, loads.get(id)?.finishedMs ?? done);
      doneMs[play] = done;
      if (job.dueMs === null) continue;
      promised += 1;
      if (done <= job.dueMs) kept += 1;
    }
    this.kept[play] = promised === 0 ? Number.NaN : kept / promised;
  }

  results(): readonly SimulatedJob[] {
    return this.followed.map(({ job, doneMs }) => {
      const { dueMs } = job;
      const inOrder = doneMs.toSorted();
      return {
        jobId: job.id,
        kept:
          dueMs === null ? null : wilson(inOrder.filter((ms) => ms <= dueMs).length, this.times),
        p50Ms: percentile(inOrder, 0.5),
        p90Ms: percentile(inOrder, 0.9),
      };
    });
  }
}

/** The least of the values that a share of them does not exceed; null when that is infinite. */
function percentile(inOrder: Float64Array, share: number): number | null {
  const value = inOrder[Math.ceil(share * inOrder.length) - 1] ?? Number.POSITIVE_INFINITY;
  return Number.isFinite(value) ? value : null;
}

/** The mean over plays, which are independent, with its 95 % interval; null when a play has no value. */
export function meanOfPlays(values: Float64Array): MeanOfPlays | null {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  if (Number.isNaN(mean)) return null;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const half =
    values.length < 2 ? 0 : Z975 * Math.sqrt(squares / (values.length - 1) / values.length);
  return { mean, low: mean - half, high: mean + half };
}
