"use client";

import { useEffect, useRef } from "react";
import { instantOf, localTimeAt } from "@/lib/scheduling";
import type { TimeBoard } from "@/lib/services";
import { Button } from "@/app/ui";
import type { Clock } from "./clock";
import type { HandAct } from "./moving";
import { nameOf } from "./run-sheet";
import type { Held } from "./use-hand";

const MINUTE_MS = 60_000;

type MoveBarProps = {
  readonly held: Held;
  readonly board: TimeBoard;
  readonly clock: Clock;
  readonly busy: boolean;
  /** why the shop refused it; "" while it did not */
  readonly told: string;
  readonly act: (act: HandAct) => void;
  readonly onPut: () => void;
  readonly onGiveUp: () => void;
  /** lifted by its button: the keys go to the bar then, else they stay with the run */
  readonly takesFocus: boolean;
};

/** A run in the hand, moved by buttons: under the thumb on a phone, along the foot of a wide screen. */
export function MoveBar(props: MoveBarProps) {
  const { held, board, clock, busy, told, act, onPut, onGiveUp, takesFocus } = props;
  const { run, times, may, moved } = held;
  const first = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (takesFocus) first.current?.focus();
  }, [takesFocus]);
  const where = board.lanes.find(({ tankId }) => tankId === held.hand.tankId)?.name ?? "";
  return (
    <section
      aria-label={`Moving ${nameOf(run)}`}
      className="fixed inset-x-0 bottom-14 z-50 max-h-[62dvh] overflow-y-auto border-t-4 border-magnetite bg-sheet px-3 py-2 sm:bottom-0 sm:px-6 sm:py-3"
      onKeyDown={(event) => {
        if (event.key === "Escape") onGiveUp();
      }}
    >
      <div className="mx-auto grid max-w-6xl gap-x-8 gap-y-2 sm:grid-cols-[1fr_auto]">
        <div ref={first} tabIndex={-1} className="min-w-0 outline-none">
          <p className="font-bold">{nameOf(run)}</p>
          <p className="text-lg leading-snug">
            {where}, {clock.when(times.startsAtMs)}, out {clock.when(times.endsAtMs)}
          </p>
          <Verdict held={held} told={told} />
        </div>
        <div className="grid content-start gap-2">
          <Steppers act={act} endsAtMs={times.endsAtMs} />
          <Exact held={held} board={board} act={act} />
          <div className="grid grid-cols-2 gap-2">
            <Button
              type="button"
              className="min-h-12"
              disabled={busy || !moved || !may}
              onClick={onPut}
            >
              Put it here
            </Button>
            <Button type="button" kind="plain" className="min-h-12" onClick={onGiveUp}>
              Leave it
            </Button>
          </div>
        </div>
      </div>
    </section>
  );
}

function Verdict({ held: { words, asking, moved }, told }: Pick<MoveBarProps, "held" | "told">) {
  if (asking) return <p className="text-zinc">Asking what it takes in this tank …</p>;
  return (
    <ul className="text-sm leading-snug">
      {told ? <li className="font-semibold text-oxide">▲ {told}</li> : null}
      {words.map((fault) => (
        <li key={fault.words} className={fault.refused ? "text-oxide" : "text-brass"}>
          <span aria-hidden="true">{fault.refused ? "▲ " : "◆ "}</span>
          {fault.words}
        </li>
      ))}
      {words.length === 0 && !told ? (
        <li className="text-bath">
          <span aria-hidden="true">● </span>
          {moved ? "Nothing stands against it." : "Not moved yet."}
        </li>
      ) : null}
    </ul>
  );
}

const STEPS = [
  { label: "−1 h", byMs: -60 * MINUTE_MS, name: "An hour earlier" },
  { label: "−15 min", byMs: -15 * MINUTE_MS, name: "15 minutes earlier" },
  { label: "+15 min", byMs: 15 * MINUTE_MS, name: "15 minutes later" },
  { label: "+1 h", byMs: 60 * MINUTE_MS, name: "An hour later" },
] as const;

function Steppers({
  act,
  endsAtMs,
}: {
  readonly act: MoveBarProps["act"];
  readonly endsAtMs: number;
}) {
  const stretch = (byMs: number) => () => act({ kind: "stretch", byMs, endsAtMs });
  return (
    <div className="grid grid-cols-6 gap-1">
      {STEPS.map(({ label, byMs, name }) => (
        <Step key={label} name={name} onClick={() => act({ kind: "shift", byMs })}>
          {label}
        </Step>
      ))}
      <Step name="Held 15 minutes less" onClick={stretch(-15 * MINUTE_MS)}>
        shorter
      </Step>
      <Step name="Held 15 minutes longer" onClick={stretch(15 * MINUTE_MS)}>
        longer
      </Step>
    </div>
  );
}

function Step({
  name,
  onClick,
  children,
}: {
  readonly name: string;
  readonly onClick: () => void;
  readonly children: string;
}) {
  return (
    <Button
      type="button"
      kind="plain"
      aria-label={name}
      className="min-h-12 !px-1 text-sm whitespace-nowrap"
      onClick={onClick}
    >
      {children}
    </Button>
  );
}

const BOX =
  "min-h-12 w-full rounded-[var(--radius-plate)] border border-rim bg-sheet px-2 text-magnetite";

/** Another tank, or a time that is typed. */
function Exact({ held, board, act }: Pick<MoveBarProps, "held" | "board" | "act">) {
  return (
    <div className="grid grid-cols-2 gap-2">
      <label>
        <span className="sr-only">Tank</span>
        <select
          className={BOX}
          value={held.hand.tankId}
          onChange={(event) => act({ kind: "carry", tankId: event.target.value })}
        >
          {board.lanes.map(({ tankId, name }) => (
            <option key={tankId} value={tankId}>
              {name}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span className="sr-only">Load at</span>
        <input
          type="datetime-local"
          className={BOX}
          value={localTimeAt(held.times.startsAtMs, board.timeZone)}
          onChange={(event) => {
            // Half a time, while it is typed, moves nothing.
            if (!event.target.value) return;
            act({ kind: "carry", startsAtMs: instantOf(event.target.value, board.timeZone) });
          }}
        />
      </label>
    </div>
  );
}
