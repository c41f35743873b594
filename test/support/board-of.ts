import type { Board, BoardDip, BoardJob, BoardLoad, TankNeeds } from "@/lib/scheduling";

export const MINUTE_MS = 60_000;
export const HOUR_MS = 3_600_000;

/** A Wednesday, midnight UTC. */
export const MIDNIGHT_MS = Date.parse("2026-11-25T00:00Z");

/** A board open all day and night for a week, of one tank on one supply, with nothing to do; what is given replaces that. */
export function boardOf(own: Partial<Board> = {}): Board {
  const nowMs = own.nowMs ?? MIDNIGHT_MS;
  const horizonMs = own.horizonMs ?? nowMs + 168 * HOUR_MS;
  return {
    nowMs,
    horizonMs,
    stepMs: 15 * MINUTE_MS,
    openings: [{ fromMs: nowMs, untilMs: horizonMs }],
    loadMinutes: 0,
    pullMinutes: 0,
    hands: 99,
    tanks: [{ id: "t0", supplyId: "s0" }],
    supplies: [{ id: "s0", ratingA: 1000 }],
    held: [],
    jobs: [],
    dips: [],
    share: () => null,
    ...own,
  };
}

/** A job that is due at an hour after midnight of that Wednesday. */
export function jobOf(id: string, dueH: number | null = null, weight = 1): BoardJob {
  return {
    id,
    dueMs: dueH === null ? null : MIDNIGHT_MS + dueH * HOUR_MS,
    weight,
    heldUntilMs: null,
  };
}

/** A dip of a job of the same id that asks the same of each tank named. */
export function dipOf(
  id: string,
  needs: TankNeeds,
  tankIds: readonly string[] = ["t0"],
  own: Partial<BoardDip> = {},
): BoardDip {
  return {
    id,
    jobId: id,
    releaseMs: 0,
    afterId: null,
    tanks: new Map(tankIds.map((tankId) => [tankId, needs])),
    benchMinutes: 0,
    ...own,
  };
}

/** A load of one dip that lies from one hour after midnight to another, pulled and finished at once. */
export function loadOf(
  id: string,
  fromH: number,
  untilH: number,
  own: Partial<BoardLoad> = {},
): BoardLoad {
  const at = (hour: number): number => MIDNIGHT_MS + hour * HOUR_MS;
  return {
    id,
    dipIds: [id],
    tankId: "t0",
    needs: { hours: untilH - fromH, currentA: 1 },
    startsAtMs: at(fromH),
    pullAtMs: at(untilH),
    endsAtMs: at(untilH),
    benchUntilMs: at(untilH),
    ...own,
  };
}
