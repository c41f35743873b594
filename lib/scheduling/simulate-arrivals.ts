import { checkPositive } from "@/lib/units";
import type { Board, BoardLoad } from "./board";
import { alsoIn } from "./change";
import { type Chance, checkSpread, wilson } from "./simulate-chance";
import type { PlayedLoad } from "./simulate-play";
import type { Dealt } from "./simulate-shop";
import type { Arrivals, ArrivingDip, ArrivingPart, SimulatedArrivals } from "./simulate-types";
import { type Timeline, timelineOf } from "./timeline";

const MS_PER_HOUR = 3_600_000;
const MS_PER_WEEK = 168 * MS_PER_HOUR;

type ArrivedJob = {
  readonly atMs: number;
  readonly loadIds: readonly string[];
  /** epoch ms; null when nothing could be promised */
  readonly promisedMs: number | null;
};

/** Books the jobs that arrive in a play into what is free of the plan, and follows what becomes of them. */
export class ArrivalBook {
  private readonly timeline: Timeline;
  private readonly parts: readonly ArrivingPart[];
  private readonly weights: number;
  private jobs: ArrivedJob[] = [];
  private untilMs = 0;
  private sums = {
    arrived: 0,
    withoutSlot: 0,
    promised: 0,
    kept: 0,
    began: 0,
    waitMs: 0,
    done: 0,
    flowMs: 0,
    inShop: 0,
  };

  /** @throws RangeError when the rate or a part's weight is not above 0, or a spread makes no sense */
  constructor(
    private readonly board: Board,
    loads: readonly BoardLoad[],
    private readonly arrivals: Arrivals,
    likeOf: ReadonlyMap<string, string>,
    private readonly queueOf: ReadonlyMap<string, number>,
  ) {
    checkPositive("weekly rate of arrivals", arrivals.weeklyRate, "jobs a week");
    arrivals.parts.forEach(checkPart);
    this.timeline = timelineOf(board, loads);
    this.parts = arrivals.parts.map((part) => ({
      ...part,
      dips: part.dips.map((dip) => withTwins(dip, likeOf)),
    }));
    this.weights = this.parts.reduce((sum, { weight }) => sum + weight, 0);
  }

  /** The loads that the arrivals of one play become; the plan is left as it was. */
  deal(chance: Chance, untilMs: number): readonly Dealt[] {
    this.jobs = [];
    this.untilMs = untilMs;
    const dealt: Dealt[] = [];
    const put: BoardLoad[] = [];
    let atMs = this.board.nowMs;
    for (;;) {
      atMs += (chance.exponential() * MS_PER_WEEK) / this.arrivals.weeklyRate;
      if (atMs >= untilMs) break;
      const part = this.partOf(chance.uniform() * this.weights);
      const deviates = part.dips.map(() => chance.normal());
      const loads = this.book(part, `arrival ${this.jobs.length + 1}`, atMs);
      put.push(...loads);
      dealt.push(...this.dealtOf(part, loads, deviates));
      this.jobs.push(this.jobOf(atMs, loads));
    }
    for (const load of put) this.timeline.take(load);
    return dealt;
  }

  note(loads: ReadonlyMap<string, PlayedLoad>): void {
    for (const job of this.jobs) this.noteJob(job, loads);
  }

  results(times: number): SimulatedArrivals {
    const { sums, board } = this;
    const mean = (sumMs: number, count: number): number | null =>
      count === 0 ? null : sumMs / count / MS_PER_HOUR;
    return {
      arrived: sums.arrived / times,
      withoutSlot: sums.withoutSlot / times,
      kept: sums.promised === 0 ? null : wilson(sums.kept, sums.promised),
      waitHours: mean(sums.waitMs, sums.began),
      flowHours: mean(sums.flowMs, sums.done),
      inShop: sums.inShop / times / (this.untilMs - board.nowMs),
    };
  }

  private partOf(draw: number): ArrivingPart {
    let left = draw;
    for (const part of this.parts) {
      left -= part.weight;
      if (left < 0) return part;
    }
    return this.parts.at(-1) ?? this.arrivals.parts[0];
  }

