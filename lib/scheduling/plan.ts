import type { Schedule, Score, TankNeeds } from "./board";
import { compareScores, timesOf } from "./place";
import { type Stretch, Timeline } from "./timeline";
import type { Units } from "./units";

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 3_600_000;

/** A load of the search: units that share a stretch of a tank. */
export type PlanLoad = {
  readonly units: readonly number[];
  readonly needs: TankNeeds;
  readonly stretch: Stretch;
  /** off the bench, epoch ms */
  readonly doneMs: number;
  /** it lies exactly where it was booked */
  readonly isHome: boolean;
};

/** Beside the score, what leads the search where the score is flat: Σ of the hours until each load is done. */
export type PlanScore = Score & { readonly flowH: number };

/**
 * A schedule that is being changed: its loads lie on a timeline, and what was tried can be taken back.
 */
export class Plan {
  readonly units: Units;
  readonly timeline: Timeline;
  readonly #loads = new Set<PlanLoad>();
  /** by unit, the load that it is in */
  readonly #loadOf: (PlanLoad | null)[];
  /** units that are in a load */
  #placed = 0;
  readonly #done: Float64Array;
  readonly #missing: Uint8Array;

  constructor(units: Units) {
    this.units = units;
    this.timeline = new Timeline(units.board);
    this.#loadOf = units.units.map(() => null);
    this.#done = new Float64Array(units.jobs.length);
    this.#missing = new Uint8Array(units.jobs.length);
  }

  get loads(): ReadonlySet<PlanLoad> {
    return this.#loads;
  }

  loadOf(unit: number): PlanLoad | null {
    return this.#loadOf[unit] ?? null;
  }

