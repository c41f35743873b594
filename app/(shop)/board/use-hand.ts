"use client";

import { useCallback, useEffect, useMemo, useReducer, useState } from "react";
import type { LoadTimes, TankNeeds } from "@/lib/scheduling";
import type { BoardRun, MoveCheck, TankForRun, TimeBoard } from "@/lib/services";
import type { Clock } from "./clock";
import { type FaultWords, faultWords, namerOf, promiseWords } from "./fault-words";
import { checkMoveAction, type SentMove, tanksForRunAction } from "./move-actions";
import { type Grid, type HandAct, handAfter, hasMoved, type InHand } from "./moving";
import { drawnTimes, type Problem, problemOf, tryHand } from "./problem";
import { daysLate, dueOf } from "./words";

/** The shop is asked about another tank once the run has rested over it so long. */
const REST_MS = 350;

/** A run in the hand with everything that is to be shown of it. */
export type Held = {
  readonly hand: InHand;
  readonly run: BoardRun;
  readonly times: LoadTimes;
  readonly words: readonly FaultWords[];
  /** whether it may be put down here, as far as is known */
  readonly may: boolean;
  readonly moved: boolean;
  /** what another tank would take is still being asked */
  readonly asking: boolean;
  readonly treatHours: number;
};

export type Hand = {
  readonly held: Held | null;
  readonly act: (act: HandAct) => void;
};

/** What is in the hand, checked against the rules at every step. */
export function useHand(board: TimeBoard, nowMs: number, clock: Clock): Hand {
  const grid = useMemo<Grid>(
    () => ({ stepMs: board.stepMs, tankIds: board.lanes.map(({ tankId }) => tankId) }),
    [board],
  );
  const step = useCallback(
    (hand: InHand | null, act: HandAct) => handAfter(hand, act, grid),
    [grid],
  );
  const [hand, act] = useReducer(step, null);
  // Rounded, so that the problem is not put anew with every tick.
  const minuteMs = Math.floor(nowMs / 60_000) * 60_000;
  const problem = useMemo(() => problemOf(board, minuteMs), [board, minuteMs]);
  const tanks = useTanks(hand?.run.id ?? null);
  const told = useShopCheck(hand);
  const held = useMemo(
    () => (hand ? heldOf(hand, { board, problem, tanks, told, clock }) : null),
    [hand, board, problem, tanks, told, clock],
  );
  return { held, act };
}

type Known = {
  readonly board: TimeBoard;
  readonly problem: Problem;
  readonly tanks: readonly TankForRun[] | null;
  readonly told: MoveCheck | null;
  readonly clock: Clock;
};

function heldOf(hand: InHand, known: Known): Held | null {
  const { board, problem, tanks, clock } = known;
  const run = board.lanes.flatMap(({ runs }) => runs).find(({ id }) => id === hand.run.id);
  if (!run) return null; // somebody cancelled it meanwhile
  const home = hand.tankId === hand.run.tankId;
  const other = home ? null : (tanks?.find(({ tankId }) => tankId === hand.tankId) ?? null);
  const needs: TankNeeds = other?.needs ?? { hours: run.treatHours, currentA: run.currentA };
  const trial = tryHand(problem, hand, run, needs);
  const times = drawnTimes(problem, trial, hand, run, needs);
  const late = daysLate(times.benchUntilMs, dueOf(run.parts), clock.timeZone);
  const found = [
    ...(other && !other.needs ? [{ words: other.why, refused: true }] : []),
    ...trial.faults.map((fault) => faultWords(fault, namerOf(board), clock)),
    ...promiseWords(late),
  ];
  const words = [...found, ...shopWords(found, home ? null : known.told)];
  const asking = !home && tanks === null;
  const may = !asking && !words.some(({ refused }) => refused);
  const moved = hasMoved(hand);
  return { hand, run, times, words, moved, may, asking, treatHours: needs.hours };
}

/** The shop's own words, where the browser found nothing that it would say too. */
function shopWords(found: readonly FaultWords[], told: MoveCheck | null): readonly FaultWords[] {
  if (!told || found.some(({ refused }) => refused)) return [];
  return told.words.map((words) => ({ words, refused: true }));
}

/** What the run in the hand would ask of each tank; null until it is known. */
function useTanks(runId: string | null): readonly TankForRun[] | null {
  const [known, setKnown] = useState<{ runId: string; tanks: readonly TankForRun[] } | null>(null);
  useEffect(() => {
    if (runId === null) return;
    let wanted = true;
    tanksForRunAction(runId).then(
      (answer) => {
        if (wanted && answer.ok) setKnown({ runId, tanks: answer.value });
      },
      () => undefined, // no signal: the move itself will say so
    );
    return () => {
      wanted = false;
    };
  }, [runId]);
  return known && known.runId === runId ? known.tanks : null;
}

/** The shop's own word on a run that rests over another tank: its rules know more than the browser does. */
function useShopCheck(hand: InHand | null): MoveCheck | null {
  const [told, setTold] = useState<{ hand: InHand; check: MoveCheck } | null>(null);
  useEffect(() => {
    if (!hand || hand.tankId === hand.run.tankId) return;
    let wanted = true;
    const timer = setTimeout(() => {
      checkMoveAction(sentMove(hand)).then(
        (answer) => {
          if (wanted && answer.ok) setTold({ hand, check: answer.value });
        },
        () => undefined,
      );
    }, REST_MS);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [hand]);
  return told && told.hand === hand ? told.check : null;
}

/** What is in the hand, as the shop is told of it. */
export const sentMove = ({ run, tankId, startsAtMs, endsAtMs }: InHand): SentMove => ({
  runId: run.id,
  tankId,
  startsAt: startsAtMs,
  ...(endsAtMs === null ? {} : { endsAt: endsAtMs }),
  sequence: run.sequence,
});
