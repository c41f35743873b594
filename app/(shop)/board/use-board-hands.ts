"use client";

import {
  type KeyboardEvent,
  type RefObject,
  useCallback,
  useEffect,
  useMemo,
  useRef,
  useState,
} from "react";
import type { TimeBoard } from "@/lib/services";
import type { UnitSystem } from "@/lib/units";
import type { Clock } from "./clock";
import type { Layout } from "./geometry";
import { hasMoved, type LiftedRun, wishOf } from "./moving";
import type { RunItem } from "./on-board";
import { useDrag } from "./use-drag";
import { type Hand, type Held, sentMove, useHand } from "./use-hand";
import { type Moves, useMoves } from "./use-moves";

type Asked = {
  readonly board: TimeBoard;
  readonly nowMs: number;
  readonly clock: Clock;
  readonly layout: Layout | null;
  readonly scrollerRef: RefObject<HTMLDivElement | null>;
  readonly units: UnitSystem;
  readonly reread: () => void;
};

/** How the run in the hand was lifted: by pointer it is carried, by keys it keeps them, by its button they go to a bar. */
export type Lifting = "pointer" | "keys" | "button";

export type BoardHands = Pick<Hand, "held" | "act"> & {
  readonly moves: Moves;
  readonly lifting: Lifting;
  readonly dragging: boolean;
  readonly lift: (runId: string, how: Lifting) => void;
  readonly put: () => Promise<void>;
  readonly giveUp: () => void;
  readonly undo: () => void;
  readonly onKey: (item: RunItem, tankId: string, event: KeyboardEvent<HTMLElement>) => void;
  readonly grip: ReturnType<typeof useDrag>;
};

/** Everything that moves runs on the board: pointer, keys, buttons, and what takes a move back. */
export function useBoardHands(asked: Asked): BoardHands {
  const { board, nowMs, clock, layout, scrollerRef, units, reread } = asked;
  const { held, act } = useHand(board, nowMs, clock);
  const moves = useMoves(reread, units);
  const [lifting, setLifting] = useState<Lifting>("keys");
  const [dragging, setDragging] = useState(false);
  const latestRef = useLatest({ held, board, moves });
  const refocus = useRefocus(board);

  const acts = useActs({ latestRef, act, setLifting, setDragging, refocus });
  const { lift, put, giveUp, undo } = acts;
  const onKey = useKeys({ latestRef, layout, act, lift, put, giveUp });
  useUndoKey(undo);
  const carrying = useMemo(
    () => ({
      scrollerRef,
      layout,
      act,
      tankIds: board.lanes.map(({ tankId }) => tankId),
      onLift: (item: RunItem) => lift(item.id, "pointer"),
      onDrop: () => void put(),
    }),
    [scrollerRef, layout, act, board, lift, put],
  );
  const grip = useDrag(carrying);
  return { held, act, moves, lifting, dragging, ...acts, onKey, grip };
}

type Acts = Pick<BoardHands, "lift" | "put" | "giveUp" | "undo">;

type ActsAsked = Pick<Hand, "act"> & {
  readonly latestRef: RefObject<Latest>;
  readonly setLifting: (how: Lifting) => void;
  readonly setDragging: (dragging: boolean) => void;
  readonly refocus: (runId: string) => void;
};

