"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import type { FieldLook } from "@/lib/field";
import type { FieldAnswer, FieldQuestion } from "./worker-words";

type Asked = Omit<FieldQuestion, "number">;

export type FieldState = {
  readonly look: FieldLook | null;
  /** how the picture that is shown was asked for */
  readonly asked: Asked | null;
  readonly length: { readonly value: number; readonly error: number } | null;
  /** why the last thing asked cannot be; the picture before it stays */
  readonly why: string | null;
  readonly busy: boolean;
};

const NOTHING: FieldState = { look: null, asked: null, length: null, why: null, busy: true };

/** What is known once an answer has come. How exact a bath is counts only while nothing newer was asked. */
function answered(
  before: FieldState,
  answer: FieldAnswer,
  question: FieldQuestion | null,
  newest: number,
): FieldState {
  switch (answer.kind) {
    case "length":
      return answer.number === newest ? { ...before, length: answer } : before;
    case "none":
      return { ...before, why: answer.why };
    case "look":
      return { ...before, look: answer.look, asked: question, why: null };
  }
}

/** The worker, one question at a time: while it is at one, only the newest of the others is kept. */
export function useField(first: Asked): readonly [FieldState, (asked: Asked) => void] {
  const [state, setState] = useState<FieldState>(NOTHING);
  const worker = useRef<Worker | null>(null);
  const running = useRef<FieldQuestion | null>(null);
  const waiting = useRef<Asked | null>(first);
  const count = useRef(0);

  /** Sends what waits, when the worker is free. */
  const send = useCallback((): void => {
    const asked = waiting.current;
    if (!worker.current || running.current) return;
    if (!asked) {
      setState((before) => ({ ...before, busy: false }));
      return;
    }
    waiting.current = null;
    running.current = { ...asked, number: ++count.current };
    worker.current.postMessage(running.current);
  }, []);

  useEffect(() => {
    const made = new Worker(new URL("./field-worker.ts", import.meta.url), { type: "module" });
    worker.current = made;
    made.onmessage = ({ data }: MessageEvent<FieldAnswer>) => {
      const question = running.current;
      setState((before) => answered(before, data, question, count.current));
      if (data.kind === "length") return;
      running.current = null;
      send();
    };
    send();
    return () => {
      made.terminate();
      worker.current = null;
      running.current = null;
    };
  }, [send]);

  const ask = useCallback(
    (asked: Asked): void => {
      waiting.current = asked;
      setState((before) => ({ ...before, busy: true, ...(asked.quick ? {} : { length: null }) }));
      send();
    },
    [send],
  );
  return [state, ask];
}
