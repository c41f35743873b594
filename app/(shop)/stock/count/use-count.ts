"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import { randomKey } from "../../random-key";
import {
  answered,
  cleared,
  type CountAnswer,
  type CountBook,
  type CountEntry,
  queued,
  readBook,
  rowKey,
  typedIn,
  waitingRows,
  writeBook,
} from "./count-book";

const TRY_AGAIN_MS = 15_000;

type Row = { readonly itemId: string; readonly lotId: string | null };

export type Counting = {
  readonly book: CountBook;
  readonly type: (row: Row, change: Parameters<typeof typedIn>[2]) => void;
  /** @param counted in the item's unit */
  readonly save: (row: Row, counted: number) => void;
  readonly clear: () => void;
};

/** The count on this phone: kept at every key, sent row by row, and again until the shop has it. */
export function useCount(personId: string): Counting {
  const [book, show] = useState<CountBook>({});
  const sending = useRef(false);

  // The storage is what counts: it also holds what another tab of this browser typed.
  const change = useCallback(
    (how: (book: CountBook) => CountBook): void => {
      const next = how(readBook(localStorage, personId));
      writeBook(localStorage, personId, next);
      show(next);
    },
    [personId],
  );

  const flush = useCallback(async (): Promise<void> => {
    if (sending.current) return;
    sending.current = true;
    try {
      for (const key of waitingRows(readBook(localStorage, personId))) {
        const entry = readBook(localStorage, personId)[key];
        if (!entry) continue;
        const answer = await send(entry);
        if (!answer) break;
        change((now) => answered(now, key, entry, answer));
      }
    } finally {
      sending.current = false;
    }
  }, [change, personId]);

  useAgain(
    useCallback(() => {
      change((kept) => kept);
      void flush();
    }, [change, flush]),
  );

  return {
    book,
    type: (row, what) => {
      change((now) => typedIn(now, row, what, randomKey()));
    },
    save: (row, counted) => {
      change((now) => queued(now, rowKey(row), counted, Date.now()));
      void flush();
    },
    clear: () => {
      change(cleared);
    },
  };
}

/** At once, when the signal comes back, and every now and then. */
function useAgain(work: () => void): void {
  useEffect(() => {
    const first = setTimeout(work, 0);
    const timer = setInterval(work, TRY_AGAIN_MS);
    window.addEventListener("online", work);
    return () => {
      clearTimeout(first);
      clearInterval(timer);
      window.removeEventListener("online", work);
    };
  }, [work]);
}

async function send(entry: CountEntry): Promise<CountAnswer> {
  const { idempotencyKey, itemId, lotId, counted, note, countedAtMs } = entry;
  const agoMs = Math.max(0, Date.now() - countedAtMs);
  try {
    const response = await fetch("/stock/count/save", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ idempotencyKey, itemId, lotId, counted, note, agoMs }),
    });
    if (response.status >= 500) return null;
    const answer = (await response.json()) as {
      readonly message?: string;
      readonly difference?: number;
      readonly costMinor?: number | null;
    };
    if (response.ok) {
      const { difference = 0, costMinor = null } = answer;
      return { kind: "saved", difference, costMinor };
    }
    return { kind: "refused", message: answer.message ?? "The shop did not take it." };
  } catch {
    return null;
  }
}