  /**
   * The first place of units in a tank that their parts, the tank, the supply and the hands allow.
   *
   * @param fromStep     not before this step
   * @param lastPullStep a pull after this is of no use
   * @returns null for none
   */
  find(
    units: readonly number[],
    tank: number,
    fromStep = 0,
    lastPullStep?: number,
  ): PlanLoad | null {
    const needs = this.units.needsOf(units, tank);
    const first = this.#firstStep(units, fromStep);
    if (!needs || first === null) return null;
    const benchMinutes = this.units.benchMinutes(units);
    const stretch = this.timeline.earliest(tank, needs, benchMinutes, first, lastPullStep);
    if (!stretch || !this.#endsBefore(units, stretch)) return null;
    const { pullMinutes } = this.units.board;
    const doneMs =
      this.timeline.msOf(stretch.pullStep) + (pullMinutes + benchMinutes) * MS_PER_MINUTE;
    return { units, needs, stretch, doneMs, isHome: this.#isHome(units, stretch) };
  }

  /** A booked load where it was booked, whatever lies there; null for one that is not, or in a tank that is gone. */
  home(index: number): PlanLoad | null {
    const { booked, benchMinutes } = this.units.unit(index);
    if (!booked || this.timeline.tankAt(booked.tankId) < 0) return null;
    return {
      units: [index],
      needs: booked.needs,
      stretch: this.timeline.stretchOf(booked, benchMinutes),
      doneMs: booked.benchUntilMs,
      isHome: true,
    };
  }

  add(load: PlanLoad): void {
    this.#loads.add(load);
    this.timeline.put(load.stretch);
    for (const unit of load.units) this.#loadOf[unit] = load;
    this.#placed += load.units.length;
  }

  remove(load: PlanLoad): void {
    this.#loads.delete(load);
    this.timeline.take(load.stretch);
    for (const unit of load.units) this.#loadOf[unit] = null;
    this.#placed -= load.units.length;
  }

  /** Units that are in no load. */
  unplaced(): number[] {
    if (this.#placed === this.units.units.length) return [];
    return this.units.units.flatMap(({ index }) => (this.#loadOf[index] ? [] : [index]));
  }

  /** The same as `scoreOf` says of the schedule. */
  score(): PlanScore {
    const { board, jobs, units } = this.units;
    this.#done.fill(0);
    this.#missing.fill(0);
    let unplaced = 0;
    let lastMs = board.nowMs;
    let flowMs = 0;
    for (const load of this.#loads) {
      flowMs += load.doneMs - board.nowMs;
      if (load.doneMs > lastMs) lastMs = load.doneMs;
    }
    for (const unit of units) {
      const load = this.#loadOf[unit.index];
      if (!load) unplaced += unit.dipIds.length;
      for (const job of unit.jobs) {
        if (!load) this.#missing[job] = 1;
        else if (load.doneMs > (this.#done[job] ?? 0)) this.#done[job] = load.doneMs;
      }
    }
    let lateMs = 0;
    for (let job = 0; job < jobs.length; job += 1) lateMs += this.#lateMs(job);
    return {
      unplaced,
      weightedTardinessH: lateMs / MS_PER_HOUR,
      makespanH: (lastMs - board.nowMs) / MS_PER_HOUR,
      flowH: flowMs / MS_PER_HOUR,
    };
  }

  /** The schedule as it stands; booked loads keep their ids. */
  schedule(): Schedule {
    const { board } = this.units;
    const loads = [...this.#loads].map((load) => {
      const members = load.units.map((index) => this.units.unit(index));
      const booked = members.find((unit) => unit.booked !== null)?.booked;
      const waiting = members.filter((unit) => unit.booked === null).flatMap((unit) => unit.dipIds);
      if (booked && load.isHome) return booked;
      const dipIds = [...(booked?.dipIds ?? []), ...waiting.sort()];
      const benchMinutes = this.units.benchMinutes(load.units);
      return {
        id: booked?.id ?? `new-${dipIds[0] ?? ""}`,
        dipIds,
        tankId: this.timeline.tankIds[load.stretch.tank] ?? "",
        needs: load.needs,
        ...timesOf(board, this.timeline, load.stretch, benchMinutes),
      };
    });
    loads.sort((a, b) => a.startsAtMs - b.startsAtMs || (a.id < b.id ? -1 : 1));
    const unplaced = this.unplaced().flatMap((index) => this.units.unit(index).dipIds);
    return { loads, unplaced };
  }

  /** When all parts are there and the first ends of them are out; null while one of those has no place. */
  #firstStep(units: readonly number[], fromStep: number): number | null {
    let first = fromStep;
    for (const index of units) {
      const { releaseStep, before } = this.units.unit(index);
      if (releaseStep > first) first = releaseStep;
      for (const one of before) {
        const load = this.#loadOf[one];
        if (!load) return null;
        if (load.stretch.endStep > first) first = load.stretch.endStep;
      }
    }
    return first;
  }

  #isHome(units: readonly number[], { tank, startStep, pullStep }: Stretch): boolean {
    const [only] = units;
    if (only === undefined || units.length > 1) return false;
    const { booked } = this.units.unit(only);
    return (
      booked !== null &&
      this.timeline.tankAt(booked.tankId) === tank &&
      this.timeline.msOf(startStep) === booked.startsAtMs &&
      this.timeline.msOf(pullStep) === booked.pullAtMs
    );
  }

  /** Whatever waits for these units begins after them where it already lies. */
  #endsBefore(units: readonly number[], { endStep }: Stretch): boolean {
    return units.every((index) =>
      this.units
        .unit(index)
        .after.every((after) => endStep <= (this.#loadOf[after]?.stretch.startStep ?? endStep)),
    );
  }

  #lateMs(job: number): number {
    const { jobs, board } = this.units;
    const own = jobs[job];
    if (!own || own.dueMs === Number.POSITIVE_INFINITY) return 0;
    let doneMs = Math.max(this.#done[job] ?? 0, own.heldUntilMs ?? 0);
    if (this.#missing[job] === 1) doneMs = board.horizonMs;
    return doneMs > own.dueMs ? own.weight * (doneMs - own.dueMs) : 0;
  }
}

/** As `compareScores`; where that sees no difference, loads that are done earlier are better. */
export function comparePlans(a: PlanScore, b: PlanScore): number {
  return compareScores(a, b) || a.flowH - b.flowH;
}
