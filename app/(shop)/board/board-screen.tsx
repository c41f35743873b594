"use client";

import { type ReactNode, useCallback, useMemo, useRef, useState } from "react";
import type { TimeBoard, WaitingPart } from "@/lib/services";
import { Button, useUnits } from "@/app/ui";
import { clockOf, type Place } from "./clock";
import { layoutFor } from "./geometry";
import { HoldSheet, NewHoldSheet } from "./hold-sheet";
import { Legend } from "./legend";
import { LiveLine } from "./live-line";
import { MoveBar } from "./move-bar";
import type { RunHandlers } from "./run-block";
import { RunSheet } from "./run-sheet";
import type { Offer } from "./slot-block";
import { SlotSheet } from "./slot-sheet";
import { type BoardSpan, DAYS } from "./span";
import { TanksOverTime } from "./tanks-over-time";
import { type BoardHands, useBoardHands } from "./use-board-hands";
import { useBoard } from "./use-board";
import { useRoom } from "./use-room";

export type Sought = {
  readonly part: WaitingPart;
  readonly offers: readonly Offer[];
  readonly plannedFor: string;
};

type BoardScreenProps = {
  readonly initial: TimeBoard;
  readonly span: BoardSpan;
  readonly place: Place;
  /** whether this person may move runs and book work */
  readonly moves: boolean;
  /** id of the person who looks */
  readonly me: string;
  /** the part that a free time is looked for */
  readonly sought: Sought | null;
  /** where that part is chosen */
  readonly chooser: ReactNode;
};

type Open =
  | { readonly kind: "run" | "hold"; readonly id: string }
  | { readonly kind: "slot"; readonly offer: Offer }
  | { readonly kind: "new hold" }
  | null;

/** The board as it is worked with. Drawn once the browser has measured its room; the list is there before that. */
export function BoardScreen(props: BoardScreenProps) {
  const { initial, span, place, moves, me, sought, chooser } = props;
  const { timeZone, locale } = place;
  const clock = useMemo(() => clockOf({ timeZone, locale }), [timeZone, locale]);
  const { board, nowMs, live, ageMs, reread } = useBoard(initial, span.from, DAYS[span.view]);
  const frameRef = useRef<HTMLDivElement>(null);
  const scrollerRef = useRef<HTMLDivElement>(null);
  const room = useRoom(frameRef);
  const layout = useMemo(
    () => (room ? layoutFor(span.view, room, board) : null),
    [room, span.view, board],
  );
  const units = useUnits();
  const hands = useBoardHands({ board, nowMs, clock, layout, scrollerRef, units, reread });
  const [open, setOpen] = useState<Open>(null);
  const close = useCallback(() => setOpen(null), []);
  const { onKey, grip } = hands;
  const handlers = useMemo<RunHandlers>(
    () => ({
      onKey,
      onGrip: grip.grip,
      onOpen: (id) => {
        if (!grip.wasDrag()) setOpen({ kind: "run", id });
      },
    }),
    [onKey, grip],
  );
  return (
    <div className="space-y-2">
      <div className="flex flex-wrap items-center gap-x-4 gap-y-2">
        {chooser}
        {moves ? (
          <Button
            type="button"
            kind="plain"
            className="min-h-12"
            onClick={() => setOpen({ kind: "new hold" })}
          >
            Book other work
          </Button>
        ) : null}
        <LiveLine live={live} ageMs={ageMs} asOf={clock.time(board.asOfMs)} />
      </div>
      <div ref={frameRef} className="-mx-4 min-h-90 sm:mx-0">
        {room && layout ? (
          <TanksOverTime
            {...{ board, nowMs, clock, layout, room, scrollerRef, handlers, moves }}
            held={hands.held}
            onHold={(id) => setOpen({ kind: "hold", id })}
            offers={sought?.offers ?? []}
            onOffer={(offer) => setOpen({ kind: "slot", offer })}
          />
        ) : null}
      </div>
      <HandLine hands={hands} clock={clock} board={board} />
      <Legend moves={moves} upright={layout?.upright ?? false} />
      <OpenSheet {...{ open, close, board, nowMs, clock, me, moves, sought, hands, span }} />
      {hands.held && !hands.dragging ? (
        <MoveBar
          held={hands.held}
          board={board}
          clock={clock}
          busy={hands.moves.busy}
          told={hands.moves.told}
          act={hands.act}
          onPut={() => void hands.put()}
          onGiveUp={hands.giveUp}
          takesFocus={hands.lifting === "button"}
        />
      ) : null}
    </div>
  );
}

type WithClock = {
  readonly hands: BoardHands;
  readonly clock: ReturnType<typeof clockOf>;
  readonly board: TimeBoard;
};

/** What was moved last, with what takes it back; every step of a move is told here to those who do not see it. */
function HandLine({ hands, clock, board }: WithClock) {
  const { held, moves, undo } = hands;
  const last = moves.done.at(-1);
  const tank = (id: string): string => board.lanes.find(({ tankId }) => tankId === id)?.name ?? "";
  const told = held
    ? [
        `${tank(held.hand.tankId)}, ${clock.when(held.times.startsAtMs)}, out ${clock.when(held.times.endsAtMs)}.`,
        moves.told,
        ...held.words.map(({ words }) => words),
      ].join(" ")
    : moves.told;
  return (
    <div className="flex min-h-12 flex-wrap items-center gap-x-4 gap-y-1">
      <p role="status" aria-atomic="true" className={held ? "sr-only" : ""}>
        {told}
      </p>
      {last && !held ? (
        <p>
          Run {last.number} moved to {tank(last.after.tankId)}, {clock.when(last.after.startsAtMs)}.{" "}
          <Button
            type="button"
            kind="plain"
            className="min-h-12"
            disabled={moves.busy}
            onClick={undo}
          >
            Undo{moves.done.length > 1 ? ` (${moves.done.length})` : ""}
          </Button>
        </p>
      ) : null}
    </div>
  );
}

type OpenSheetProps = WithClock &
  Pick<BoardScreenProps, "me" | "moves" | "sought" | "span"> & {
    readonly open: Open;
    readonly close: () => void;
    readonly nowMs: number;
  };

/** The sheet that is open; none where what it was about is no longer on the board. */
function OpenSheet(props: OpenSheetProps) {
  const { open, close, board, nowMs, clock, me, moves, sought, hands, span } = props;
  if (!open) return null;
  if (open.kind === "new hold") return <NewHoldSheet {...{ board, nowMs }} onClose={close} />;
  if (open.kind === "slot") {
    return sought ? (
      <SlotSheet
        part={sought.part}
        offer={open.offer}
        plannedFor={sought.plannedFor}
        clock={clock}
        span={span}
        onClose={close}
      />
    ) : null;
  }
  for (const lane of board.lanes) {
    const run = lane.runs.find(({ id }) => id === open.id);
    const hold = lane.holds.find(({ id }) => id === open.id);
    if (run) {
      const move = (): void => {
        close();
        hands.lift(run.id, "button");
      };
      return (
        <RunSheet
          {...{ run, lane, board, nowMs, clock, me, moves }}
          onMove={move}
          onClose={close}
        />
      );
    }
    if (hold) return <HoldSheet {...{ hold, lane, clock, moves }} onClose={close} />;
  }
  return null;
}
