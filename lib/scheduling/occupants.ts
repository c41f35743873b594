import type { Board, BoardLoad } from "./board";
import type { Span } from "./calendar";
import { benchMinutesBy } from "./place";

const MS_PER_MINUTE = 60_000;
/** As the timeline has it: currents are whole milliamperes, draws rounded up and ratings down. */
const PER_AMPERE = 1000;

/** Something on the board, a load or not, on the steps that it touches: from the first's beginning to the last's end. */
export type Occupant = Span & {
  readonly id: string;
  readonly tankId: string;
  readonly supplyId: string | undefined;
  readonly milliamperes: number;
  /** each keeps one pair of hands */
  readonly attended: readonly Span[];
};

/** What turns the things on a board into occupants. */
export type OccupantMaker = {
  readonly board: Board;
  /** the same answer for the same load */
  readonly ofLoad: (load: BoardLoad) => Occupant;
  readonly held: readonly Occupant[];
};

export function occupantMaker(board: Board): OccupantMaker {
  const supplyOf = new Map(board.tanks.map(({ id, supplyId }) => [id, supplyId]));
  const bench = benchMinutesBy(board);
  const longestMs = Math.max(0, ...board.openings.map((one) => one.untilMs - one.fromMs));
  const pullMs = board.pullMinutes * MS_PER_MINUTE;
  const onSteps = (fromMs: number, untilMs: number): Span => ({
    fromMs: Math.floor(fromMs / board.stepMs + 1e-9) * board.stepMs,
    untilMs: Math.ceil(untilMs / board.stepMs - 1e-9) * board.stepMs,
  });
  /** as many steps as the time needs, from the step it begins in */
  const lasting = (fromMs: number, ms: number): Span => {
    const start = onSteps(fromMs, fromMs).fromMs;
    return onSteps(start, start + ms);
  };
  const known = new WeakMap<BoardLoad, Occupant>();
  return {
    board,
    ofLoad: (load) => {
      const before = known.get(load);
      if (before) return before;
      const wantedMs = pullMs + bench(load.dipIds) * MS_PER_MINUTE;
      const occupant = {
        ...onSteps(load.startsAtMs, load.endsAtMs),
        id: load.id,
        tankId: load.tankId,
        supplyId: supplyOf.get(load.tankId),
        milliamperes: inMilliamperes(load.needs.currentA),
        attended: [
          lasting(load.startsAtMs, board.loadMinutes * MS_PER_MINUTE),
          lasting(load.pullAtMs, Math.max(pullMs, Math.min(wantedMs, longestMs))),
        ],
      };
      known.set(load, occupant);
      return occupant;
    },
    held: board.held.map((held) => ({
      ...onSteps(held.fromMs, held.untilMs),
      id: held.id,
      tankId: held.tankId,
      supplyId: supplyOf.get(held.tankId),
      milliamperes: inMilliamperes(held.currentA),
      attended: held.attended.map(({ fromMs, untilMs }) => onSteps(fromMs, untilMs)),
    })),
  };
}

export const inMilliamperes = (amperes: number): number => Math.ceil(amperes * PER_AMPERE - 1e-6);
export const inAmperes = (milliamperes: number): number => milliamperes / PER_AMPERE;
export const ratedMilliamperes = (amperes: number): number =>
  Math.floor(amperes * PER_AMPERE + 1e-6);

export const covers = (span: Span, atMs: number): boolean =>
  span.fromMs <= atMs && atMs < span.untilMs;

export const overlaps = (a: Span, b: Span): boolean => a.fromMs < b.untilMs && b.fromMs < a.untilMs;

/**
 * What is on a board while loads give way to newcomers. What was there together before may stay together, also where a
 * person overruled a rule; only what a newcomer makes impossible has to go.
 */
export class Roster {
  readonly #ofLoad: (load: BoardLoad) => Occupant;
  readonly #ratings: ReadonlyMap<string, number>;
  readonly #hands: number;
  readonly #there: Occupant[];
  readonly #newcomers: readonly Occupant[];

  constructor(
    { board, ofLoad, held }: OccupantMaker,
    staying: readonly BoardLoad[],
    newcomers: readonly BoardLoad[],
  ) {
    this.#ofLoad = ofLoad;
    this.#ratings = new Map(
      board.supplies.map(({ id, ratingA }) => [id, ratedMilliamperes(ratingA)]),
    );
    this.#hands = board.hands;
    this.#newcomers = newcomers.map(ofLoad);
    this.#there = [...held, ...staying.map(ofLoad), ...this.#newcomers];
  }

  keep(load: BoardLoad): void {
    this.#there.push(this.#ofLoad(load));
  }

  /** Whether a load can be where it was, for all the newcomers. */
  hasRoomFor(load: BoardLoad): boolean {
    const own = this.#ofLoad(load);
    return !this.#newcomers.some(
      (other) =>
        (overlaps(own, other) &&
          (own.tankId === other.tankId ||
            (own.supplyId === other.supplyId && this.#isOverdrawn(own, other)))) ||
        this.#areHandsShort(own, other),
    );
  }

  #isOverdrawn(own: Occupant, newcomer: Occupant): boolean {
    const ratingA = this.#ratings.get(own.supplyId ?? "") ?? Number.POSITIVE_INFINITY;
    const drawing = this.#there.filter(
      (one) => one.supplyId === own.supplyId && overlaps(one, own) && overlaps(one, newcomer),
    );
    return drawing.some(({ fromMs }) => {
      const at = Math.max(fromMs, own.fromMs, newcomer.fromMs);
      const then = drawing.filter((one) => covers(one, at));
      return then.reduce((sum, one) => sum + one.milliamperes, own.milliamperes) > ratingA;
    });
  }

  #areHandsShort(own: Occupant, newcomer: Occupant): boolean {
    for (const mine of own.attended) {
      for (const theirs of newcomer.attended) {
        if (!overlaps(mine, theirs)) continue;
        const tasks = this.#there.flatMap(({ attended }) =>
          attended.filter((task) => overlaps(task, mine) && overlaps(task, theirs)),
        );
        const isShort = tasks.some(({ fromMs }) => {
          const at = Math.max(fromMs, mine.fromMs, theirs.fromMs);
          return tasks.filter((task) => covers(task, at)).length >= this.#hands;
        });
        if (isShort) return true;
      }
    }
    return false;
  }
}