/** Lifting, putting down, giving up and taking back. */
function useActs({ latestRef, act, setLifting, setDragging, refocus }: ActsAsked): Acts {
  const lift = useCallback(
    (runId: string, how: Lifting) => {
      const run = liftedFrom(latestRef.current.board, runId);
      if (!run) return;
      latestRef.current.moves.tell("");
      setLifting(how);
      setDragging(how === "pointer");
      act({ kind: "lift", run });
    },
    [act, latestRef, setLifting, setDragging],
  );
  const giveUp = useCallback(() => {
    const { held: now, moves: all } = latestRef.current;
    if (now) all.tell(`Run ${now.run.number} stays where it was.`);
    setDragging(false);
    act({ kind: "drop" });
  }, [act, latestRef, setDragging]);
  const put = useCallback(async () => {
    setDragging(false);
    const { held: now, moves: all } = latestRef.current;
    if (!now) return;
    if (!hasMoved(now.hand)) act({ kind: "drop" });
    else if (!now.may) all.tell("It cannot be put down here.");
    else if (await all.move(sentMove(now.hand))) {
      act({ kind: "drop" });
      refocus(now.run.id);
    }
  }, [act, latestRef, refocus, setDragging]);
  const undo = useCallback(() => {
    const { board: now, moves: all } = latestRef.current;
    void all.undo((runId) => liftedFrom(now, runId));
  }, [latestRef]);
  return { lift, put, giveUp, undo };
}

type Latest = { readonly held: Held | null; readonly board: TimeBoard; readonly moves: Moves };

/** What handlers read when they are called, so that they need not be made anew with every step. */
function useLatest(now: Latest): RefObject<Latest> {
  const latestRef = useRef(now);
  useEffect(() => {
    latestRef.current = now;
  });
  return latestRef;
}

/** A run as the board shows it, ready to be lifted; null where it is not shown. */
function liftedFrom(board: TimeBoard, runId: string): LiftedRun | null {
  for (const { tankId, runs } of board.lanes) {
    const run = runs.find(({ id }) => id === runId);
    if (!run) continue;
    const { id, number, sequence, startsAtMs, endsAtMs } = run;
    return { id, number, sequence, tankId, startsAtMs, endsAtMs };
  }
  return null;
}

type Keys = Pick<BoardHands, "act" | "lift" | "put" | "giveUp"> & {
  readonly latestRef: RefObject<Latest>;
  readonly layout: Layout | null;
};

function useKeys({ latestRef, layout, act, lift, put, giveUp }: Keys): BoardHands["onKey"] {
  return useCallback(
    (item, _tankId, event) => {
      const { board, held } = latestRef.current;
      const upright = layout?.upright ?? false;
      const wish = wishOf(event, { upright, stepMs: board.stepMs });
      const mine = held?.run.id === item.id;
      if (!wish) return;
      if (wish.kind === "put" || wish.kind === "give up") {
        // Enter on a run that is not in the hand opens its sheet, as on any button.
        if (!mine) return;
        event.preventDefault();
        if (wish.kind === "put") void put();
        else giveUp();
        return;
      }
      event.preventDefault();
      if (!mine) lift(item.id, "keys");
      const endsAtMs = mine ? held.times.endsAtMs : item.run.endsAtMs;
      act(wish.kind === "end" ? { kind: "stretch", byMs: wish.byMs, endsAtMs } : wish);
    },
    [latestRef, layout, act, lift, put, giveUp],
  );
}

/** After a move the keys go on with the run where it is now. */
function useRefocus(board: TimeBoard): (runId: string) => void {
  const wanted = useRef<string | null>(null);
  useEffect(() => {
    if (wanted.current === null) return;
    const run = document.querySelector(`[data-run="${wanted.current}"]`);
    wanted.current = null;
    if (run instanceof HTMLElement) run.focus();
  }, [board]);
  return useCallback((runId: string) => {
    wanted.current = runId;
  }, []);
}

/** Ctrl+Z, but where somebody types: there it is the field's. */
function useUndoKey(undo: () => void): void {
  useEffect(() => {
    const key = (event: globalThis.KeyboardEvent): void => {
      if (event.key !== "z" || !(event.ctrlKey || event.metaKey) || event.shiftKey) return;
      const at = event.target;
      if (at instanceof HTMLElement && at.closest("input, textarea, select, dialog")) return;
      event.preventDefault();
      undo();
    };
    window.addEventListener("keydown", key);
    return () => window.removeEventListener("keydown", key);
  }, [undo]);
}
