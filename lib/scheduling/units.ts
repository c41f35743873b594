import type { Board, BoardDip, BoardLoad, TankNeeds } from "./board";
import { Timeline } from "./timeline";

/** What the search moves as one: a dip that waits, or a booked load, whose dips never leave each other. */
export type Unit = {
  readonly index: number;
  readonly dipIds: readonly string[];
  /** the booked load that it is; null for a dip that waits */
  readonly booked: BoardLoad | null;
  /** not loaded before this step */
  readonly releaseStep: number;
  /** hands' minutes after the pull */
  readonly benchMinutes: number;
  /** indexes of the jobs that its dips belong to, each once */
  readonly jobs: readonly number[];
  /** the units that must be pulled before it is loaded, and those that wait for it */
  readonly before: readonly number[];
  readonly after: readonly number[];
};

/** A job, in the numbers that the search counts with. */
export type UnitJob = {
  /** Infinity when nothing was promised */
  readonly dueMs: number;
  readonly weight: number;
  readonly heldUntilMs: number | null;
};

/**
 * A board in units, numbered, with what any set of them asks of any tank remembered.
 * @example new Units(board, current).needsOf([0, 3], 1)
 */
export class Units {
  readonly board: Board;
  readonly units: readonly Unit[];
  readonly jobs: readonly UnitJob[];
  /** for each tank its index on an empty timeline; steps are that timeline's */
  readonly timeline: Timeline;
  readonly #dips: ReadonlyMap<string, BoardDip>;
  /** by pair of units: 1 where some tank takes both, −1 where none does, 0 where nobody asked */
  #pairs: Int8Array | null = null;
  readonly #alone: (TankNeeds | null | undefined)[][] = [];
  readonly #together = new Map<string, (TankNeeds | null | undefined)[]>();

