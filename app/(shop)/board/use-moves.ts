"use client";

import { useCallback, useState } from "react";
import type { Moved } from "@/lib/services";
import { said, type UnitSystem } from "@/lib/units";
import type { Answer } from "./answer";
import { moveAction, type SentMove } from "./move-actions";
import type { RunPlace } from "./moving";
import { afterUndo, backOf, type Done } from "./undo";

export type Moves = {
  /** newest last */
  readonly done: readonly Done[];
  /** why the last move was refused, or that it was taken back; "" for nothing to tell */
  readonly told: string;
  readonly busy: boolean;
  /** @returns whether it was written */
  readonly move: (sent: SentMove) => Promise<boolean>;
  /** takes the last move back; `find` gives a run as the board shows it */
  readonly undo: (
    find: (runId: string) => (RunPlace & { sequence: number }) | null,
  ) => Promise<void>;
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

  const undo: Moves["undo"] = useCallback(
    async (find) => {
      const last = done.at(-1);
      if (!last) return;
      const back = backOf(last, find(last.runId));
      if (typeof back === "string") {
        setDone((all) => all.slice(0, -1));
        tell(back);
        return;
      }
      const moved = await send(back);
      if (!moved) return;
      setDone((all) => afterUndo(all, moved));
      tell(`Run ${last.number} is back where it was.`);
    },
    [done, send],
  );

  return { done, told, busy, move, undo, tell };
}

function lost(error: unknown): Answer<Moved> {
  // A request that got no answer fails with a TypeError in every browser; faults go on.
  if (!(error instanceof TypeError)) throw error;
  return { ok: false, message: LOST };
}
