"use client";

import { useState } from "react";
import { localTimeAt } from "@/lib/scheduling";
import type { BoardHold, Lane, TimeBoard } from "@/lib/services";
import { Badge, Confirm, Form, SelectField, Submit, TextField } from "@/app/ui";
import { randomKey } from "../random-key";
import { changeHoldAction, endHoldAction, holdAction } from "./actions";
import type { Clock } from "./clock";
import { Sheet } from "./sheet";
import { capital, HOLD_WORD, holdLabel } from "./words";

const HOUR_MS = 3_600_000;

const KINDS = (["BATH_CHANGE", "ANODE_CHANGE", "MAINTENANCE"] as const).map((value) => ({
  value,
  label: capital(HOLD_WORD[value]),
}));

type NewHoldProps = {
  readonly board: TimeBoard;
  readonly nowMs: number;
  readonly onClose: () => void;
};

/** Books work on a tank: no load goes in meanwhile. */
export function NewHoldSheet({ board, nowMs, onClose }: NewHoldProps) {
  // One key for one piece of work: sent twice over a weak signal, it is booked once.
  const [key] = useState(randomKey);
  const [startsAt] = useState(() => Math.ceil(nowMs / HOUR_MS) * HOUR_MS);
  const local = (ms: number): string => localTimeAt(ms, board.timeZone);
  return (
    <Sheet title="Book other work on a tank" onClose={onClose}>
      <Form action={holdAction} label="Other work" className="space-y-4">
        <input type="hidden" name="idempotencyKey" value={key} />
        <SelectField
          name="tankId"
          label="Tank"
          options={board.lanes.map(({ tankId, name }) => ({ value: tankId, label: name }))}
          required
        />
        <SelectField name="kind" label="What is done" options={KINDS} required />
        <Span startsAt={local(startsAt)} endsAt={local(startsAt + 2 * HOUR_MS)} />
        <TextField name="note" label="Note" />
        <Submit size="bench" className="w-full">
          Book it
        </Submit>
      </Form>
    </Sheet>
  );
}

function Span({ startsAt, endsAt }: { readonly startsAt: string; readonly endsAt: string }) {
  return (
    <>
      <TextField
        name="startsAt"
        label="From"
        type="datetime-local"
        defaultValue={startsAt}
        required
      />
      <TextField name="endsAt" label="Until" type="datetime-local" defaultValue={endsAt} required />
    </>
  );
}

type HoldSheetProps = {
  readonly hold: BoardHold;
  readonly lane: Lane;
  readonly clock: Clock;
  readonly moves: boolean;
  readonly onClose: () => void;
};

/** Work on a tank: give it another time, say that it is done, or give it up. */
export function HoldSheet({ hold, lane, clock, moves, onClose }: HoldSheetProps) {
  const local = (ms: number): string => localTimeAt(ms, clock.timeZone);
  return (
    <Sheet title={capital(HOLD_WORD[hold.kind])} kicker={lane.name} onClose={onClose}>
      <p>{holdLabel(hold, lane.name, clock)}.</p>
      {hold.done ? <Badge tone="zinc">done</Badge> : null}
      {moves && !hold.done ? (
        <>
          <Form action={endHoldAction} label="Done" className="grid">
            <input type="hidden" name="holdId" value={hold.id} />
            <input type="hidden" name="state" value="DONE" />
            <Submit size="bench">It is done</Submit>
          </Form>
          <Form
            key={hold.sequence}
            action={changeHoldAction}
            label="Another time"
            className="space-y-4 border-t border-line pt-4"
          >
            <input type="hidden" name="holdId" value={hold.id} />
            <input type="hidden" name="sequence" value={hold.sequence} />
            <Span startsAt={local(hold.startsAtMs)} endsAt={local(hold.endsAtMs)} />
            <TextField name="note" label="Note" defaultValue={hold.note} />
            <Submit kind="plain" className="min-h-12 w-full">
              Change it
            </Submit>
          </Form>
          <Confirm
            label="Give it up"
            question="The tank is free for loads in this time again."
            action={endHoldAction}
            confirm="Give it up"
          >
            <input type="hidden" name="holdId" value={hold.id} />
            <input type="hidden" name="state" value="CANCELLED" />
          </Confirm>
        </>
      ) : null}
    </Sheet>
  );
}
