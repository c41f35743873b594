"use client";

import { useCallback, useState } from "react";
import type { Moved } from "@/lib/services";
import { said, type UnitSystem } from "@/lib/units";
import type { Answer } from "./answer";
import { moveAction, type SentMove } from "./move-actions";

/** A move of this session that can be taken back. */
export type Done = Pick<Moved, "runId" | "number" | "before" | "after" | "sequence">;

export type Moves = {
  /** newest last */
  readonly done: readonly Done[];
  /** why the last move was refused, or that it was taken back; "" for nothing to tell */
  readonly told: string;
  readonly busy: boolean;
  /** @returns whether it was written */
  readonly move: (sent: SentMove) => Promise<boolean>;
  readonly undo: () => Promise<void>;
  readonly tell: (words: string) => void;
};

const LOST = "No answer from the shop's service. The run is where it was: look at the signal.";

/** Writes moves and takes them back. Taking back is a move too: refused where somebody took the place meanwhile. */
export function useMoves(onWritten: () => void, units: UnitSystem): Moves {
  const [done, setDone] = useState<readonly Done[]>([]);
  const [told, tell] = useState("");
  const [busy, setBusy] = useState(false);

  const send = useCallback(
    async (sent: SentMove): Promise<Moved | null> => {
      setBusy(true);
      const answer = await moveAction(sent).catch(lost);
      setBusy(false);
      if (answer.ok) onWritten();
      else tell(said(answer.message, units));
      return answer.ok ? answer.value : null;
    },
    [onWritten, units],
  );

  const move = useCallback(
    async (sent: SentMove): Promise<boolean> => {
      const moved = await send(sent);
      if (moved) {
        setDone((before) => [...before, moved]);
        tell("");
      }
      return moved !== null;
    },
    [send],
  );

  const undo = useCallback(async (): Promise<void> => {
    const last = done.at(-1);
    if (!last) return;
    const moved = await send(backOf(last, done));
    if (!moved) return;
    setDone((all) => withSequence(all.slice(0, -1), moved));
    tell(`Run ${last.number} is back where it was.`);
  }, [done, send]);

  return { done, told, busy, move, undo, tell };
}

function lost(error: unknown): Answer<Moved> {
  // A request that got no answer fails with a TypeError in every browser; faults go on.
  if (!(error instanceof TypeError)) throw error;
  return { ok: false, message: LOST };
}

/** The move that takes one back. */
function backOf({ runId, before, sequence }: Done, all: readonly Done[]): SentMove {
  return {
    runId,
    tankId: before.tankId,
    startsAt: before.startsAtMs,
    endsAt: before.endsAtMs,
    sequence: latestSequence(all, runId) ?? sequence,
  };
}

/** The highest number that this session knows of a run. */
function latestSequence(all: readonly Done[], runId: string): number | undefined {
  return all.findLast((one) => one.runId === runId)?.sequence;
}

/** After a move was taken back, an earlier one of the same run can be: it has seen this change too. */
export function withSequence(all: readonly Done[], { runId, sequence }: Moved): readonly Done[] {
  return all.map((one) => (one.runId === runId ? { ...one, sequence } : one));
}
