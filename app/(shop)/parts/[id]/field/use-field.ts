"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import type { FieldAnswer, FieldPicture, FieldQuestion } from "./worker-words";

export type Asked = Omit<FieldQuestion, "number">;

export type FieldState = {
  readonly picture: FieldPicture | null;
  /** how the picture that is shown was asked for */
  readonly asked: FieldQuestion | null;
  readonly length: { readonly value: number; readonly error: number } | null;
  /** why the last thing asked cannot be; the picture before it stays */
  readonly why: string | null;
  readonly busy: boolean;
};

const NOTHING: FieldState = { picture: null, asked: null, length: null, why: null, busy: true };

const madeWorker = (): Worker =>
  new Worker(new URL("./field-worker.ts", import.meta.url), { type: "module" });

type Listen = (answer: FieldAnswer, question: FieldQuestion) => void;

/** One worker and what it is at. While it is at something only the newest of what else is asked is kept. */
class Desk {
  private worker = madeWorker();
  private running: FieldQuestion | null = null;
  private waiting: FieldQuestion | null = null;

  constructor(private readonly listen: Listen) {
    this.attend();
  }

  ask(question: FieldQuestion): void {
    this.waiting = question;
    this.send();
  }

  /** Ends what takes long and is asked for no more: with its worker, since that hears nothing while it solves. */
  breakOff(): void {
    this.waiting = null;
    if (!this.running) return;
    this.end();
    this.worker = madeWorker();
    this.attend();
  }

  end(): void {
    this.worker.terminate();
    this.running = null;
    this.waiting = null;
  }

  private send(): void {
    if (this.running || !this.waiting) return;
    this.running = this.waiting;
    this.waiting = null;
    this.worker.postMessage(this.running);
  }

  private attend(): void {
    this.worker.onmessage = ({ data }: MessageEvent<FieldAnswer>) => {
      const question = this.running;
      if (question?.number !== data.number) return;
      // A full one says more after its picture: how exact that is.
      if (question.quick || data.kind !== "look") {
        this.running = null;
        this.send();
      }
      this.listen(data, question);
    };
  }
}

/** What is known once an answer has come; an answer older than the picture that is shown is dropped. */
function answered(
  before: FieldState,
  answer: FieldAnswer,
  question: FieldQuestion,
  newest: number,
): FieldState {
  if (answer.number < (before.asked?.number ?? 0)) return before;
  const busy = answer.number !== newest;
  switch (answer.kind) {
    case "length":
      return before.asked?.number === answer.number ? { ...before, length: answer } : before;
    case "none":
      return { ...before, why: answer.why, busy };
    case "look":
      return { picture: answer.picture, asked: question, length: null, why: null, busy };
  }
}

/**
 * The field of what was asked last, worked out beside the page. A quick one and a full one each have their worker: the
 * quick one is always ready for the next move, the full one is broken off when something newer is asked.
 */
export function useField(first: Asked): readonly [FieldState, (asked: Asked) => void] {
  const [state, setState] = useState<FieldState>(NOTHING);
  const desks = useRef<{ readonly quick: Desk; readonly full: Desk } | null>(null);
  const asking = useRef(first);
  const count = useRef(0);

  useEffect(() => {
    const listen: Listen = (answer, question) =>
      setState((before) => answered(before, answer, question, count.current));
    const made = { quick: new Desk(listen), full: new Desk(listen) };
    desks.current = made;
    // A quick look is there at once, and its worker warm for the first move.
    made.quick.ask({ ...asking.current, quick: true, number: ++count.current });
    made.full.ask({ ...asking.current, number: ++count.current });
    return () => {
      made.quick.end();
      made.full.end();
      desks.current = null;
    };
  }, []);

  const ask = useCallback((asked: Asked): void => {
    asking.current = asked;
    setState((before) => ({ ...before, busy: true }));
    desks.current?.full.breakOff();
    desks.current?.[asked.quick ? "quick" : "full"].ask({ ...asked, number: ++count.current });
  }, []);
  return [state, ask];
}
