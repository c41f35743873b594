"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import type { TimeBoard } from "@/lib/services";
import { useShopChanges } from "../live/use-shop-changes";

/** How often the now-line moves. */
const TICK_MS = 15_000;
/** A board that is read anew each minute is late when it is older than this. */
const STALE_MS = 100_000;

export type SeenBoard = {
  readonly board: TimeBoard;
  /** by the shop's clock; the device's own may be wrong */
  readonly nowMs: number;
  /** whether changes are heard, and the last reading came through */
  readonly live: boolean;
  readonly ageMs: number;
  readonly reread: () => void;
};

/** The board as the page was given it, kept up to date while it is seen. */
export function useBoard(initial: TimeBoard, from: string, days: number): SeenBoard {
  const [given, setGiven] = useState(initial);
  const [board, setBoard] = useState(initial);
  if (initial !== given) {
    // The page was made anew: other days, or something was booked on it.
    setGiven(initial);
    setBoard(initial);
  }
  const reread = useReading(`/board/data?from=${from}&days=${days}`, setBoard);
  const heard = useShopChanges(reread);
  const nowMs = useShopNow(board.asOfMs);
  const ageMs = Math.max(0, nowMs - board.asOfMs);
  return { board, nowMs, live: heard && ageMs < STALE_MS, ageMs, reread };
}

/** Reads an address again; an answer that was overtaken by a later question is dropped, a failed one changes nothing. */
function useReading(address: string, show: (board: TimeBoard) => void): () => void {
  const asked = useRef<AbortController | null>(null);
  useEffect(() => () => asked.current?.abort(), [address]);
  return useCallback(() => {
    asked.current?.abort();
    const controller = new AbortController();
    asked.current = controller;
    read(address, controller.signal).then(
      (board) => {
        if (board && !controller.signal.aborted) show(board);
      },
      () => undefined, // no signal: the board says how old it is
    );
  }, [address, show]);
}

async function read(address: string, signal: AbortSignal): Promise<TimeBoard | null> {
  const response = await fetch(address, { signal });
  return response.ok ? ((await response.json()) as TimeBoard) : null;
}

/** Now by the shop's clock: what it was when the board was written, and what has gone by here since. */
function useShopNow(asOfMs: number): number {
  const [nowMs, setNow] = useState(asOfMs);
  useEffect(() => {
    const began = performance.now();
    const tick = (): void => setNow(Math.round(asOfMs + performance.now() - began));
    tick();
    const ticking = setInterval(tick, TICK_MS);
    return () => clearInterval(ticking);
  }, [asOfMs]);
  return nowMs;
}
