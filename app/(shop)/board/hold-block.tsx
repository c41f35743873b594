"use client";

import clsx from "clsx";
import type { Clock } from "./clock";
import { alongPx, type Layout } from "./geometry";
import { type HoldItem, inLane, LEAST_TARGET_PX } from "./on-board";
import { HOLD_WORD, holdLabel } from "./words";

type HoldBlockProps = {
  readonly item: HoldItem;
  readonly tank: string;
  readonly fromMs: number;
  readonly layout: Layout;
  readonly clock: Clock;
  readonly onOpen: (holdId: string) => void;
};

/** Other work on a tank: a board laid over it, so that nothing goes in. */
export function HoldBlock({ item, tank, fromMs, layout, clock, onOpen }: HoldBlockProps) {
  const { hold } = item;
  const size = alongPx(item.untilMs, item.fromMs, layout);
  const wide = layout.upright ? layout.lanePx : size;
  const high = layout.upright ? size : layout.lanePx;
  return (
    <button
      type="button"
      data-hold={hold.id}
      aria-label={holdLabel(hold, tank, clock)}
      className={clsx(
        "absolute z-10 flex flex-col justify-center overflow-hidden border-2 border-dashed px-1 text-center text-sm leading-4",
        hold.done ? "border-line bg-zinc-wash text-zinc" : "planks border-zinc text-magnetite",
      )}
      style={inLane(layout, alongPx(item.fromMs, fromMs, layout), Math.max(LEAST_TARGET_PX, size))}
      onClick={() => onOpen(hold.id)}
    >
      {wide >= 58 && high >= 22 ? (
        <span aria-hidden="true" className="bg-sheet px-1 font-semibold">
          {HOLD_WORD[hold.kind]}
          {hold.done ? ": done" : ""}
        </span>
      ) : null}
    </button>
  );
}
