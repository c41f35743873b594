import type { Board, BoardLoad, Held } from "./board";
import { hoursAt, type Spread } from "./simulate-chance";
import { keptHands } from "./simulate-hands";
import type { PlayedLoad, PlayedShop } from "./simulate-play";
import type { Simulation } from "./simulate-types";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** A load as it is booked, ready to be played. */
export type BookedLoad = Pick<PlayedLoad, "id" | "kind"> & {
  readonly queue: number;
  readonly startsAtMs: number;
  readonly pullAtMs: number;
  /** ms from being out of the tank to having left the bench */
  readonly benchMs: number;
  /** ms from the pull on that it keeps a pair of hands */
  readonly handsMs: number;
  readonly currentA: number;
  /** what its hours are drawn from; of what is held, h that it lasts */
  readonly lasts: Spread | number;
  /** ids of the loads whose pull it waits for */
  readonly afterIds: readonly string[];
};

/** The parts of a shop that stay the same over all plays. */
export function playedShop(
  board: Board,
  queueOf: ReadonlyMap<string, number>,
  { untilMs, pullWhenDone = false, spreads }: Simulation,
): PlayedShop {
  const supplyIndex = new Map(board.supplies.map(({ id }, index) => [id, index]));
  return {
    nowMs: board.nowMs,
    untilMs,
    openings: board.openings,
    // A load that is played keeps hands when it comes to that.
    kept: keptHands(
      board.held.filter(({ id }) => !spreads.has(id)).flatMap(({ attended }) => attended),
    ),
    hands: board.hands,
    loadMs: board.loadMinutes * MS_PER_MINUTE,
    pullMs: board.pullMinutes * MS_PER_MINUTE,
    ratingsA: board.supplies.map(({ ratingA }) => ratingA),
    tanks: board.tanks.map(({ id, supplyId }) => ({
      queue: queueOf.get(id) ?? 0,
      supply: supplyIndex.get(supplyId) ?? 0,
    })),
    queues: new Set(queueOf.values()).size,
    pullWhenDone,
  };
}

/** Which queue each tank serves: one each, but that of the tank it is like for a twin. */
export function queuesOf(
  tankIds: readonly string[],
  likeOf: ReadonlyMap<string, string>,
): ReadonlyMap<string, number> {
  const queues = new Map<string, number>();
  for (const id of tankIds.filter((tankId) => !likeOf.has(tankId))) queues.set(id, queues.size);
  for (const [twin, like] of likeOf) queues.set(twin, queues.get(likeOf.get(like) ?? like) ?? 0);
  return queues;
}

/**
 * The booked loads and what is held, ready to be played. A load without a spread of its own takes its booked hours.
 */
export function bookedLoads(
  board: Board,
  loads: readonly BoardLoad[],
  spreads: ReadonlyMap<string, Spread>,
  queueOf: ReadonlyMap<string, number>,
): readonly BookedLoad[] {
  const loadOf = new Map(loads.flatMap((load) => load.dipIds.map((id) => [id, load] as const)));
  const waitsFor = new Map(board.dips.map(({ id, afterId }) => [id, afterId]));
  const booked = loads.map((load): BookedLoad => {
    const before = load.dipIds.flatMap((id) => loadOf.get(waitsFor.get(id) ?? "") ?? []);
    return {
      id: load.id,
      kind: "LOAD",
      queue: queueOf.get(load.tankId) ?? 0,
      startsAtMs: load.startsAtMs,
      pullAtMs: load.pullAtMs,
      benchMs: load.benchUntilMs - load.endsAtMs,
      handsMs: attendedMs(board, load.benchUntilMs - load.endsAtMs),
      currentA: load.needs.currentA,
      lasts: spreads.get(load.id) ?? sureHours(load.needs.hours),
      afterIds: before.filter(({ id }) => id !== load.id).map(({ id }) => id),
    };
  });
  // What is held in no tank of the board keeps hands only.
  const held = board.held.filter(
    ({ tankId, untilMs }) => queueOf.has(tankId) && untilMs > board.nowMs,
  );
  return [
    ...booked,
    ...held.map((stretch) => heldLoad(board, stretch, spreads.get(stretch.id), queueOf)),
  ];
}

