"use client";

import { type RefObject, useEffect, useMemo, useRef } from "react";
import type { TimeBoard } from "@/lib/services";
import type { Clock } from "./clock";
import { alongPx, boxOf, instantAt, type Layout, shutSpans } from "./geometry";
import { Ghost } from "./ghost";
import { HoldBlock } from "./hold-block";
import { LaneRow } from "./lane";
import { type Item, type LaneItems, laneItems, throughLanes } from "./on-board";
import { RunBlock, type RunHandlers } from "./run-block";
import { type Offer, SlotBlock } from "./slot-block";
import { TimeScale } from "./time-scale";
import type { Held } from "./use-hand";
import { type Room, useWindows } from "./use-room";
import { lanesIn, seenOn } from "./windowing";

export type OverTimeProps = {
  readonly board: TimeBoard;
  readonly nowMs: number;
  readonly clock: Clock;
  readonly layout: Layout;
  readonly room: Room;
  readonly scrollerRef: RefObject<HTMLDivElement | null>;
  readonly held: Held | null;
  readonly handlers: RunHandlers;
  readonly moves: boolean;
  readonly onHold: (holdId: string) => void;
  /** free times of the part that one is looked for */
  readonly offers: readonly Offer[];
  readonly onOffer: (offer: Offer) => void;
};

/** The lanes, scrolled both ways; only what is seen is in the page. */
export function TanksOverTime(props: OverTimeProps) {
  const { board, nowMs, clock, layout, room, scrollerRef, held } = props;
  const { windows, onScroll } = useWindows(scrollerRef, room);
  // By the minute, so that the shelves are not filled anew with every tick.
  const minuteMs = Math.floor(nowMs / 60_000) * 60_000;
  const lanes = useMemo(() => laneItems(board, minuteMs), [board, minuteMs]);
  useFirstSight(props);
  const length = alongPx(board.untilMs, board.fromMs, layout);
  const breadth = layout.scalePx + lanes.length * layout.lanePx;
  const [along, across] = layout.upright ? [windows.y, windows.x] : [windows.x, windows.y];
  const seen = lanesIn(across, layout.lanePx, lanes.length);
  const ghostLane = held ? lanes.findIndex(({ lane }) => lane.tankId === held.hand.tankId) : -1;
  return (
    <div
      ref={scrollerRef}
      role="region"
      aria-label="The tanks over time"
      tabIndex={0}
      onScroll={onScroll}
      className="overflow-auto overscroll-x-contain border-2 border-magnetite bg-sheet"
      style={{ maxHeight: room.height }}
    >
      <div
        className="relative"
        style={
          layout.upright
            ? { width: breadth, height: layout.headPx + length }
            : { height: breadth, width: layout.headPx + length }
        }
      >
        <Ground board={board} layout={layout} nowMs={nowMs} lanes={lanes.length} />
        <Corner layout={layout} />
        <TimeScale board={board} layout={layout} clock={clock} nowMs={nowMs} shown={along} />
        {lanes.slice(seen.first, seen.end).map(({ lane, shelf }, index) => (
          <LaneRow
            key={lane.tankId}
            lane={lane}
            index={seen.first + index}
            {...{ layout, length, nowMs }}
          >
            <InLane {...props} lane={lane} nowMs={minuteMs} items={itemsIn(shelf, along, props)} />
          </LaneRow>
        ))}
        {held && ghostLane >= 0 ? (
          <Ghost
            held={held}
            laneIndex={ghostLane}
            layout={layout}
            fromMs={board.fromMs}
            bench={board}
            clock={clock}
          />
        ) : null}
      </div>
    </div>
  );
}