  constructor(board: Board, current: readonly BoardLoad[]) {
    this.board = board;
    this.timeline = new Timeline(board);
    this.#dips = new Map(board.dips.map((dip) => [dip.id, dip]));
    const jobIndex = new Map(board.jobs.map(({ id }, index) => [id, index]));
    this.jobs = board.jobs.map(({ dueMs, weight, heldUntilMs }) => ({
      dueMs: dueMs ?? Number.POSITIVE_INFINITY,
      weight,
      heldUntilMs,
    }));
    const inLoad = new Set(current.flatMap(({ dipIds }) => dipIds));
    const groups: { dipIds: readonly string[]; booked: BoardLoad | null }[] = [
      ...current.map((booked) => ({ dipIds: booked.dipIds, booked })),
      ...board.dips
        .filter(({ id }) => !inLoad.has(id))
        .map(({ id }) => ({ dipIds: [id], booked: null })),
    ];
    const unitOf = new Map(groups.flatMap(({ dipIds }, index) => dipIds.map((id) => [id, index])));
    const before = groups.map(({ dipIds }) => this.#unitsBefore(dipIds, unitOf));
    this.units = groups.map(({ dipIds, booked }, index) => {
      const dips = this.#dipsOf(dipIds);
      const jobs = dips.map(({ jobId }) => jobIndex.get(jobId) ?? -1).filter((job) => job >= 0);
      const releaseMs = Math.max(board.nowMs, ...dips.map((dip) => dip.releaseMs));
      return {
        index,
        dipIds,
        booked,
        releaseStep: this.timeline.stepAt(releaseMs),
        benchMinutes: dips.reduce((sum, dip) => sum + dip.benchMinutes, 0),
        jobs: [...new Set(jobs)],
        before: before[index] ?? [],
        after: before.flatMap((firsts, other) => (firsts.includes(index) ? [other] : [])),
      };
    });
  }

  /** The unit of a number that this board gave out. */
  unit(index: number): Unit {
    const unit = this.units[index];
    if (!unit) throw new RangeError(`there is no unit ${index} among ${this.units.length}`);
    return unit;
  }

  /**
   * What units ask of a tank together; null where they may not be in it, or not with each other: two booked loads stay
   * two, and a part's second end never goes in with its first.
   */
  needsOf(units: readonly number[], tank: number): TankNeeds | null {
    const row = this.#rowOf(units);
    const known = row[tank];
    if (known !== undefined) return known;
    const needs = this.#ask(units, tank);
    row[tank] = needs;
    return needs;
  }

  /** Hands' minutes after the pull of a load of units. */
  benchMinutes(units: readonly number[]): number {
    const [first] = units;
    if (units.length === 1 && first !== undefined) return this.unit(first).benchMinutes;
    return units.reduce((sum, index) => sum + this.unit(index).benchMinutes, 0);
  }

  /** Is there a tank for all of them together? Two that may not share alone settle it. */
  canShare(units: readonly number[]): boolean {
    for (let later = 1; later < units.length; later += 1) {
      for (let first = 0; first < later; first += 1) {
        if (!this.#canPair(units[first] ?? 0, units[later] ?? 0)) return false;
      }
    }
    return units.length <= 2 || this.#fitsSomewhere(units);
  }

  #canPair(a: number, b: number): boolean {
    const cell = Math.min(a, b) * this.units.length + Math.max(a, b);
    this.#pairs ??= new Int8Array(this.units.length ** 2);
    if (this.#pairs[cell] === 0) this.#pairs[cell] = this.#fitsSomewhere([a, b]) ? 1 : -1;
    return this.#pairs[cell] === 1;
  }

  #fitsSomewhere(units: readonly number[]): boolean {
    return this.timeline.tankIds.some((_, tank) => this.needsOf(units, tank) !== null);
  }

  /** The answers for one set of units, by tank. A unit alone is asked about most, and needs no key. */
  #rowOf(units: readonly number[]): (TankNeeds | null | undefined)[] {
    const [first] = units;
    if (units.length === 1 && first !== undefined) return (this.#alone[first] ??= []);
    const key = [...units].sort((a, b) => a - b).join();
    const row = this.#together.get(key) ?? [];
    if (row.length === 0) this.#together.set(key, row);
    return row;
  }

  #ask(units: readonly number[], tank: number): TankNeeds | null {
    const tankId = this.timeline.tankIds[tank] ?? "";
    const [first] = units;
    if (first === undefined) return null;
    const { booked } = this.unit(first);
    // What was booked was agreed with a person: where the load is, it keeps its own hours.
    if (units.length === 1 && booked?.tankId === tankId) return booked.needs;
    if (units.length > 1 && !this.#mayMeet(units)) return null;
    const dipIds = units.flatMap((index) => this.unit(index).dipIds).sort();
    const dips = this.#dipsOf(dipIds);
    if (!dips.every((dip) => dip.tanks.has(tankId))) return null;
    const [only] = dips;
    if (dipIds.length === 1) return only?.tanks.get(tankId) ?? null;
    return this.board.share(tankId, dipIds);
  }

  #mayMeet(units: readonly number[]): boolean {
    const all = units.map((index) => this.unit(index));
    if (all.filter(({ booked }) => booked !== null).length > 1) return false;
    return !all.some(({ before }) => before.some((first) => units.includes(first)));
  }

  #dipsOf(dipIds: readonly string[]): BoardDip[] {
    return dipIds.flatMap((id) => this.#dips.get(id) ?? []);
  }

  #unitsBefore(dipIds: readonly string[], unitOf: ReadonlyMap<string, number>): number[] {
    const own = dipIds[0] === undefined ? -1 : (unitOf.get(dipIds[0]) ?? -1);
    const firsts = this.#dipsOf(dipIds).flatMap(({ afterId }) =>
      afterId === null ? [] : (unitOf.get(afterId) ?? []),
    );
    return [...new Set(firsts)].filter((first) => first !== own);
  }
}
