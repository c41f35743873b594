import type { Board, BoardLoad, TankNeeds } from "./board";
import type { Span } from "./calendar";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;
/** Currents are summed as whole milliamperes, so that a load taken off leaves exactly what was there before. */
const PER_AMPERE = 1000;

/** Where one load lies on the steps of a timeline. Steps count from the timeline's beginning; ends are exclusive. */
export type Stretch = {
  /** index of its tank */
  readonly tank: number;
  readonly startStep: number;
  /** steps from `startStep` in which loading keeps a pair of hands */
  readonly loadSteps: number;
  readonly pullStep: number;
  /** the tank is free again */
  readonly endStep: number;
  /** steps from `pullStep` in which it keeps a pair of hands */
  readonly attendedSteps: number;
  readonly milliamperes: number;
};

/**
 * What holds tanks, supplies and hands, step by step from now to the horizon.
 *
 * A board's starts and pulls lie on multiples of its step, so that whether two loads meet is decided by the steps they
 * touch, and a step is a cell of an array: placing and taking off a load writes some hundred cells, and nothing is
 * allocated while a place is looked for.
 */
export class Timeline {
  readonly steps: number;
  readonly tankIds: readonly string[];
  readonly #board: Board;
  readonly #originMs: number;
  readonly #tankIndex: ReadonlyMap<string, number>;
  /** by tank: 1 where something is in it; held things may lie over each other */
  readonly #taken: readonly Int32Array[];
  readonly #supplyOfTank: readonly number[];
  readonly #drawn: readonly Int32Array[];
  readonly #rating: readonly number[];
  readonly #handsUsed: Int32Array;
  /** for each step, when the opening that it begins in ends, epoch ms; 0 while shut */
  readonly #openUntilMs: Float64Array;
  /** for each step, the first step from it on at which the shop is open */
  readonly #nextOpen: Int32Array;
  readonly #longestOpeningMs: number;
  readonly #loadSteps: number;

