/**
 * The rules of the board once more, as plainly as they can be said and with no thought for speed: minute by minute of
 * hands, event by event of currents. What the engine answers is held against this.
 */
import type { Board, BoardLoad, Span, TankNeeds } from "@/lib/scheduling";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

type Stretch = Pick<BoardLoad, "startsAtMs" | "pullAtMs" | "endsAtMs" | "benchUntilMs">;

const overlaps = (a: Span, b: Span): boolean => a.fromMs < b.untilMs && b.fromMs < a.untilMs;

/** When hands are kept, by loads and by what is held. */
function attended(board: Board, loads: readonly BoardLoad[]): Span[] {
  return [
    ...board.held.flatMap((held) => held.attended),
    ...loads.flatMap((load) => [
      { fromMs: load.startsAtMs, untilMs: load.startsAtMs + board.loadMinutes * MINUTE },
      { fromMs: load.pullAtMs, untilMs: load.benchUntilMs },
    ]),
  ];
}

function handsFree(board: Board, taken: readonly Span[], span: Span): boolean {
  const there = board.openings.some(
    (open) => open.fromMs <= span.fromMs && span.untilMs <= open.untilMs,
  );
  if (!there) return false;
  const instants = [span.fromMs, ...taken.map(({ fromMs }) => fromMs)].filter(
    (at) => span.fromMs <= at && at < span.untilMs,
  );
  return instants.every(
    (at) => taken.filter((one) => one.fromMs <= at && at < one.untilMs).length < board.hands,
  );
}

function currentFits(
  board: Board,
  loads: readonly BoardLoad[],
  tankId: string,
  currentA: number,
  span: Span,
): boolean {
  const supplyOf = (id: string): string | undefined =>
    board.tanks.find((tank) => tank.id === id)?.supplyId;
  const supply = board.supplies.find(({ id }) => id === supplyOf(tankId));
  if (!supply) return false;
  const draws = [
    ...board.held.map((held) => ({ ...held })),
    ...loads.map((load) => ({
      tankId: load.tankId,
      fromMs: load.startsAtMs,
      untilMs: load.endsAtMs,
      currentA: load.needs.currentA,
    })),
  ].filter((draw) => supplyOf(draw.tankId) === supply.id && overlaps(draw, span));
  const instants = [span.fromMs, ...draws.map(({ fromMs }) => fromMs)].filter(
    (at) => span.fromMs <= at && at < span.untilMs,
  );
  return instants.every((at) => {
    const drawn = draws
      .filter((draw) => draw.fromMs <= at && at < draw.untilMs)
      .reduce((sum, draw) => sum + draw.currentA, 0);
    return drawn + currentA <= supply.ratingA + 1e-6;
  });
}

/** The stretch that a start makes among these loads; null when it is not allowed. */
export function naiveStretch(
  board: Board,
  loads: readonly BoardLoad[],
  needs: TankNeeds,
  tankId: string,
  startsAtMs: number,
  benchMinutes: number,
): Stretch | null {
  const taken = attended(board, loads);
  const loadedMs = startsAtMs + board.loadMinutes * MINUTE;
  if (startsAtMs < board.nowMs) return null;
  if (!handsFree(board, taken, { fromMs: startsAtMs, untilMs: loadedMs })) return null;
  const treatedMs = loadedMs + needs.hours * HOUR;
  const lastsMs = (board.pullMinutes + benchMinutes) * MINUTE;
  let pullAtMs = Math.ceil(treatedMs / board.stepMs) * board.stepMs;
  while (!handsFree(board, taken, { fromMs: pullAtMs, untilMs: pullAtMs + lastsMs })) {
    pullAtMs += board.stepMs;
    if (pullAtMs > board.horizonMs) return null;
  }
  const endsAtMs = pullAtMs + board.pullMinutes * MINUTE;
  const benchUntilMs = pullAtMs + lastsMs;
  const span = { fromMs: startsAtMs, untilMs: endsAtMs };
  const others = [
    ...board.held,
    ...loads.map((load) => ({
      tankId: load.tankId,
      fromMs: load.startsAtMs,
      untilMs: load.endsAtMs,
    })),
  ];
  if (others.some((other) => other.tankId === tankId && overlaps(other, span))) return null;
  if (!currentFits(board, loads, tankId, needs.currentA, span)) return null;
  return benchUntilMs <= board.horizonMs ? { startsAtMs, pullAtMs, endsAtMs, benchUntilMs } : null;
}
