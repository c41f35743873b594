import type { Span } from "./calendar";

/** A supply that one or more tanks hang on. */
export type BoardSupply = {
  readonly id: string;
  /** what it gives without end, A: the loads on it at any instant stay within this together */
  readonly ratingA: number;
};

/** A tank: a batch machine, one load at a time. */
export type BoardTank = { readonly id: string; readonly supplyId: string };

/**
 * What holds a tank and is not to be moved: a running load, one that was fixed, a bath change, an anode replacement,
 * maintenance. What holds hands without a tank (a bath change needs them too) names them in `attended`.
 */
export type Held = Span & {
  readonly id: string;
  readonly tankId: string;
  /** what it draws from the tank's supply all the while, A; 0 for what is not a load */
  readonly currentA: number;
  /** stretches in which it keeps one pair of hands */
  readonly attended: readonly Span[];
};

/** A customer's job: done when the last of its parts has left the bench. */
export type BoardJob = {
  readonly id: string;
  /** the end of the promised day; null when nothing was promised */
  readonly dueMs: number | null;
  /** worth of an hour of being late: 1, more for a rush job */
  readonly weight: number;
  /** when what is already fixed or running of this job leaves the bench; null when nothing is */
  readonly heldUntilMs: number | null;
};

/** What one set of dips asks of one tank. */
export type TankNeeds = {
  /** h under current until nine in ten such loads are done */
  readonly hours: number;
  readonly currentA: number;
};

/** One dip of one part: a part that goes in end for end has two. */
export type BoardDip = {
  readonly id: string;
  readonly jobId: string;
  /** not loaded before this instant */
  readonly releaseMs: number;
  /** the dip that must be pulled before this one is loaded (the other end of the part); null for none */
  readonly afterId: string | null;
  /** tanks it may go in, alone, and what it asks there; never empty */
  readonly tanks: ReadonlyMap<string, TankNeeds>;
  /** hands needed at once after the pull, min: rinse, brush, dry, protect before it rusts again */
  readonly benchMinutes: number;
};

/** One load on the board: where, when, and what is in it. */
export type BoardLoad = {
  /** a booked run's id; of a load that is not booked yet, any other text of its own */
  readonly id: string;
  readonly dipIds: readonly string[];
  readonly tankId: string;
  readonly needs: TankNeeds;
  /** loading begins: the tank is held from here … */
  readonly startsAtMs: number;
  /** … pulling begins … */
  readonly pullAtMs: number;
  /** … up to here, when it is out … */
  readonly endsAtMs: number;
  /** … and finished on the bench, without waiting */
  readonly benchUntilMs: number;
};

/** The whole problem. Times are epoch ms; starts and pulls lie on multiples of `stepMs`. */
export type Board = {
  readonly nowMs: number;
  /** nothing is planned past this */
  readonly horizonMs: number;
  readonly stepMs: number;
  /** when somebody is there, in order and apart, as `openingsBetween` gives them */
  readonly openings: readonly Span[];
  /** hands needed to load a tank, min, all within one opening */
  readonly loadMinutes: number;
  /** hands needed to pull, min; pulling and finishing lie within one opening together */
  readonly pullMinutes: number;
  /** how many pairs of hands there are: each load, pull and finish takes one for its whole length */
  readonly hands: number;
  readonly tanks: readonly BoardTank[];
  readonly supplies: readonly BoardSupply[];
  readonly held: readonly Held[];
  readonly jobs: readonly BoardJob[];
  readonly dips: readonly BoardDip[];
  /**
   * What several dips ask of a tank when they share a load there; null where they may not: size, packing, salt, goal or
   * hours do not agree. Asked often: remember the answers.
   */
  readonly share: (tankId: string, dipIds: readonly string[]) => TankNeeds | null;
};

/** How good a schedule is: less is better, the first first. */
export type Score = {
  /** dips that found no place */
  readonly unplaced: number;
  /** Σ weight · hours late, over jobs */
  readonly weightedTardinessH: number;
  /** from `nowMs` until the last load has left the bench, h */
  readonly makespanH: number;
};

export type Schedule = {
  readonly loads: readonly BoardLoad[];
  /** dips that find no place before the horizon */
  readonly unplaced: readonly string[];
};
