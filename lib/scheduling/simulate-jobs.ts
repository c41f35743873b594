import type { Board, BoardDip, BoardJob } from "./board";
import { type CountedShare, wilson, Z975 } from "./simulate-chance";
import type { PlayedLoad } from "./simulate-play";
import type { MeanOfPlays, SimulatedJob, Simulation } from "./simulate-types";

type FollowedJob = {
  readonly job: BoardJob;
  readonly loadIds: readonly string[];
  /** a dip of it is in no load, so that it is never done */
  readonly unbooked: boolean;
  /** epoch ms, of what is held and not played; 0 for none */
  readonly heldUntilMs: number;
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
    { loads, heldLoads }: Pick<Simulation, "loads" | "heldLoads">,
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
      const held = heldLoads?.get(job.id) ?? [];
      return [
        {
          job,
          loadIds: [...new Set([...loadIds, ...held])],
          unbooked,
          heldUntilMs: held.length > 0 ? 0 : (job.heldUntilMs ?? 0),
          doneMs: new Float64Array(times),
        },
      ];
    });
    this.kept = new Float64Array(times);
  }

  note(play: number, loads: ReadonlyMap<string, PlayedLoad>): void {
    let promised = 0;
    let kept = 0;
    for (const { job, loadIds, unbooked, heldUntilMs, doneMs } of this.followed) {
      let done = unbooked ? Number.POSITIVE_INFINITY : heldUntilMs;
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

/**
 * A share of jobs with its interval, where the jobs of one play depend on each other.
 *
 * Wilson's interval for as many jobs as tell the same: all, over the design effect (the variance of the share between
 * plays, over that of independent jobs; Kish, Survey Sampling, 1965, from memory), never less than 1. Where all or
 * none were kept, that says nothing about dependence, and each play counts once.
 *
 * @param plays of each play, how many jobs there were and how many were kept
 * @returns null when there was no job
 */
export function shareOfClusters(
  plays: readonly { readonly tries: number; readonly hits: number }[],
): CountedShare | null {
  const used = plays.filter(({ tries }) => tries > 0);
  const tries = used.reduce((sum, play) => sum + play.tries, 0);
  if (tries === 0) return null;
  const share = used.reduce((sum, play) => sum + play.hits, 0) / tries;
  const squares = used.reduce((sum, play) => sum + (play.hits - share * play.tries) ** 2, 0);
  const design = Math.max(1, squares / (tries * share * (1 - share)));
  const telling = share === 0 || share === 1 ? used.length : Math.max(1, tries / design);
  return wilson(share * telling, telling);
}
