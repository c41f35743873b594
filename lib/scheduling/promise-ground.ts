import type { Board, BoardLoad, TankNeeds } from "./board";
import { benchMinutesBy, type LoadTimes, timelineOf, timesOf } from "./place";
import type { NewPart } from "./promise-types";
import type { Timeline } from "./timeline";

/** A board on which a part asks for a place: with the part's dips and job on it, and what is booked on its timeline. */
export class Ground {
  readonly board: Board;
  readonly #timeline: Timeline;
  readonly #benchMinutes: (dipIds: readonly string[]) => number;

  constructor(board: Board, loads: readonly BoardLoad[], part: NewPart) {
    // Its job may have other parts on the board, and its dips may wait there.
    const isJobKnown = board.jobs.some(({ id }) => id === part.job.id);
    const others = board.dips.filter(({ id }) => !part.dips.some((dip) => dip.id === id));
    this.board = {
      ...board,
      dips: [...others, ...part.dips],
      jobs: isJobKnown ? board.jobs : [...board.jobs, part.job],
    };
    this.#timeline = timelineOf(this.board, loads);
    this.#benchMinutes = benchMinutesBy(this.board);
  }

  /** The first slot of a tank for such dips, begun at or after an instant; null when there is none. */
  earliest(
    needs: TankNeeds,
    tankId: string,
    dipIds: readonly string[],
    afterMs: number,
  ): LoadTimes | null {
    const tank = this.#timeline.tankAt(tankId);
    if (tank < 0) return null;
    const benchMinutes = this.#benchMinutes(dipIds);
    const fromStep = this.#timeline.stepAt(Math.max(afterMs, this.board.nowMs));
    const stretch = this.#timeline.earliest(tank, needs, benchMinutes, fromStep);
    return stretch && timesOf(this.board, this.#timeline, stretch, benchMinutes);
  }

  /** The slot that begins at this very instant; null when that is not possible. */
  slotAt(
    needs: TankNeeds,
    tankId: string,
    dipIds: readonly string[],
    startsAtMs: number,
  ): LoadTimes | null {
    const times = this.earliest(needs, tankId, dipIds, startsAtMs);
    return times?.startsAtMs === startsAtMs ? times : null;
  }

  put(load: BoardLoad): void {
    this.#timeline.put(this.#timeline.stretchOf(load, this.#benchMinutes(load.dipIds)));
  }

  /** Takes off exactly what `put`, or the ground itself, put there. */
  take(load: BoardLoad): void {
    this.#timeline.take(this.#timeline.stretchOf(load, this.#benchMinutes(load.dipIds)));
  }
}
