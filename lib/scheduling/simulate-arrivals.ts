import { checkPositive } from "@/lib/units";
import type { Board, BoardLoad } from "./board";
import { alsoIn } from "./change";
import { type Chance, checkSpread } from "./simulate-chance";
import { shareOfClusters } from "./simulate-jobs";
import type { PlayedLoad } from "./simulate-play";
import type { BookedLoad, Dealt } from "./simulate-shop";
import type { Arrivals, ArrivingDip, ArrivingPart, SimulatedArrivals } from "./simulate-types";
import { type LoadTimes, timelineOf, timesOf } from "./place";
import type { Stretch, Timeline } from "./timeline";

const MS_PER_HOUR = 3_600_000;
const MS_PER_WEEK = 168 * MS_PER_HOUR;
const NEVER = Number.POSITIVE_INFINITY;

type ArrivedJob = {
  readonly atMs: number;
  readonly loadIds: readonly string[];
  /** epoch ms; null when nothing could be promised */
  readonly promisedMs: number | null;
};

/** A dip that arrived, in the plan. */
type Placed = {
  readonly stretch: Stretch;
  readonly times: LoadTimes;
  readonly load: BookedLoad;
};

/** Books the jobs that arrive in a play into what is free of the plan, and follows what becomes of them. */
export class ArrivalBook {
  private readonly timeline: Timeline;
  private readonly parts: readonly ArrivingPart[];
  private readonly weights: number;
  private jobs: ArrivedJob[] = [];
  private untilMs = 0;
  private readonly promises: { tries: number; hits: number }[] = [];
  private sums = {
    arrived: 0,
    withoutSlot: 0,
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
    const booked: Placed[] = [];
    let atMs = this.board.nowMs;
    for (;;) {
      atMs += (chance.exponential() * MS_PER_WEEK) / this.arrivals.weeklyRate;
      if (atMs >= untilMs) break;
      const part = this.partOf(chance.uniform() * this.weights);
      const deviates = part.dips.map(() => chance.normal());
      const placed = this.book(part, `arrival ${this.jobs.length + 1}`, atMs);
      booked.push(...placed);
      placed.forEach(({ load }, at) => dealt.push({ load, deviate: deviates[at] ?? 0 }));
      this.jobs.push(this.jobOf(atMs, placed));
    }
    for (const { stretch } of booked) this.timeline.take(stretch);
    return dealt;
  }

  note(loads: ReadonlyMap<string, PlayedLoad>): void {
    this.promises.push({ tries: 0, hits: 0 });
    for (const job of this.jobs) this.noteJob(job, loads);
  }

  results(times: number): SimulatedArrivals {
    const { sums, board } = this;
    const mean = (sumMs: number, count: number): number | null =>
      count === 0 ? null : sumMs / count / MS_PER_HOUR;
    return {
      arrived: sums.arrived / times,
      withoutSlot: sums.withoutSlot / times,
      kept: shareOfClusters(this.promises),
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
  private book(part: ArrivingPart, name: string, arrivedMs: number): readonly Placed[] {
    const placed: Placed[] = [];
    for (const dip of part.dips) {
      const before = placed.at(-1);
      const one = this.soonest(dip, name, before ?? null, before?.times.endsAtMs ?? arrivedMs);
      if (!one) {
        for (const { stretch } of placed) this.timeline.take(stretch);
        return [];
      }
      this.timeline.put(one.stretch);
      placed.push(one);
    }
    return placed;
  }

  private soonest(
    dip: ArrivingDip,
    name: string,
    before: Placed | null,
    afterMs: number,
  ): Placed | null {
    const { board, timeline } = this;
    const fromStep = timeline.stepAt(afterMs);
    let best: { stretch: Stretch; times: LoadTimes; tankId: string } | null = null;
    for (const [tankId, needs] of dip.tanks) {
      const tank = timeline.tankAt(tankId);
      const stretch = tank < 0 ? null : timeline.earliest(tank, needs, dip.benchMinutes, fromStep);
      if (!stretch || (best && best.stretch.pullStep <= stretch.pullStep)) continue;
      best = { stretch, times: timesOf(board, timeline, stretch, dip.benchMinutes), tankId };
    }
    const lasts = best && dip.tanks.get(best.tankId);
    if (!best || !lasts) return null;
    const { stretch, times, tankId } = best;
    const load: BookedLoad = {
      kind: "LOAD",
      id: before ? `${before.load.id}, then` : name,
      queue: this.queueOf.get(tankId) ?? 0,
      startsAtMs: times.startsAtMs,
      pullAtMs: times.pullAtMs,
      benchMs: times.benchUntilMs - times.endsAtMs,
      handsMs: timeline.attendedMs(dip.benchMinutes),
      currentA: lasts.currentA,
      lasts,
      afterIds: before ? [before.load.id] : [],
    };
    return { stretch, times, load };
  }

  private jobOf(atMs: number, placed: readonly Placed[]): ArrivedJob {
    const { promise } = this.arrivals;
    const loadIds = placed.map(({ load }) => load.id);
    if (promise.kind === "LEAD_TIME") {
      return { atMs, loadIds, promisedMs: atMs + promise.hours * MS_PER_HOUR };
    }
    const doneMs = placed.at(-1)?.times.benchUntilMs;
    if (doneMs === undefined) return { atMs, loadIds, promisedMs: null };
    return { atMs, loadIds, promisedMs: promise.dayEndsMs?.find((ms) => ms >= doneMs) ?? doneMs };
  }

  private noteJob(job: ArrivedJob, loads: ReadonlyMap<string, PlayedLoad>): void {
    const { sums, untilMs } = this;
    const beganMs = loads.get(job.loadIds[0] ?? "")?.beganMs ?? NEVER;
    const doneMs = loads.get(job.loadIds.at(-1) ?? "")?.finishedMs ?? NEVER;
    sums.arrived += 1;
    sums.inShop += Math.min(doneMs, untilMs) - job.atMs;
    if (job.loadIds.length === 0) sums.withoutSlot += 1;
    if (beganMs < NEVER) {
      sums.began += 1;
      sums.waitMs += beganMs - job.atMs;
    }
    if (doneMs < NEVER) {
      sums.done += 1;
      sums.flowMs += doneMs - job.atMs;
    }
    this.notePromise(job, doneMs);
  }

  private notePromise({ promisedMs }: ArrivedJob, doneMs: number): void {
    const play = this.promises.at(-1);
    if (!play || promisedMs === null || promisedMs > this.untilMs) return;
    play.tries += 1;
    if (doneMs <= promisedMs) play.hits += 1;
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
