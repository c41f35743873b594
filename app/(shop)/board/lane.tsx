"use client";

import clsx from "clsx";
import Link from "next/link";
import type { CSSProperties, ReactNode } from "react";
import { TankDrawing } from "@/app/ui";
import type { Layout } from "./geometry";
import type { LaneItems } from "./on-board";
import { laneStanding } from "./words";

const TONE = {
  bath: { ink: "text-bath", mark: "●" },
  brass: { ink: "text-brass", mark: "◆" },
  oxide: { ink: "text-oxide", mark: "▲" },
  zinc: { ink: "text-zinc", mark: "○" },
} as const;

type LaneProps = {
  readonly lane: LaneItems["lane"];
  readonly index: number;
  readonly layout: Layout;
  readonly length: number;
  readonly nowMs: number;
  readonly children: ReactNode;
};

/** One tank over time. On a wide screen its floor is a line to stand on; upright, its walls run down beside it. */
export function LaneRow({ lane, index, layout, length, nowMs, children }: LaneProps) {
  const { upright, lanePx, headPx, scalePx } = layout;
  const style: CSSProperties = upright
    ? { left: scalePx + index * lanePx, top: 0, width: lanePx, height: headPx + length }
    : { top: scalePx + index * lanePx, left: 0, height: lanePx, width: headPx + length };
  return (
    <section
      aria-label={lane.name}
      className={clsx("absolute border-magnetite", upright ? "border-r-2" : "border-b-4")}
      style={style}
    >
      <LaneHead lane={lane} layout={layout} nowMs={nowMs} />
      {children}
    </section>
  );
}

/** The tank itself, drawn, with what it is at in words; it stays in view. */
function LaneHead({ lane, layout, nowMs }: Pick<LaneProps, "lane" | "layout" | "nowMs">) {
  const { upright, headPx, lanePx } = layout;
  const { words, tone } = laneStanding(lane, nowMs);
  const { ink, mark } = TONE[tone];
  return (
    <div
      className={clsx(
        "sticky z-20 bg-soda",
        upright
          ? "top-0 flex flex-col items-center justify-end border-r-2 border-b-2 border-magnetite px-1 pb-1 text-center"
          : "left-0 flex items-end gap-2 border-r-2 border-b-4 border-magnetite pr-2",
      )}
      style={upright ? { height: headPx, width: lanePx } : { width: headPx, height: lanePx }}
    >
      <TankDrawing
        name={lane.name}
        shape={lane.shape}
        levelMm={lane.levelMm}
        state={lane.state}
        anode={lane.anodeLeftAh !== null}
        className={upright ? "h-9 w-auto max-w-full" : "h-auto max-h-[94%] w-20 shrink-0"}
      />
      <div className={clsx("min-w-0", upright ? "w-full" : "flex-1 pb-1.5")}>
        <h2 className={clsx("leading-tight font-bold", upright ? "text-sm" : "text-xl")}>
          <Link
            href={`/tanks/${lane.tankId}`}
            className={clsx(
              "block hover:underline",
              upright || lanePx < 110 ? "truncate" : "line-clamp-2",
            )}
          >
            {lane.name}
          </Link>
        </h2>
        <p
          className={clsx(
            "leading-tight font-medium",
            ink,
            upright ? "line-clamp-2 text-xs" : "text-base",
          )}
        >
          <span aria-hidden="true" className="text-[0.7em]">
            {mark}{" "}
          </span>
          {words}
        </p>
      </div>
    </div>
  );
}
