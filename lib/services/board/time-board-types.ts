import type { HoldKind, RunState } from "@/lib/data";
import type { Span } from "@/lib/scheduling";
import type { TankShape } from "@/lib/tanks";

/** The board of tanks over time, as plain data: a browser gets it whole. Times are epoch ms. */
export type TimeBoard = Span & {
  readonly asOfMs: number;
  readonly timeZone: string;
  readonly days: readonly BoardDay[];
  /** when somebody is there, from the span's start until four weeks after its end: a late pull is found in it too */
  readonly openings: readonly Span[];
  /** starts and pulls lie on multiples of it */
  readonly stepMs: number;
  readonly loadMinutes: number;
  readonly pullMinutes: number;
  /** people at the bench at once */
  readonly hands: number;
  readonly supplies: readonly {
    readonly id: string;
    readonly name: string;
    /** A without end */
    readonly ratingA: number;
  }[];
  readonly lanes: readonly Lane[];
};

export type BoardDay = Span & {
  /** YYYY-MM-DD */
  readonly day: string;
  /** nobody is there all day; the reason, or "" where none was given; null on an open day */
  readonly closed: string | null;
};

/** One tank and what holds it. */
export type Lane = {
  readonly tankId: string;
  readonly name: string;
  readonly place: string;
  readonly supplyId: string | null;
  readonly shape: TankShape;
  readonly state: "drained" | "still" | "bubbling";
  readonly levelMm: number;
  /** what keeps it from taking a load, in words; empty when it is ready */
  readonly lacks: readonly string[];
  /** charge until its first anode is due, A·h; null where none hangs */
  readonly anodeLeftAh: number | null;
  /** charge until its bath is spent, A·h; null where it is drained */
  readonly bathLeftAh: number | null;
  /** by start */
  readonly runs: readonly BoardRun[];
  readonly holds: readonly BoardHold[];
};

export type BoardRun = {
  readonly id: string;
  readonly number: number;
  readonly state: RunState;
  readonly startsAtMs: number;
  /** out of the tank; of a pulled run when it was pulled */
  readonly endsAtMs: number;
  /** h under current asked by its plans */
  readonly treatHours: number;
  /** hands needed at once after the pull */
  readonly benchMinutes: number;
  readonly currentA: number;
  readonly chargeAh: number;
  /** stays where it is when the board is improved */
  readonly fixed: boolean;
  /** raised with each change: a move names the one it saw */
  readonly sequence: number;
  readonly assignedTo: { readonly id: string; readonly name: string } | null;
  readonly parts: readonly BoardPart[];
};

export type BoardPart = {
  readonly dipId: string;
  readonly partId: string;
  readonly mark: string;
  readonly description: string;
  readonly quantity: number;
  readonly jobId: string;
  readonly jobNumber: number;
  readonly rush: boolean;
  /** end of the promised day; null when nothing was promised */
  readonly dueMs: number | null;
  /** which end goes in, of how many */
  readonly end: number;
  readonly ends: number;
};

export type BoardHold = {
  readonly id: string;
  readonly kind: HoldKind;
  readonly done: boolean;
  readonly startsAtMs: number;
  readonly endsAtMs: number;
  readonly note: string;
  readonly sequence: number;
};
