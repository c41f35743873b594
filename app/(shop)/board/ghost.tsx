"use client";

import clsx from "clsx";
import { type CSSProperties, useEffect, useRef } from "react";
import type { Clock } from "./clock";
import { alongPx, type Layout } from "./geometry";
import { crossPx, inLane } from "./on-board";
import { RunAcross, RunUpright } from "./run-drawing";
import { cutsOf, stretchesOf } from "./run-shape";
import type { Held } from "./use-hand";

type GhostProps = {
  readonly held: Held;
  readonly laneIndex: number;
  readonly layout: Layout;
  readonly fromMs: number;
  readonly bench: { readonly loadMinutes: number; readonly pullMinutes: number };
  readonly clock: Clock;
};

/** The run in the hand, where it would lie, with what it would break beside it. */
export function Ghost({ held, laneIndex, layout, fromMs, bench, clock }: GhostProps) {
  const place = useRef<HTMLDivElement>(null);
  const { run, times, hand, may } = held;
  const stretches = stretchesOf({ ...run, ...times, treatHours: held.treatHours }, bench, 0);
  const cuts = cutsOf(stretches, layout.pxPerHour);
  const along = alongPx(times.startsAtMs, fromMs, layout);
  const offset = laneIndex * layout.lanePx + layout.scalePx;
  const lane: CSSProperties = layout.upright ? { left: offset } : { top: offset };
  const Drawing = layout.upright ? RunUpright : RunAcross;
  useEffect(() => {
    place.current?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }, [hand.startsAtMs, hand.tankId]);
  return (
    <div
      aria-hidden="true"
      className="pointer-events-none absolute z-[16]"
      style={{ ...lane, ...(layout.upright ? { top: 0 } : { left: 0 }) }}
    >
      <div
        ref={place}
        className={clsx(
          "absolute border-2 border-dashed bg-sheet shadow-lg",
          may ? "border-bath" : "border-oxide",
        )}
        style={{
          ...inLane(layout, along, Math.max(4, cuts.end)),
          scrollMargin: `${layout.headPx + 20}px`,
        }}
      >
        <Drawing
          cuts={cuts}
          cross={crossPx(layout)}
          look={{ tone: "booked", late: !may, fixed: run.fixed }}
        />
        {/* A column is too narrow for it; the bar under the thumb says the same. */}
        {layout.upright ? null : <Caption held={held} clock={clock} />}
      </div>
    </div>
  );
}

function Caption({ held, clock }: Pick<GhostProps, "held" | "clock">) {
  const { times, words, asking, may } = held;
  const [first, ...more] = words;
  return (
    <div
      className={clsx(
        "absolute top-full left-0 z-20 w-56 border-2 bg-sheet px-2 py-1 text-sm leading-snug text-magnetite",
        may ? "border-bath" : "border-oxide",
      )}
    >
      <p className="font-bold">
        Run {held.run.number}: {clock.when(times.startsAtMs)}, out {clock.when(times.endsAtMs)}
      </p>
      {asking ? <p>Asking what it takes here …</p> : null}
      {first ? (
        <p className={first.refused ? "text-oxide" : "text-brass"}>
          <span aria-hidden="true">{first.refused ? "▲ " : "◆ "}</span>
          {first.words}
          {more.length > 0 ? ` And ${more.length} more.` : ""}
        </p>
      ) : null}
      {!first && !asking && held.moved ? (
        <p className="text-bath">
          <span aria-hidden="true">● </span>Nothing stands against it.
        </p>
      ) : null}
    </div>
  );
}