/**
 * What holds a tank. With a spread it is a load that only must not be moved, or that runs already; its pull is the
 * beginning, and its bench the end, of what it keeps hands for last.
 */
function heldLoad(
  board: Board,
  { id, tankId, fromMs, untilMs, currentA, attended }: Held,
  spread: Spread | undefined,
  queueOf: ReadonlyMap<string, number>,
): BookedLoad {
  const common = {
    id,
    queue: queueOf.get(tankId) ?? 0,
    startsAtMs: fromMs,
    currentA,
    afterIds: [],
  };
  if (!spread) {
    // Under way already: what is left of it.
    const lasts = (untilMs - Math.max(fromMs, board.nowMs)) / MS_PER_HOUR;
    return { ...common, kind: "HELD", pullAtMs: untilMs, benchMs: 0, handsMs: 0, lasts };
  }
  const benchMs = Math.max(0, (attended.at(-1)?.untilMs ?? untilMs) - untilMs);
  return {
    ...common,
    kind: fromMs < board.nowMs ? "RUNNING" : "LOAD",
    pullAtMs: untilMs - board.pullMinutes * MS_PER_MINUTE,
    benchMs,
    handsMs: attendedMs(board, benchMs),
    lasts: spread,
  };
}

/** What a pull and the bench after it keep of a pair of hands, as far as the longest opening has room for it, ms. */
function attendedMs({ openings, pullMinutes }: Board, benchMs: number): number {
  const longestMs = Math.max(0, ...openings.map(({ fromMs, untilMs }) => untilMs - fromMs));
  const pullMs = pullMinutes * MS_PER_MINUTE;
  return Math.max(pullMs, Math.min(pullMs + benchMs, longestMs));
}

/** Hours that are no matter of chance. */
export const sureHours = (hours: number): Spread => ({ p50Hours: hours, p90Hours: hours });

/** A booked load and how its hours turn out in one play, as a standard normal deviate. */
export type Dealt = { readonly load: BookedLoad; readonly deviate: number };

/**
 * The loads of one play, each with the hours it truly takes, in the order they are booked to start.
 *
 * @returns by id, in that order; what is held comes before a load that is booked for the same instant
 */
export function dealtLoads(dealt: readonly Dealt[]): ReadonlyMap<string, PlayedLoad> {
  const inOrder = [...dealt].sort(
    (a, b) => a.load.startsAtMs - b.load.startsAtMs || isHeld(b.load) - isHeld(a.load),
  );
  const after = inOrder.map((): PlayedLoad[] => []);
  const played = new Map(
    inOrder.map(({ load, deviate }, index) => [
      load.id,
      playedLoad(load, deviate, after[index] ?? []),
    ]),
  );
  inOrder.forEach(({ load }, index) => {
    for (const id of load.afterIds) {
      const before = played.get(id);
      if (before) after[index]?.push(before);
    }
  });
  return played;
}

const isHeld = ({ kind }: BookedLoad): number => (kind === "HELD" ? 1 : 0);

function playedLoad(load: BookedLoad, deviate: number, after: readonly PlayedLoad[]): PlayedLoad {
  const { lasts } = load;
  const hours = typeof lasts === "number" ? lasts : hoursAt(lasts, deviate);
  return {
    id: load.id,
    kind: load.kind,
    queue: load.queue,
    bookedStartMs: load.startsAtMs,
    bookedPullMs: load.pullAtMs,
    lastsMs: hours * MS_PER_HOUR,
    benchMs: load.benchMs,
    handsMs: load.handsMs,
    currentA: load.currentA,
    after,
    beganMs: Number.POSITIVE_INFINITY,
    treatedMs: Number.POSITIVE_INFINITY,
    outMs: Number.POSITIVE_INFINITY,
    finishedMs: Number.POSITIVE_INFINITY,
  };
}
