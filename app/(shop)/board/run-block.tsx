"use client";

import clsx from "clsx";
import { type KeyboardEvent, memo, type PointerEvent } from "react";
import type { Clock } from "./clock";
import { alongPx, type Layout } from "./geometry";
import { crossPx, inLane, LEAST_TARGET_PX, type RunItem } from "./on-board";
import { RunAcross, type RunLook, RunUpright } from "./run-drawing";
import { cutsOf } from "./run-shape";
import { RunWords } from "./run-words";
import { daysLate, dueOf, runLabel, standingOf } from "./words";

export type RunHandlers = {
  readonly onOpen: (runId: string) => void;
  readonly onKey: (item: RunItem, tankId: string, event: KeyboardEvent<HTMLElement>) => void;
  readonly onGrip: (
    item: RunItem,
    tankId: string,
    event: PointerEvent<HTMLElement>,
    part: "whole" | "end",
  ) => void;
};

type RunBlockProps = {
  readonly item: RunItem;
  readonly tankId: string;
  readonly tank: string;
  readonly fromMs: number;
  readonly nowMs: number;
  readonly layout: Layout;
  readonly clock: Clock;
  /** its ghost is in the hand: what is left here is where it was */
  readonly lifted: boolean;
  /** null for those who only look */
  readonly handlers: RunHandlers;
  readonly moves: boolean;
};

/** Smaller than this, a run is only a stroke of its liquid. */
const DRAWN_PX = 7;

/** One run in its lane: a button that opens its sheet, and a thing to be moved by pointer and keys. */
export const RunBlock = memo(function RunBlock(props: RunBlockProps) {
  const { item, tankId, tank, fromMs, nowMs, layout, clock, lifted, handlers, moves } = props;
  const { run, stretches } = item;
  const cuts = cutsOf(stretches, layout.pxPerHour);
  const standing = standingOf(run, nowMs);
  const late = daysLate(stretches.benchUntilMs, dueOf(run.parts), clock.timeZone);
  const look: RunLook = { tone: standing.tone, late: late > 0, fixed: run.fixed };
  const cross = crossPx(layout);
  const movable = moves && run.state === "PLANNED";
  const Drawing = layout.upright ? RunUpright : RunAcross;
  return (
    <button
      type="button"
      data-run={run.id}
      aria-label={runLabel(run, { tank, nowMs, stretches, clock })}
      aria-describedby={movable ? "board-keys" : undefined}
      className={clsx(
        "absolute z-10 block touch-manipulation text-left select-none hover:z-[15] focus-visible:z-[15]",
        movable && "sm:cursor-grab",
        lifted && "opacity-40",
      )}
      style={inLane(
        layout,
        alongPx(item.fromMs, fromMs, layout),
        Math.max(LEAST_TARGET_PX, cuts.end),
      )}
      onClick={() => handlers.onOpen(run.id)}
      onKeyDown={(event) => {
        if (movable) handlers.onKey(item, tankId, event);
      }}
      onPointerDown={(event) => {
        if (movable) handlers.onGrip(item, tankId, event, "whole");
      }}
    >
      {cuts.end < DRAWN_PX ? (
        <Stroke {...{ look, cross }} along={Math.max(3, cuts.end)} upright={layout.upright} />
      ) : (
        <Drawing cuts={cuts} cross={cross} look={look} />
      )}
      <RunWords {...{ item, layout, clock, late, cross }} along={cuts.end} words={standing.words} />
      {movable && cuts.end >= 24 ? (
        <span
          aria-hidden="true"
          className={clsx(
            "absolute hidden sm:block",
            layout.upright
              ? "inset-x-0 bottom-0 h-2 cursor-ns-resize"
              : "inset-y-0 right-0 w-2.5 cursor-ew-resize",
          )}
          onPointerDown={(event) => {
            event.stopPropagation();
            handlers.onGrip(item, tankId, event, "end");
          }}
        />
      ) : null}
    </button>
  );
});

/** A run of hours on a board of weeks: a stroke, as long as it lasts; it is hit beside it too. */
function Stroke({
  look,
  cross,
  along,
  upright,
}: {
  readonly look: RunLook;
  readonly cross: number;
  readonly along: number;
  readonly upright: boolean;
}) {
  return (
    <span
      aria-hidden="true"
      className={clsx("absolute top-0 left-0", look.late ? "bg-oxide" : "bg-bath")}
      style={upright ? { width: cross, height: along } : { width: along, height: cross }}
    />
  );
}
