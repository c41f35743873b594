/** A run in the hand: lifted, carried, stretched, put down or given up. Pure: nothing is written before it is put down. */
import { snapped } from "./geometry";

const HOUR_MS = 3_600_000;

export type RunPlace = {
  readonly tankId: string;
  readonly startsAtMs: number;
  readonly endsAtMs: number;
};

/** A run as it was when it was lifted. */
export type LiftedRun = RunPlace & {
  readonly id: string;
  readonly number: number;
  readonly sequence: number;
};

export type InHand = {
  readonly run: LiftedRun;
  readonly tankId: string;
  readonly startsAtMs: number;
  /** null: as long as the load needs there */
  readonly endsAtMs: number | null;
};

export type HandAct =
  | { readonly kind: "lift"; readonly run: LiftedRun }
  | { readonly kind: "shift"; readonly byMs: number }
  | { readonly kind: "lane"; readonly by: 1 | -1 }
  | { readonly kind: "stretch"; readonly byMs: number; readonly endsAtMs: number }
  | { readonly kind: "carry"; readonly tankId?: string; readonly startsAtMs?: number }
  | { readonly kind: "pull end"; readonly endsAtMs: number }
  | { readonly kind: "drop" };

export type Grid = { readonly stepMs: number; readonly tankIds: readonly string[] };

/** @returns what is in the hand after an act; null when nothing is */
export function handAfter(hand: InHand | null, act: HandAct, grid: Grid): InHand | null {
  if (act.kind === "drop") return null;
  if (act.kind === "lift") return lifted(act.run);
  if (!hand) return null;
  switch (act.kind) {
    case "shift":
      return carried(hand, { startsAtMs: hand.startsAtMs + act.byMs }, grid);
    case "lane":
      return carried(hand, { tankId: neighbour(hand.tankId, act.by, grid.tankIds) }, grid);
    case "carry":
      return carried(hand, act, grid);
    case "stretch":
      return stretched(hand, act.endsAtMs + act.byMs, grid);
    case "pull end":
      return stretched(hand, act.endsAtMs, grid);
  }
}

const lifted = (run: LiftedRun): InHand => ({
  run,
  tankId: run.tankId,
  startsAtMs: run.startsAtMs,
  endsAtMs: run.endsAtMs,
});

/** Another start or tank: the end follows from what the load needs there. Back at its own place it is as it was. */
function carried(
  hand: InHand,
  to: { readonly tankId?: string; readonly startsAtMs?: number },
  { stepMs }: Grid,
): InHand {
  const tankId = to.tankId ?? hand.tankId;
  const wanted = to.startsAtMs ?? hand.startsAtMs;
  // A run that lies off the grid keeps its own start as one of the places it can have.
  const startsAtMs = wanted === hand.run.startsAtMs ? wanted : snapped(wanted, stepMs);
  if (tankId === hand.tankId && startsAtMs === hand.startsAtMs) return hand;
  const home = tankId === hand.run.tankId && startsAtMs === hand.run.startsAtMs;
  return { ...hand, tankId, startsAtMs, endsAtMs: home ? hand.run.endsAtMs : null };
}

function stretched(hand: InHand, endsAtMs: number, { stepMs }: Grid): InHand {
  const end = Math.max(hand.startsAtMs + stepMs, snapped(endsAtMs, stepMs));
  return end === hand.endsAtMs ? hand : { ...hand, endsAtMs: end };
}

function neighbour(tankId: string, by: number, tankIds: readonly string[]): string {
  const index = tankIds.indexOf(tankId) + by;
  return tankIds[Math.max(0, Math.min(tankIds.length - 1, index))] ?? tankId;
}

/** Whether anything changed since it was lifted. */
export const hasMoved = ({ run, tankId, startsAtMs, endsAtMs }: InHand): boolean =>
  tankId !== run.tankId || startsAtMs !== run.startsAtMs || endsAtMs !== run.endsAtMs;

/** What a key asks for; “end” for a stretch, whose end only the board knows. */
export type KeyWish =
  | { readonly kind: "shift"; readonly byMs: number }
  | { readonly kind: "lane"; readonly by: 1 | -1 }
  | { readonly kind: "end"; readonly byMs: number }
  | { readonly kind: "put" }
  | { readonly kind: "give up" };

const ACROSS_ARROWS = {
  back: "ArrowLeft",
  on: "ArrowRight",
  before: "ArrowUp",
  after: "ArrowDown",
};
const UPRIGHT_ARROWS = {
  back: "ArrowUp",
  on: "ArrowDown",
  before: "ArrowLeft",
  after: "ArrowRight",
};

type Key = { readonly key: string; readonly shiftKey: boolean; readonly altKey: boolean };

/**
 * Keys of a run: arrows along time move it by a step, with Shift by an hour, with Alt they stretch its end, as [ and ]
 * do; arrows across time take it to another tank. On an upright board the arrows follow what is drawn.
 */
export function wishOf(
  { key, shiftKey, altKey }: Key,
  { upright, stepMs }: { readonly upright: boolean; readonly stepMs: number },
): KeyWish | null {
  const byMs = shiftKey ? HOUR_MS : stepMs;
  const along = altKey ? "end" : "shift";
  const arrows = upright ? UPRIGHT_ARROWS : ACROSS_ARROWS;
  const wishes: Readonly<Record<string, KeyWish>> = {
    [arrows.back]: { kind: along, byMs: -byMs },
    [arrows.on]: { kind: along, byMs },
    [arrows.before]: { kind: "lane", by: -1 },
    [arrows.after]: { kind: "lane", by: 1 },
    "[": { kind: "end", byMs: -byMs },
    "]": { kind: "end", byMs },
    "{": { kind: "end", byMs: -HOUR_MS },
    "}": { kind: "end", byMs: HOUR_MS },
    Enter: { kind: "put" },
    Escape: { kind: "give up" },
  };
  return wishes[key] ?? null;
}