/** Scrolls to now, or to when the shop first opens, whenever other days are shown. */
function useFirstSight({ board, nowMs, layout, scrollerRef }: OverTimeProps): void {
  const shownRef = useRef("");
  useEffect(() => {
    const shown = `${board.fromMs} ${board.untilMs} ${String(layout.upright)}`;
    const element = scrollerRef.current;
    if (!element || shownRef.current === shown) return;
    shownRef.current = shown;
    const isNow = nowMs >= board.fromMs && nowMs < board.untilMs;
    const at = isNow ? nowMs : (board.openings[0]?.fromMs ?? board.fromMs);
    const view = layout.upright ? element.clientHeight : element.clientWidth;
    const along = alongPx(at, board.fromMs, layout) - (view - layout.headPx) / 4;
    element.scrollTo(layout.upright ? { top: along } : { left: along });
  }, [board, nowMs, layout, scrollerRef]);
}

/** What of a lane is in the page; a run that is in the hand stays, so that its keys are still heard. */
function itemsIn(
  shelf: LaneItems["shelf"],
  along: { readonly from: number; readonly until: number },
  { board, layout, held }: OverTimeProps,
): readonly Item[] {
  const from = instantAt(along.from, board.fromMs, layout);
  const until = instantAt(along.until, board.fromMs, layout);
  const seen = seenOn(shelf, from, until);
  const inHand = held && shelf.items.find(({ id }) => id === held.run.id);
  return inHand && !seen.includes(inHand) ? [...seen, inHand] : seen;
}

type InLaneProps = OverTimeProps & {
  readonly lane: LaneItems["lane"];
  readonly items: readonly Item[];
};

function InLane(props: InLaneProps) {
  const { lane, items, board, layout, clock, nowMs, held, handlers, moves, offers } = props;
  return (
    <>
      {offers
        .filter(({ tankId }) => tankId === lane.tankId)
        .map((offer) => (
          <SlotBlock
            key={offer.startsAtMs}
            offer={offer}
            shown={board}
            {...{ layout, clock }}
            onChoose={props.onOffer}
          />
        ))}
      {items.map((item) =>
        item.kind === "run" ? (
          <RunBlock
            key={item.id}
            tankId={lane.tankId}
            tank={lane.name}
            fromMs={board.fromMs}
            lifted={held?.run.id === item.id}
            {...{ item, nowMs, layout, clock, handlers, moves }}
          />
        ) : (
          <HoldBlock
            key={item.id}
            tank={lane.name}
            fromMs={board.fromMs}
            {...{ item, layout, clock }}
            onOpen={props.onHold}
          />
        ),
      )}
    </>
  );
}

/** What lies behind all lanes: hours with nobody there, where days begin, and now. */
function Ground({
  board,
  layout,
  nowMs,
  lanes,
}: Pick<OverTimeProps, "board" | "layout" | "nowMs"> & { readonly lanes: number }) {
  const now = alongPx(nowMs, board.fromMs, layout);
  const shown = nowMs >= board.fromMs && nowMs < board.untilMs;
  return (
    <div aria-hidden="true" className="pointer-events-none">
      {shutSpans(board.openings, board).map((span) => {
        const box = boxOf(span, board, layout);
        return box ? (
          <span
            key={span.fromMs}
            className="shut absolute bg-soda"
            style={throughLanes(layout, box.along, box.size, lanes)}
          />
        ) : null;
      })}
      {board.days.map(({ day, fromMs }) => (
        <span
          key={day}
          className="absolute bg-rim"
          style={throughLanes(layout, alongPx(fromMs, board.fromMs, layout), 1, lanes)}
        />
      ))}
      {shown ? (
        <span
          className="absolute z-[14] bg-brass"
          style={throughLanes(layout, now - 1.5, 3, lanes)}
        />
      ) : null}
    </div>
  );
}

/** Covers the crossing of heads and scale while either scrolls under it. */
function Corner({ layout: { upright, headPx, scalePx } }: { readonly layout: Layout }) {
  return (
    <div aria-hidden="true" className="pointer-events-none absolute inset-0 z-40">
      <div
        className="sticky top-0 left-0 border-r-2 border-b-2 border-magnetite bg-soda"
        style={upright ? { width: scalePx, height: headPx } : { width: headPx, height: scalePx }}
      />
    </div>
  );
}
