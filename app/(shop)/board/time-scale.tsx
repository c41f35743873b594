"use client";

import clsx from "clsx";
import type { BoardDay, TimeBoard } from "@/lib/services";
import type { Clock } from "./clock";
import { alongPx, hourMarks, type Layout } from "./geometry";
import type { Window } from "./windowing";

type ScaleProps = {
  readonly board: TimeBoard;
  readonly layout: Layout;
  readonly clock: Clock;
  readonly nowMs: number;
  /** px along time that are in the page */
  readonly shown: Window;
};

/** Days and hours along the edge; it stays in view. The table of the list says the same, so this is for the eye only. */
export function TimeScale({ board, layout, clock, nowMs, shown }: ScaleProps) {
  const { upright, scalePx, headPx } = layout;
  const length = alongPx(board.untilMs, board.fromMs, layout);
  const days = board.days.filter(
    ({ fromMs, untilMs }) =>
      alongPx(untilMs, board.fromMs, layout) > shown.from &&
      alongPx(fromMs, board.fromMs, layout) < shown.until,
  );
  const now = alongPx(nowMs, board.fromMs, layout);
  return (
    <div
      aria-hidden="true"
      className={clsx(
        "sticky z-30 border-magnetite bg-soda text-sm",
        upright ? "left-0 border-r-2" : "top-0 border-b-2",
      )}
      style={
        upright
          ? { width: scalePx, height: headPx + length }
          : { height: scalePx, width: headPx + length }
      }
    >
      {days.map((day) => (
        <Day key={day.day} day={day} {...{ board, layout, clock }} />
      ))}
      {now >= 0 && now <= length ? (
        <span
          className={clsx(
            "absolute z-10 bg-brass px-1.5 font-bold whitespace-nowrap text-sheet",
            upright ? "right-0 -translate-y-1/2 text-xs" : "bottom-0 -translate-x-1/2",
          )}
          style={upright ? { top: headPx + now } : { left: headPx + now }}
        >
          {upright ? clock.time(nowMs) : `now ${clock.time(nowMs)}`}
        </span>
      ) : null}
    </div>
  );
}

type DayProps = Pick<ScaleProps, "board" | "layout" | "clock"> & { readonly day: BoardDay };

function Day({ day, board, layout, clock }: DayProps) {
  const { upright, headPx } = layout;
  const along = headPx + alongPx(day.fromMs, board.fromMs, layout);
  const size = alongPx(day.untilMs, day.fromMs, layout);
  const { weekday, date } = clock.dayName(day.fromMs);
  const marks = hourMarks(day, layout, clock);
  const narrow = !upright && size < 62;
  return (
    <div
      className={clsx("absolute border-rim", upright ? "w-full border-t-2" : "h-full border-l-2")}
      style={upright ? { top: along, height: size } : { left: along, width: size }}
    >
      <span
        className={clsx(
          "sticky z-[1] block w-fit bg-soda px-1 leading-tight font-bold",
          upright ? "text-[0.8rem]" : "inline-block pt-1 whitespace-nowrap",
          narrow && "text-xs",
        )}
        style={upright ? { top: headPx + 4 } : { left: headPx }}
      >
        {upright || narrow ? (
          <>
            {weekday}
            <br />
            {date}
          </>
        ) : (
          <>
            {clock.day(day.fromMs)}
            {day.closed === null || size < 150 ? null : (
              <span className="font-normal text-zinc">
                {" "}
                shut{day.closed ? `: ${day.closed}` : ""}
              </span>
            )}
          </>
        )}
      </span>
      {marks.map(({ atMs, label }) => {
        const at = alongPx(atMs, day.fromMs, layout);
        return (
          <span
            key={atMs}
            className={clsx(
              "absolute text-xs text-zinc",
              upright ? "right-1 -translate-y-1/2" : "bottom-0 border-l border-rim pl-1 leading-4",
              upright && at < 42 && "hidden",
            )}
            style={upright ? { top: at } : { left: at }}
          >
            {label}
          </span>
        );
      })}
    </div>
  );
}
