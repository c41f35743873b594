import type { Board, BoardDip, BoardJob, BoardLoad } from "./board";
import type { Span } from "./calendar";
import type { ShopChange } from "./change";

/** A part that asks when it can be ready. */
export type NewPart = {
  /** its job; `heldUntilMs` of it does not delay the part itself */
  readonly job: BoardJob;
  /** one dip, or both ends of a part that goes in end for end: the second's `afterId` is the first's id */
  readonly dips: readonly [BoardDip] | readonly [BoardDip, BoardDip];
  /** of each tank, the booked loads that one of the dips might share; `board.share` has the last word */
  readonly joinable?: ReadonlyMap<string, readonly string[]>;
};

/** Hours that the shop could open beside its usual ones, such as next Saturday. */
export type ExtraOpening = { readonly label: string; readonly span: Span };

export type PromiseQuestion = {
  readonly board: Board;
  /** all that is booked and not held, movable or not */
  readonly loads: readonly BoardLoad[];
  readonly part: NewPart;
  /** IANA zone of the shop, for the day of a promise */
  readonly timeZone: string;
  /** P50 of the part's hours over their P90, above 0, at most 1; without it no median is told */
  readonly medianShare?: number;
  readonly extraOpenings?: readonly ExtraOpening[];
  /** ids of the loads that may be asked to give way, if the part weighs more than what is in them */
  readonly mayGiveWay?: ReadonlySet<string>;
};

/** A way to do the part. */
export type PromisedSlot = {
  /** one load for each dip, in order */
  readonly loads: readonly BoardLoad[];
  /** nine times in ten it has left the bench by then, epoch ms */
  readonly doneMs: number;
  /** the day of `doneMs` in the shop's zone, YYYY-MM-DD */
  readonly day: string;
  /** as often before as after, in the same slots; null when no `medianShare` was given */
  readonly median: { readonly doneMs: number; readonly day: string } | null;
};

/** What stands against a start anywhere in a stretch of time. */
export type Obstacle =
  /** the part is not to be loaded yet */
  | { readonly kind: "RELEASE" }
  /** the other end is still in */
  | { readonly kind: "OTHER_END"; readonly dipId: string }
  | { readonly kind: "TANK_BUSY"; readonly tankId: string; readonly byId: string }
  /** the tank is free, but what is booked next would have to wait for so many hours */
  | {
      readonly kind: "GAP_TOO_SHORT";
      readonly tankId: string;
      readonly nextId: string;
      readonly shortHours: number;
    }
  /** nobody is there for as long as loading takes */
  | { readonly kind: "SHUT" }
  /** somebody is there, but every pair of hands is taken */
  | { readonly kind: "HANDS_TAKEN"; readonly byIds: readonly string[] }
  /** what draws from the supply leaves too little */
  | {
      readonly kind: "SUPPLY_FULL";
      readonly supplyId: string;
      readonly byIds: readonly string[];
      /** A that are missing */
      readonly shortA: number;
    };

/** An obstacle and when: no start from `fromMs` up to `untilMs` is possible. */
export type HeldBack = Span & Obstacle;

/** The load is done but stays in until it can be pulled and finished at once. */
export type WaitsForPull = {
  readonly hours: number;
  /** nobody there, or every pair of hands taken */
  readonly because: "SHUT" | "HANDS_TAKEN";
};

/** Why one dip of the promise begins no earlier, in its tank, and comes out no earlier. */
export type WhyNotEarlier = {
  readonly dipId: string;
  /** in order and without gaps, from now until the start; empty when it starts at once */
  readonly heldBack: readonly HeldBack[];
  readonly waitsForPull: WaitsForPull | null;
};

/** What happens to a load that gives way or is shared. */
export type MovedLoad = {
  readonly from: BoardLoad;
  readonly to: BoardLoad;
  /** jobs in it that kept their promised day before and would not any more */
  readonly lateJobIds: readonly string[];
};

export type HelpKind =
  | { readonly kind: "OPEN"; readonly opening: ExtraOpening }
  | Exclude<ShopChange, { readonly kind: "TANK" }>
  /** goes in with what is booked: `moved` has those loads as they would be */
  | { readonly kind: "SHARE"; readonly moved: readonly MovedLoad[] }
  | { readonly kind: "GIVE_WAY"; readonly moved: readonly MovedLoad[] };

/** A change that was tried on the board, and the part's new slot. */
export type Help = HelpKind & {
  readonly slot: PromisedSlot;
  /** h, at least 1; null when there was no slot at all before */
  readonly gainedHours: number | null;
  /** calendar days between the old promise and the new, 0 or more; null when there was none */
  readonly gainedDays: number | null;
};

export type EarliestPromise = {
  /** null when nothing fits before the horizon */
  readonly slot: PromisedSlot | null;
  readonly whyNotEarlier: readonly WhyNotEarlier[];
  /** the best in each other tank that the last dip may go in, soonest first */
  readonly runnersUp: readonly PromisedSlot[];
  /** the most gained first */
  readonly wouldHelp: readonly Help[];
};
