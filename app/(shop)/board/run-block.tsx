"use client";

import clsx from "clsx";
import { type KeyboardEvent, memo, type PointerEvent } from "react";
import type { Clock } from "./clock";
import { alongPx, type Layout } from "./geometry";
import { crossPx, inLane, type RunItem } from "./on-board";
import { RunAcross, type RunLook, RunUpright } from "./run-drawing";
import { cutsOf } from "./run-shape";
import { daysLate, dueOf, lateWords, loadName, runLabel, standingOf } from "./words";

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
        cuts.end < DRAWN_PX && (look.late ? "bg-oxide" : "bg-bath"),
      )}
      style={inLane(layout, alongPx(item.fromMs, fromMs, layout), Math.max(3, cuts.end))}
      onClick={() => handlers.onOpen(run.id)}
      onKeyDown={(event) => {
        if (movable) handlers.onKey(item, tankId, event);
      }}
      onPointerDown={(event) => {
        if (movable) handlers.onGrip(item, tankId, event, "whole");
      }}
    >
      {cuts.end < DRAWN_PX ? null : <Drawing cuts={cuts} cross={cross} look={look} />}
      <Words {...{ item, layout, clock, late, cross }} along={cuts.end} words={standing.words} />
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

type WordsProps = {
  readonly item: RunItem;
  readonly layout: Layout;
  readonly clock: Clock;
  readonly late: number;
  readonly cross: number;
  readonly along: number;
  readonly words: string;
};

/** As much as there is room for: number, load, when it is pulled, how late it is. */
function Words({ item: { run, stretches }, layout, clock, late, cross, along, words }: WordsProps) {
  const [wide, high] = layout.upright ? [cross, along] : [along, cross];
  if (wide < 20 || high < 18) return null;
  const roomy = wide >= 78 && high >= 44;
  const rows = Math.floor((high - (layout.upright ? 10 : 26)) / 20);
  return (
    <span
      aria-hidden="true"
      className={clsx(
        "pointer-events-none absolute inset-x-0 flex flex-col overflow-hidden leading-5 text-magnetite",
        wide < 40 ? "px-1" : "px-2",
        layout.upright ? "top-1 bottom-1" : "top-[1.65rem] bottom-1",
      )}
    >
      <span className="truncate font-bold [font-stretch:78%]">
        <span className={roomy ? "text-lg" : ""}>{run.number}</span>
        {roomy ? ` ${loadName(run.parts)}` : null}
      </span>
      {roomy && late > 0 && rows >= 2 ? (
        <span className="w-fit max-w-full truncate bg-oxide-wash px-1 text-sm font-semibold text-oxide">
          ▲ {lateWords(late)}
        </span>
      ) : null}
      {roomy && rows >= 3 && wide >= 100 ? (
        <span className="truncate text-sm">
          {run.state === "PLANNED" || run.state === "RUNNING"
            ? `pull ${clock.time(stretches.pullAtMs)}`
            : words}
        </span>
      ) : null}
      {roomy && rows >= 4 && run.fixed ? <span className="text-sm">fixed</span> : null}
    </span>
  );
}