  constructor(board: Board) {
    this.#board = board;
    const { stepMs } = board;
    const heldFromMs = Math.min(board.nowMs, ...board.held.map(({ fromMs }) => fromMs));
    // Held things from before now only matter where they reach past it.
    this.#originMs = Math.floor(Math.max(heldFromMs, board.nowMs - stepMs) / stepMs) * stepMs;
    this.steps = Math.max(1, Math.ceil((board.horizonMs - this.#originMs) / stepMs));
    this.tankIds = board.tanks.map(({ id }) => id);
    this.#tankIndex = new Map(this.tankIds.map((id, index) => [id, index]));
    this.#taken = board.tanks.map(() => new Int32Array(this.steps));
    const supplyIndex = new Map(board.supplies.map(({ id }, index) => [id, index]));
    this.#supplyOfTank = board.tanks.map(({ supplyId }) => supplyIndex.get(supplyId) ?? -1);
    this.#drawn = board.supplies.map(() => new Int32Array(this.steps));
    this.#rating = board.supplies.map(({ ratingA }) => Math.floor(ratingA * PER_AMPERE + 1e-6));
    this.#handsUsed = new Int32Array(this.steps);
    this.#openUntilMs = new Float64Array(this.steps);
    this.#nextOpen = new Int32Array(this.steps + 1);
    this.#longestOpeningMs = Math.max(0, ...board.openings.map(lengthMs));
    this.#loadSteps = Math.ceil((board.loadMinutes * MS_PER_MINUTE) / stepMs);
    this.#markOpenings(board.openings);
    for (const held of board.held) this.#hold(held);
  }

  /** The tank's place in `tankIds`; −1 for one that is not on the board. */
  tankAt(tankId: string): number {
    return this.#tankIndex.get(tankId) ?? -1;
  }

  /** The first step that begins at or after an instant. */
  stepAt(atMs: number): number {
    return Math.max(0, Math.ceil((atMs - this.#originMs) / this.#board.stepMs - 1e-9));
  }

  /** When a step begins, epoch ms. */
  msOf(step: number): number {
    return this.#originMs + step * this.#board.stepMs;
  }

  /**
   * The first stretch of a tank that a load can have: loaded and pulled while somebody is there with a free pair of
   * hands, finished at once after the pull, the tank its own, the supply within its rating.
   *
   * A later start never brings an earlier pull. So where something in the way is found, every start up to its end has
   * it in the way too, and the search goes on behind the last such thing.
   *
   * @param fromStep      the start looked for first
   * @param benchMinutes  hands needed after the pull
   * @param lastPullStep  a pull after this is of no use; the horizon when left out
   * @returns null when nothing fits before then
   */
  earliest(
    tank: number,
    needs: TankNeeds,
    benchMinutes: number,
    fromStep: number,
    lastPullStep = this.steps - 1,
  ): Stretch | null {
    const milliamperes = Math.ceil(needs.currentA * PER_AMPERE - 1e-6);
    const attendedMs = this.attendedMs(benchMinutes);
    const attendedSteps = Math.ceil(attendedMs / this.#board.stepMs - 1e-9);
    const treatMs = this.#board.loadMinutes * MS_PER_MINUTE + needs.hours * MS_PER_HOUR;
    const pullMs = this.#board.pullMinutes * MS_PER_MINUTE;
    let startStep = this.#nextLoading(Math.max(0, fromStep));
    while (startStep < this.steps) {
      const pullStep = this.#firstPull(
        this.stepAt(this.msOf(startStep) + treatMs),
        attendedMs,
        attendedSteps,
      );
      const endStep = this.stepAt(this.msOf(pullStep) + pullMs);
      if (pullStep > lastPullStep || endStep > this.steps) return null;
      const inTheWay = Math.max(
        this.#lastTaken(tank, startStep, endStep),
        this.#lastOverdrawn(tank, milliamperes, startStep, endStep),
      );
      if (inTheWay < 0) {
        const loadSteps = this.#loadSteps;
        return { tank, startStep, loadSteps, pullStep, endStep, attendedSteps, milliamperes };
      }
      startStep = this.#nextLoading(inTheWay + 1);
    }
    return null;
  }

  /** The first step from one on at which somebody can pull, and finish what is pulled; `steps` for never. */
  pullFrom(step: number, benchMinutes: number): number {
    const attendedMs = this.attendedMs(benchMinutes);
    const attendedSteps = Math.ceil(attendedMs / this.#board.stepMs - 1e-9);
    return this.#firstPull(Math.max(0, step), attendedMs, attendedSteps);
  }

  /** Is nothing in the tank during a step? */
  isFree(tank: number, step: number): boolean {
    return (this.#taken[tank]?.[step] ?? 1) === 0;
  }

  /** Pairs of hands with nothing to do during a step; 0 while shut. */
  freeHands(step: number): number {
    if ((this.#openUntilMs[step] ?? 0) === 0) return 0;
    return Math.max(0, this.#board.hands - (this.#handsUsed[step] ?? 0));
  }

  /** What the tank's supply has left during a step, mA; a tank on no supply has none. */
  freeMilliamperes(tank: number, step: number): number {
    const supply = this.#supplyOfTank[tank] ?? -1;
    return Math.max(0, (this.#rating[supply] ?? 0) - (this.#drawn[supply]?.[step] ?? 0));
  }

  /** Hands' time that a pull and what follows it take, as far as the longest opening has room for it, ms. */
  attendedMs(benchMinutes: number): number {
    const { pullMinutes } = this.#board;
    const wanted = (pullMinutes + benchMinutes) * MS_PER_MINUTE;
    return Math.max(pullMinutes * MS_PER_MINUTE, Math.min(wanted, this.#longestOpeningMs));
  }

  /** Puts a load on the board. */
  put(stretch: Stretch): void {
    this.#write(stretch, 1);
  }

  /** Takes off exactly what `put` put there. */
  take(stretch: Stretch): void {
    this.#write(stretch, -1);
  }

  /** A load that lies where it lies, also where it breaks rules. */
  stretchOf(load: Omit<BoardLoad, "id" | "dipIds">, benchMinutes: number): Stretch {
    const step = (atMs: number): number =>
      Math.floor((atMs - this.#originMs) / this.#board.stepMs + 1e-9);
    const [startStep, pullStep] = [step(load.startsAtMs), step(load.pullAtMs)];
    const loadedAtMs = load.startsAtMs + this.#board.loadMinutes * MS_PER_MINUTE;
    const finishedAtMs = load.pullAtMs + this.attendedMs(benchMinutes);
    return {
      tank: this.tankAt(load.tankId),
      startStep,
      // A booked load may begin between two steps: it keeps every step that it touches.
      loadSteps: this.stepAt(loadedAtMs) - startStep,
      pullStep,
      endStep: this.stepAt(load.endsAtMs),
      attendedSteps: this.stepAt(finishedAtMs) - pullStep,
      milliamperes: Math.ceil(load.needs.currentA * PER_AMPERE - 1e-6),
    };
  }

  #write(stretch: Stretch, by: 1 | -1) {
    const { tank, startStep, pullStep, endStep, milliamperes } = stretch;
    const taken = this.#taken[tank];
    const drawn = this.#drawn[this.#supplyOfTank[tank] ?? -1];
    if (taken) add(taken, startStep, endStep, by);
    if (drawn) add(drawn, startStep, endStep, by * milliamperes);
    add(this.#handsUsed, startStep, startStep + stretch.loadSteps, by);
    add(this.#handsUsed, pullStep, pullStep + stretch.attendedSteps, by);
  }

  #hold({ tankId, fromMs, untilMs, currentA, attended }: Board["held"][number]): void {
    const first = (atMs: number): number =>
      Math.floor((atMs - this.#originMs) / this.#board.stepMs + 1e-9);
    const tank = this.tankAt(tankId);
    const taken = this.#taken[tank];
    const drawn = this.#drawn[this.#supplyOfTank[tank] ?? -1];
    const [from, until] = [first(fromMs), this.stepAt(untilMs)];
    if (taken) add(taken, from, until, 1);
    if (drawn) add(drawn, from, until, Math.ceil(currentA * PER_AMPERE - 1e-6));
    for (const span of attended) {
      add(this.#handsUsed, first(span.fromMs), this.stepAt(span.untilMs), 1);
    }
  }

  #markOpenings(openings: readonly Span[]): void {
    for (const { fromMs, untilMs } of openings) {
      const last = Math.min(this.steps, this.stepAt(untilMs));
      for (let step = this.stepAt(fromMs); step < last; step += 1) {
        this.#openUntilMs[step] = untilMs;
      }
    }
    this.#nextOpen[this.steps] = this.steps;
    for (let step = this.steps - 1; step >= 0; step -= 1) {
      const isOpen = (this.#openUntilMs[step] ?? 0) > 0;
      this.#nextOpen[step] = isOpen ? step : (this.#nextOpen[step + 1] ?? this.steps);
    }
  }

  /** The first step from one on at which a load can be put in by somebody whose hands are free. */
  #nextLoading(from: number): number {
    const lastsMs = this.#board.loadMinutes * MS_PER_MINUTE;
    return this.#firstAttended(from, lastsMs, this.#loadSteps);
  }

  #firstPull(from: number, attendedMs: number, attendedSteps: number): number {
    return this.#firstAttended(from, attendedMs, attendedSteps);
  }

  #firstAttended(from: number, lastsMs: number, lastsSteps: number): number {
    const { hands } = this.#board;
    let step = this.#nextOpen[Math.min(from, this.steps)] ?? this.steps;
    while (step < this.steps) {
      const closesMs = this.#openUntilMs[step] ?? 0;
      if (this.msOf(step) + lastsMs > closesMs) {
        step = this.#nextOpen[Math.min(this.steps, this.stepAt(closesMs))] ?? this.steps;
        continue;
      }
      const busy = lastAtLeast(
        this.#handsUsed,
        hands,
        step,
        Math.min(this.steps, step + lastsSteps),
      );
      if (busy < 0) return step;
      step = this.#nextOpen[busy + 1] ?? this.steps;
    }
    return this.steps;
  }

  #lastTaken(tank: number, from: number, until: number): number {
    const taken = this.#taken[tank];
    return taken ? lastAtLeast(taken, 1, from, until) : until - 1;
  }

  #lastOverdrawn(tank: number, milliamperes: number, from: number, until: number): number {
    const supply = this.#supplyOfTank[tank] ?? -1;
    const drawn = this.#drawn[supply];
    if (!drawn || milliamperes === 0) return -1;
    return lastAtLeast(drawn, (this.#rating[supply] ?? 0) - milliamperes + 1, from, until);
  }
}

const lengthMs = ({ fromMs, untilMs }: Span): number => untilMs - fromMs;

function add(cells: Int32Array, from: number, until: number, by: number): void {
  const last = Math.min(until, cells.length);
  for (let step = Math.max(0, from); step < last; step += 1) cells[step] = (cells[step] ?? 0) + by;
}

/** The last cell of a stretch that holds at least so much; −1 for none. */
function lastAtLeast(cells: Int32Array, least: number, from: number, until: number): number {
  for (let step = until - 1; step >= from; step -= 1) {
    if ((cells[step] ?? 0) >= least) return step;
  }
  return -1;
}
