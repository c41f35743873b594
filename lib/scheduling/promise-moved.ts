import type { Board, BoardLoad } from "./board";
import type { MovedLoad } from "./promise-types";

/** Loads that would change, as they would be, by their id. */
export type Changed = ReadonlyMap<string, BoardLoad>;

/** What is booked, with what its loads owe: an order of ends, and promised days. */
export class Booked {
  readonly #jobOf: ReadonlyMap<string, string>;
  readonly #jobs: ReadonlyMap<string, Board["jobs"][number]>;
  readonly #loadsOfJob = new Map<string, BoardLoad[]>();
  readonly #before = new Map<string, BoardLoad[]>();
  readonly #behind = new Map<string, BoardLoad[]>();

  constructor(
    board: Board,
    readonly loads: readonly BoardLoad[],
  ) {
    this.#jobOf = new Map(board.dips.map(({ id, jobId }) => [id, jobId]));
    this.#jobs = new Map(board.jobs.map((job) => [job.id, job]));
    const afterOf = new Map(board.dips.map(({ id, afterId }) => [id, afterId]));
    const loadOf = new Map(loads.flatMap((load) => load.dipIds.map((dip) => [dip, load] as const)));
    for (const load of loads) {
      for (const jobId of this.jobIdsOf(load)) append(this.#loadsOfJob, jobId, load);
      for (const dipId of load.dipIds) {
        const before = loadOf.get(afterOf.get(dipId) ?? "");
        if (!before) continue;
        append(this.#before, load.id, before);
        append(this.#behind, before.id, load);
      }
    }
  }

  /** The loads that hold the other end of one of a load's parts and must be out before it begins. */
  before(loadId: string): readonly BoardLoad[] {
    return this.#before.get(loadId) ?? [];
  }

  jobIdsOf({ dipIds }: BoardLoad): readonly string[] {
    return [...new Set(dipIds.flatMap((id) => this.#jobOf.get(id) ?? []))];
  }

  /** What the heaviest of a load's jobs weighs. */
  weightOf(load: BoardLoad): number {
    return Math.max(0, ...this.jobIdsOf(load).map((id) => this.#jobs.get(id)?.weight ?? 0));
  }

  /** The first promised day of a load's jobs, epoch ms; infinite when nothing was promised. */
  dueMs(load: BoardLoad): number {
    return Math.min(NEVER, ...this.jobIdsOf(load).map((id) => this.#jobs.get(id)?.dueMs ?? NEVER));
  }

  /** Whether every end would still go in after the other is out. */
  isInOrder(changed: Changed): boolean {
    const now = (load: BoardLoad): BoardLoad => changed.get(load.id) ?? load;
    return [...changed.values()].every(
      (load) =>
        this.before(load.id).every((other) => now(other).endsAtMs <= load.startsAtMs) &&
        (this.#behind.get(load.id) ?? []).every((other) => load.endsAtMs <= now(other).startsAtMs),
    );
  }

  /** What would become of the booked loads that change, and of the promises to their jobs. */
  moved(changed: Changed): readonly MovedLoad[] {
    return this.loads.flatMap((from): MovedLoad[] => {
      const to = changed.get(from.id);
      if (!to || isSame(from, to)) return [];
      const lateJobIds = this.jobIdsOf(from).filter((id) => this.#becomesLate(id, changed));
      return [{ from, to, lateJobIds }];
    });
  }

  #becomesLate(jobId: string, changed: Changed): boolean {
    const { dueMs = null, heldUntilMs = null } = this.#jobs.get(jobId) ?? {};
    if (dueMs === null) return false;
    const loads = this.#loadsOfJob.get(jobId) ?? [];
    const doneMs = (of: readonly BoardLoad[]): number =>
      Math.max(heldUntilMs ?? 0, ...of.map(({ benchUntilMs }) => benchUntilMs));
    const after = loads.map((load) => changed.get(load.id) ?? load);
    return doneMs(loads) <= dueMs && doneMs(after) > dueMs;
  }
}

const NEVER = Number.POSITIVE_INFINITY;

const isSame = (a: BoardLoad, b: BoardLoad): boolean =>
  a.tankId === b.tankId &&
  a.startsAtMs === b.startsAtMs &&
  a.benchUntilMs === b.benchUntilMs &&
  a.dipIds.length === b.dipIds.length;

function append(lists: Map<string, BoardLoad[]>, key: string, load: BoardLoad): void {
  const list = lists.get(key);
  if (list) list.push(load);
  else lists.set(key, [load]);
}
