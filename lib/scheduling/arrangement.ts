import type { Board, BoardDip, BoardLoad, Schedule, TankNeeds } from "./board";
import { timesOf } from "./place";
import { type Stretch, Timeline } from "./timeline";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** Dips that go in together, wherever that will be. */
export type Unit = {
  readonly id: string;
  /** indices of the board's dips */
  readonly dips: readonly number[];
  /** the booked load that these dips, or some of them, are: it keeps its id, and its own dips stay together */
  readonly booked: BoardLoad | null;
  readonly options: readonly { readonly tank: number; readonly needs: TankNeeds }[];
  readonly benchMinutes: number;
  readonly releaseStep: number;
  /** indices of the jobs whose parts are in it */
  readonly jobs: readonly number[];
  /** indices of dips that are to be out before it goes in */
  readonly after: readonly number[];
};

/** A unit in its place. */
export type Placed = {
  readonly unit: Unit;
  readonly stretch: Stretch;
  readonly needs: TankNeeds;
  /** finished on the bench, epoch ms */
  readonly doneMs: number;
};

/** What an arrangement costs: less is better, the first first. */
export type Cost = {
  readonly unplaced: number;
  /** Σ weight · h late */
  readonly lateH: number;
  /** h from now until the last unit is done */
  readonly endH: number;
};

type Step =
  | { readonly kind: "put"; readonly placed: Placed }
  | { readonly kind: "take"; readonly placed: Placed }
  | { readonly kind: "wait"; readonly unit: Unit }
  | { readonly kind: "leave"; readonly unit: Unit };

/** Units on a timeline, with a log by which every change can be taken back. */
export class Arrangement {
  readonly board: Board;
  readonly timeline: Timeline;
  readonly placed = new Set<Placed>();
  /** units that have no place now */
  readonly waiting = new Set<Unit>();
  readonly dipIndex: ReadonlyMap<string, number>;
  readonly #jobIndex: ReadonlyMap<string, number>;
  readonly #placedOfDip: (Placed | null)[];
  readonly #log: Step[] = [];
  readonly #jobDone: Float64Array;

  constructor(board: Board) {
    this.board = board;
    this.timeline = new Timeline(board);
    this.dipIndex = new Map(board.dips.map(({ id }, index) => [id, index]));
    this.#jobIndex = new Map(board.jobs.map(({ id }, index) => [id, index]));
    this.#placedOfDip = board.dips.map(() => null);
    this.#jobDone = new Float64Array(board.jobs.length);
  }

  /** The unit of a booked load: what it asks of its own tank is as booked. */
  bookedUnit(load: BoardLoad): Unit {
    const dips = load.dipIds.flatMap((id) => this.dipIndex.get(id) ?? []);
    return this.#unit(load.id, dips, load);
  }

  /** The unit of waiting dips that share a load. */
  waitingUnit(dips: readonly number[]): Unit {
    const first = this.board.dips[dips[0] ?? -1];
    return this.#unit(`new:${first?.id ?? ""}`, dips, null);
  }

  /** A placed or waiting unit with more dips in it; null where no tank takes them together. */
  joined(unit: Unit, more: readonly number[]): Unit | null {
    const together = this.#unit(unit.id, [...unit.dips, ...more], unit.booked);
    return together.options.length > 0 ? together : null;
  }

  #unit(id: string, dips: readonly number[], booked: BoardLoad | null): Unit {
    const own = dips.flatMap((index) => this.board.dips[index] ?? []);
    const inside = new Set(own.map((dip) => dip.id));
    return {
      id,
      dips,
      booked,
      options: this.#options(own, booked),
      benchMinutes: own.reduce((sum, { benchMinutes }) => sum + benchMinutes, 0),
      releaseStep: this.timeline.stepAt(
        Math.max(this.board.nowMs, ...own.map(({ releaseMs }) => releaseMs)),
      ),
      jobs: [...new Set(own.flatMap(({ jobId }) => this.#jobIndex.get(jobId) ?? []))],
      after: own.flatMap(({ afterId }) =>
        afterId === null || inside.has(afterId) ? [] : (this.dipIndex.get(afterId) ?? []),
      ),
    };
  }

  #options(dips: readonly BoardDip[], booked: BoardLoad | null): Unit["options"] {
    const ids = dips.map(({ id }) => id);
    const asBooked = booked?.dipIds.length === ids.length;
    return this.timeline.tankIds.flatMap((tankId, tank) => {
      if (asBooked && booked.tankId === tankId) return [{ tank, needs: booked.needs }];
      if (!dips.every(({ tanks }) => tanks.has(tankId))) return [];
      const [only] = dips;
      const needs = dips.length === 1 ? only?.tanks.get(tankId) : this.board.share(tankId, ids);
      return needs ? [{ tank, needs }] : [];
    });
  }

  /** Where a dip is now. */
  of(dip: number): Placed | null {
    return this.#placedOfDip[dip] ?? null;
  }

  /** The first stretch of one tank for a unit, once what is to be out before it is; null where there is none. */
  earliest(unit: Unit, option: Unit["options"][number], fromStep = 0): Placed | null {
    let from = Math.max(fromStep, unit.releaseStep);
    for (const dip of unit.after) {
      const before = this.of(dip);
      if (!before) return null;
      from = Math.max(from, before.stretch.endStep);
    }
    const { tank, needs } = option;
    const stretch = this.timeline.earliest(tank, needs, unit.benchMinutes, from);
    return stretch && this.at(unit, stretch, needs);
  }

  /** A unit at a stretch, not put there. */
  at(unit: Unit, stretch: Stretch, needs: TankNeeds): Placed {
    const handsMs = (this.board.pullMinutes + unit.benchMinutes) * MS_PER_MINUTE;
    return { unit, stretch, needs, doneMs: this.timeline.msOf(stretch.pullStep) + handsMs };
  }

  put(placed: Placed): void {
    this.#put(placed);
    this.#log.push({ kind: "put", placed });
  }

  take(placed: Placed): void {
    this.#take(placed);
    this.#log.push({ kind: "take", placed });
  }

  /** A unit without a place. */
  wait(unit: Unit): void {
    this.waiting.add(unit);
    this.#log.push({ kind: "wait", unit });
  }

  /** A unit that waits no more: it is put, or became part of another. */
  leave(unit: Unit): void {
    this.waiting.delete(unit);
    this.#log.push({ kind: "leave", unit });
  }

  /** Where the log stands, to come back to. */
  mark(): number {
    return this.#log.length;
  }

  /** Takes everything back since a mark. */
  rollback(mark: number): void {
    while (this.#log.length > mark) {
      const step = this.#log.pop();
      if (!step) return;
      if (step.kind === "put") this.#take(step.placed);
      else if (step.kind === "take") this.#put(step.placed);
      else if (step.kind === "wait") this.waiting.delete(step.unit);
      else this.waiting.add(step.unit);
    }
  }

  /** Forgets how it came to this: what is, stays. */
  keep(): void {
    this.#log.length = 0;
  }

  #put(placed: Placed): void {
    this.timeline.put(placed.stretch);
    this.placed.add(placed);
    for (const dip of placed.unit.dips) this.#placedOfDip[dip] = placed;
  }

