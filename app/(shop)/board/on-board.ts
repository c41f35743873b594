/** What stands in the lanes, ready to be drawn: by lane, by start, each with its stretch of time. Pure. */
import type { CSSProperties } from "react";
import type { BoardHold, BoardRun, Lane, TimeBoard } from "@/lib/services";
import type { Layout } from "./geometry";
import { type Stretches, stretchesOf } from "./run-shape";
import { type Placed, type Shelf, shelfOf } from "./windowing";

export type RunItem = Placed & {
  readonly kind: "run";
  readonly id: string;
  readonly run: BoardRun;
  readonly stretches: Stretches;
};
export type HoldItem = Placed & {
  readonly kind: "hold";
  readonly id: string;
  readonly hold: BoardHold;
};
export type Item = RunItem | HoldItem;

export type LaneItems = { readonly lane: Lane; readonly shelf: Shelf<Item> };

/** Every lane with what stands in it. */
export function laneItems(board: TimeBoard, nowMs: number): readonly LaneItems[] {
  return board.lanes.map((lane) => ({
    lane,
    shelf: shelfOf([
      ...lane.runs.map((run) => runItem(run, board, nowMs)),
      ...lane.holds.map(holdItem),
    ]),
  }));
}

function runItem(run: BoardRun, board: TimeBoard, nowMs: number): RunItem {
  const stretches = stretchesOf(run, board, nowMs);
  const { startsAtMs: fromMs, benchUntilMs: untilMs } = stretches;
  return { kind: "run", id: run.id, run, stretches, fromMs, untilMs };
}

const holdItem = (hold: BoardHold): HoldItem => ({
  kind: "hold",
  id: hold.id,
  hold,
  fromMs: hold.startsAtMs,
  untilMs: hold.endsAtMs,
});

/** Room between a run and the walls of its lane, px. */
const AIR = { before: 10, after: 6 };

/** px of a run across time. */
export const crossPx = ({ lanePx, upright }: Layout): number =>
  upright ? lanePx - 10 : lanePx - AIR.before - AIR.after - 4;

/** What is drawn smaller than this is hit at this size all the same (WCAG 2.2, 2.5.8). */
export const LEAST_TARGET_PX = 24;

/** Where a thing lies within its lane: along time, and across it. */
export function inLane(layout: Layout, along: number, size: number): CSSProperties {
  const cross = crossPx(layout);
  return layout.upright
    ? { top: layout.headPx + along, height: size, left: 5, width: cross }
    : { left: layout.headPx + along, width: size, top: AIR.before, height: cross };
}

/** Where a stretch lies that goes through all lanes. */
export function throughLanes(
  layout: Layout,
  along: number,
  size: number,
  lanes: number,
): CSSProperties {
  const across = lanes * layout.lanePx;
  return layout.upright
    ? { top: layout.headPx + along, height: size, left: layout.scalePx, width: across }
    : { left: layout.headPx + along, width: size, top: layout.scalePx, height: across };
}
