import type { Board, BoardLoad, TankNeeds } from "./board";
import type { ShopChange } from "./change";
import type { CountedShare, Spread } from "./simulate-chance";

/** One dip of a part that may arrive: what it asks of each tank, and the hours it truly takes there. */
export type ArrivingDip = {
  readonly benchMinutes: number;
  readonly tanks: ReadonlyMap<string, TankNeeds & Spread>;
};

/** A part that further customers may bring; its dips go in one after the other. */
export type ArrivingPart = {
  readonly id: string;
  /** how often it is the one, relative to the others, above 0 */
  readonly weight: number;
  readonly dips: readonly ArrivingDip[];
};

/** The work that is still to come, and what is promised for it. */
export type Arrivals = {
  /** jobs a week of 168 h, on average; they arrive at any hour, one independent of another (Poisson) */
  readonly weeklyRate: number;
  readonly parts: readonly [ArrivingPart, ...ArrivingPart[]];
  readonly promise:
    /** when its slot, booked by P90, has left the bench; the end of that day where `dayEndsMs` names it */
    | { readonly kind: "EARLIEST"; readonly dayEndsMs?: readonly number[] }
    /** always the same time after it arrived, h */
    | { readonly kind: "LEAD_TIME"; readonly hours: number };
};

export type Simulation = {
  readonly board: Board;
  /** all that is booked and not held */
  readonly loads: readonly BoardLoad[];
  /**
   * by load id, of the board's held loads too; a load without one takes its booked hours exactly. Of a load that runs
   * already they are its hours from the beginning.
   */
  readonly spreads: ReadonlyMap<string, Spread>;
  /** the held loads of a job, by job id; without them such a job is done at its `heldUntilMs`, come what may */
  readonly heldLoads?: ReadonlyMap<string, readonly string[]>;
  readonly arrivals?: Arrivals;
  /** how often the weeks are played; 1000 when left out */
  readonly times?: number;
  readonly seed: number;
  /** the end of each play; what is not done by then has no finish */
  readonly untilMs: number;
  /** pulls as soon as a load is done and somebody is there; otherwise not before its booked pull */
  readonly pullWhenDone?: boolean;
  /** what the shop would have more */
  readonly changes?: readonly ShopChange[];
};

/** A mean over plays with its 95 % interval. */
export type MeanOfPlays = { readonly mean: number; readonly low: number; readonly high: number };

export type SimulatedJob = {
  readonly jobId: string;
  /** plays in which it was done by its day; null when nothing was promised */
  readonly kept: CountedShare | null;
  /** epoch ms; null when that share of plays had not seen it done by the end */
  readonly p50Ms: number | null;
  readonly p90Ms: number | null;
};

/** What a load can wait for. `OPENINGS`: somebody to be there at all. */
export type ResourceKind = "TANK" | "SUPPLY" | "HANDS" | "OPENINGS";

export type SimulatedResource = {
  readonly kind: ResourceKind;
  /** of a tank or a supply; empty otherwise */
  readonly id: string;
  /**
   * share in use: of a tank, of all hours of the clock, since treatment runs on overnight; of a supply, of its rating
   * over the same hours; of the hands, of staffed hours. Of the openings, the share of the clock with somebody there.
   */
  readonly used: number;
  /** of a tank, the share of the open hours in which it was held; null for the rest */
  readonly usedWhileOpen: number | null;
  /** load-hours a play past the booked start, or past the booked pull of what is done, in which this was missing */
  readonly waitedHours: number;
  /** that over the waiting for all resources, 0 when nothing waited */
  readonly shareOfDelay: number;
  /** plays in which more was waited for this than for anything else */
  readonly worst: CountedShare;
};

/** What became of the jobs that arrived during the weeks. */
export type SimulatedArrivals = {
  /** a play */
  readonly arrived: number;
  /** a play: found no slot before the horizon; counted as promises not kept, unless nothing could be promised */
  readonly withoutSlot: number;
  /**
   * of those whose promise fell within the plays. Jobs of one play are late together, so the interval counts each
   * for as much as it tells beside the others.
   */
  readonly kept: CountedShare | null;
  /** h from arriving until the first load begins, of those that began; null when none did */
  readonly waitHours: number | null;
  /** h from arriving until the last dip has left the bench, of those that have; null when none has */
  readonly flowHours: number | null;
  /** arrived and not done, averaged over time */
  readonly inShop: number;
};

export type SimulatedWeeks = {
  readonly times: number;
  readonly jobs: readonly SimulatedJob[];
  readonly arrivals: SimulatedArrivals | null;
  /** of the jobs with a promise, the share kept, averaged over plays; null when nothing was promised */
  readonly kept: MeanOfPlays | null;
  /** load-hours of waiting a play */
  readonly delayHours: MeanOfPlays;
  /** h of waiting a play for the other end of the same part, which no resource would shorten */
  readonly otherEndHours: number;
  /** openings, hands, tanks, supplies */
  readonly resources: readonly SimulatedResource[];
  /**
   * The resource that was waited for most, null when nothing waited. Each load-hour of waiting is laid to what was
   * missing at that moment; when a tank was blocked by a load that was done, to what kept it from being pulled.
   * Waiting, not use, defines it: a tank in use all day delays nobody if nothing is booked behind it.
   */
  readonly bottleneck: SimulatedResource | null;
  /** by play, for comparing with the same plays of another shop */
  readonly plays: { readonly kept: Float64Array; readonly delayHours: Float64Array };
};

/** The same plays in a shop that has something more, less those in the shop as it is. */
export type WhatIf = {
  readonly changed: SimulatedWeeks;
  /** of the share of promises kept, −1 to 1; null when nothing was promised */
  readonly kept: MeanOfPlays | null;
  /** h of waiting a play; below 0 is a gain */
  readonly delayHours: MeanOfPlays;
  /** jobs whose share kept differs, the most gained first */
  readonly jobs: readonly {
    readonly jobId: string;
    readonly before: number;
    readonly after: number;
  }[];
};