  /** Each dip where it is done soonest, one after the other; none at all when one of them finds no slot. */
  private book(part: ArrivingPart, name: string, arrivedMs: number): readonly BoardLoad[] {
    const loads: BoardLoad[] = [];
    let afterMs = arrivedMs;
    for (const dip of part.dips) {
      const load = this.soonest(dip, `${name}, dip ${loads.length + 1}`, afterMs);
      if (!load) {
        for (const placed of loads) this.timeline.take(placed);
        return [];
      }
      this.timeline.put(load);
      loads.push(load);
      afterMs = load.endsAtMs;
    }
    return loads;
  }

  private soonest(dip: ArrivingDip, id: string, afterMs: number): BoardLoad | null {
    let best: BoardLoad | null = null;
    for (const [tankId, needs] of dip.tanks) {
      const slot = this.timeline.earliest(needs, tankId, afterMs, dip.benchMinutes);
      if (slot && (!best || slot.benchUntilMs < best.benchUntilMs)) {
        best = { ...slot, id, dipIds: [id], tankId, needs };
      }
    }
    return best;
  }

  private dealtOf(
    part: ArrivingPart,
    loads: readonly BoardLoad[],
    deviates: readonly number[],
  ): Dealt[] {
    return loads.flatMap((load, at) => {
      const lasts = part.dips[at]?.tanks.get(load.tankId);
      if (!lasts) return [];
      const booked = {
        id: load.id,
        queue: this.queueOf.get(load.tankId) ?? 0,
        startsAtMs: load.startsAtMs,
        pullAtMs: load.pullAtMs,
        benchMs: load.benchUntilMs - load.endsAtMs,
        currentA: load.needs.currentA,
        lasts,
        afterIds: loads.slice(Math.max(0, at - 1), at).map(({ id }) => id),
      };
      return [{ load: booked, deviate: deviates[at] ?? 0 }];
    });
  }

  private jobOf(atMs: number, loads: readonly BoardLoad[]): ArrivedJob {
    const { promise } = this.arrivals;
    const loadIds = loads.map(({ id }) => id);
    if (promise.kind === "LEAD_TIME") {
      return { atMs, loadIds, promisedMs: atMs + promise.hours * MS_PER_HOUR };
    }
    const doneMs = loads.at(-1)?.benchUntilMs;
    if (doneMs === undefined) return { atMs, loadIds, promisedMs: null };
    return { atMs, loadIds, promisedMs: promise.dayEndsMs?.find((ms) => ms >= doneMs) ?? doneMs };
  }

  private noteJob(job: ArrivedJob, loads: ReadonlyMap<string, PlayedLoad>): void {
    const { sums, untilMs } = this;
    const never = Number.POSITIVE_INFINITY;
    const beganMs = loads.get(job.loadIds[0] ?? "")?.beganMs ?? never;
    const doneMs = loads.get(job.loadIds.at(-1) ?? "")?.finishedMs ?? never;
    sums.arrived += 1;
    sums.inShop += Math.min(doneMs, untilMs) - job.atMs;
    if (job.loadIds.length === 0) sums.withoutSlot += 1;
    if (beganMs < never) {
      sums.began += 1;
      sums.waitMs += beganMs - job.atMs;
    }
    if (doneMs < never) {
      sums.done += 1;
      sums.flowMs += doneMs - job.atMs;
    }
    if (job.promisedMs === null || job.promisedMs > untilMs) return;
    sums.promised += 1;
    if (doneMs <= job.promisedMs) sums.kept += 1;
  }
}

function withTwins(dip: ArrivingDip, likeOf: ReadonlyMap<string, string>): ArrivingDip {
  let { tanks } = dip;
  for (const [twin, like] of likeOf) tanks = alsoIn(tanks, like, twin);
  return { ...dip, tanks };
}

function checkPart(part: ArrivingPart): void {
  checkPositive(`weight of ${part.id}`, part.weight, "");
  for (const { tanks } of part.dips) {
    for (const [tankId, spread] of tanks) checkSpread(`${part.id} in tank ${tankId}`, spread);
  }
}
