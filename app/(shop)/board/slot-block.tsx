"use client";

import clsx from "clsx";
import type { LoadTimes } from "@/lib/scheduling";
import type { Clock } from "./clock";
import { boxOf, type Layout } from "./geometry";
import { inLane, LEAST_TARGET_PX } from "./on-board";

/** A free time of one tank for the part that one is looked for. */
export type Offer = Pick<LoadTimes, "startsAtMs" | "pullAtMs" | "endsAtMs"> & {
  readonly tankId: string;
  readonly tankName: string;
  /** the part's plan is for this tank */
  readonly planned: boolean;
};

type SlotBlockProps = {
  readonly offer: Offer;
  readonly shown: { readonly fromMs: number; readonly untilMs: number };
  readonly layout: Layout;
  readonly clock: Clock;
  readonly onChoose: (offer: Offer) => void;
};

/** An empty vessel where the part could go: an outline with its words. */
export function SlotBlock({ offer, shown, layout, clock, onChoose }: SlotBlockProps) {
  const span = { fromMs: offer.startsAtMs, untilMs: offer.endsAtMs };
  const box = boxOf(span, shown, layout);
  if (!box) return null;
  const roomy = (layout.upright ? layout.lanePx : box.size) >= 70;
  return (
    <button
      type="button"
      data-slot={offer.tankId}
      aria-label={`Free in ${offer.tankName}: load ${clock.when(offer.startsAtMs)}, out ${clock.when(offer.endsAtMs)}`}
      className={clsx(
        "absolute z-[12] overflow-hidden border-4 border-double border-brass bg-brass-wash/80 p-1 text-left text-sm leading-tight text-brass",
        "hover:bg-brass-wash",
      )}
      style={inLane(layout, box.along, Math.max(LEAST_TARGET_PX, box.size))}
      onClick={() => onChoose(offer)}
    >
      {roomy ? (
        <span aria-hidden="true">
          <strong>◆ free</strong>
          <br />
          {clock.time(offer.startsAtMs)}
        </span>
      ) : null}
    </button>
  );
}