  #take(placed: Placed): void {
    this.timeline.take(placed.stretch);
    this.placed.delete(placed);
    for (const dip of placed.unit.dips) {
      if (this.#placedOfDip[dip] === placed) this.#placedOfDip[dip] = null;
    }
  }

  /** When each job is done with what is placed now, epoch ms; 0 for none of it. Overwritten by the next call. */
  jobsDone(): Float64Array {
    const done = this.#jobDone;
    for (const [index, { heldUntilMs }] of this.board.jobs.entries()) {
      done[index] = heldUntilMs ?? 0;
    }
    for (const { unit, doneMs } of this.placed) {
      for (const job of unit.jobs) if ((done[job] ?? 0) < doneMs) done[job] = doneMs;
    }
    return done;
  }

  /** Weighted hours that a job is late when it is done at an instant. */
  lateness(job: number, doneMs: number): number {
    const { dueMs, weight } = this.board.jobs[job] ?? { dueMs: null, weight: 0 };
    return dueMs === null ? 0 : (weight * Math.max(0, doneMs - dueMs)) / MS_PER_HOUR;
  }

  cost(): Cost {
    const done = this.jobsDone();
    let unplaced = 0;
    for (const unit of this.waiting) {
      unplaced += unit.dips.length;
      for (const job of unit.jobs) done[job] = this.board.horizonMs;
    }
    let lastMs = this.board.nowMs;
    for (const { doneMs } of this.placed) if (doneMs > lastMs) lastMs = doneMs;
    let lateH = 0;
    for (let job = 0; job < done.length; job += 1) lateH += this.lateness(job, done[job] ?? 0);
    return { unplaced, lateH, endH: (lastMs - this.board.nowMs) / MS_PER_HOUR };
  }

  /** The placed units as loads of the board. One that lies where it was booked keeps its times to the minute. */
  schedule(): Schedule {
    const loads = [...this.placed].map(({ unit, stretch, needs }): BoardLoad => {
      const dipIds = unit.dips.flatMap((dip) => this.board.dips[dip]?.id ?? []);
      const { booked } = unit;
      if (booked && this.isWhereBooked(unit, stretch)) return booked;
      const tankId = this.timeline.tankIds[stretch.tank] ?? "";
      const times = timesOf(this.board, this.timeline, stretch, unit.benchMinutes);
      return { id: unit.id, dipIds, tankId, needs, ...times };
    });
    loads.sort((a, b) => a.startsAtMs - b.startsAtMs || (a.id < b.id ? -1 : 1));
    const unplaced = [...this.waiting].flatMap(({ dips }) =>
      dips.flatMap((dip) => this.board.dips[dip]?.id ?? []),
    );
    return { loads, unplaced };
  }

  /** Whether a unit lies where its load was booked, with nothing joined to it. */
  isWhereBooked(unit: Unit, stretch: Stretch): boolean {
    const { booked } = unit;
    if (!booked || booked.dipIds.length !== unit.dips.length) return false;
    const before = this.timeline.stretchOf(booked, unit.benchMinutes);
    return (
      before.tank === stretch.tank &&
      before.startStep === stretch.startStep &&
      before.pullStep === stretch.pullStep
    );
  }
}

/** @returns below 0 when `a` costs less, 0 when both are the same to rounding */
export function compareCosts(a: Cost, b: Cost): number {
  if (a.unplaced !== b.unplaced) return a.unplaced - b.unplaced;
  if (Math.abs(a.lateH - b.lateH) > 1e-6) return a.lateH - b.lateH;
  return Math.abs(a.endH - b.endH) > 1e-6 ? a.endH - b.endH : 0;
}
