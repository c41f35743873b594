"use client";

import { type PointerEvent as ReactPointerEvent, type RefObject, useCallback, useRef } from "react";
import { instantAt, type Layout } from "./geometry";
import type { HandAct } from "./moving";
import type { RunItem } from "./on-board";

/** A press that wanders less than this is a click, px. */
const STILL_PX = 5;
/** Near the edge the board scrolls on. */
const EDGE_PX = 48;
const SCROLL_PX = 14;

type Drag = {
  readonly item: RunItem;
  readonly tankId: string;
  readonly part: "whole" | "end";
  readonly x: number;
  readonly y: number;
  readonly left: number;
  readonly top: number;
  lifted: boolean;
};

type Dragging = {
  readonly scrollerRef: RefObject<HTMLElement | null>;
  readonly layout: Layout | null;
  readonly tankIds: readonly string[];
  readonly act: (act: HandAct) => void;
  readonly onLift: (item: RunItem, tankId: string) => void;
  readonly onDrop: () => void;
};

export type Grip = {
  readonly grip: (
    item: RunItem,
    tankId: string,
    event: ReactPointerEvent<HTMLElement>,
    part: "whole" | "end",
  ) => void;
  /** whether the click that follows ends a drag, and is none */
  readonly wasDrag: () => boolean;
};

/** Drags runs by mouse or pen. A finger scrolls the board instead; it moves runs by the buttons of their sheets. */
export function useDrag(dragging: Dragging): Grip {
  const ended = useRef(false);
  const grip: Grip["grip"] = useCallback(
    (item, tankId, event, part) => {
      ended.current = false;
      const element = dragging.scrollerRef.current;
      if (event.pointerType === "touch" || event.button !== 0 || !element) return;
      const { scrollLeft: left, scrollTop: top } = element;
      const { clientX: x, clientY: y } = event;
      follow({ item, tankId, part, x, y, left, top, lifted: false }, dragging, () => {
        ended.current = true;
      });
    },
    [dragging],
  );
  const wasDrag = useCallback(() => ended.current, []);
  return { grip, wasDrag };
}

function follow(drag: Drag, dragging: Dragging, onDragged: () => void): void {
  const move = (event: PointerEvent): void => {
    if (!drag.lifted) {
      if (Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < STILL_PX) return;
      drag.lifted = true;
      dragging.onLift(drag.item, drag.tankId);
    }
    event.preventDefault();
    scrollOn(dragging.scrollerRef.current, event);
    const act = actAt(drag, dragging, event);
    if (act) dragging.act(act);
  };
  const stop = (): void => {
    window.removeEventListener("pointermove", move);
    window.removeEventListener("pointerup", up);
    window.removeEventListener("pointercancel", cancel);
    window.removeEventListener("keydown", key);
  };
  const up = (): void => {
    stop();
    if (!drag.lifted) return;
    onDragged();
    dragging.onDrop();
  };
  const cancel = (): void => {
    stop();
    if (drag.lifted) dragging.act({ kind: "drop" });
  };
  const key = (event: KeyboardEvent): void => {
    if (event.key !== "Escape") return;
    onDragged();
    cancel();
  };
  window.addEventListener("pointermove", move);
  window.addEventListener("pointerup", up);
  window.addEventListener("pointercancel", cancel);
  window.addEventListener("keydown", key);
}

/** Where the pointer has taken the run, scrolling counted in. */
function actAt(
  drag: Drag,
  { scrollerRef, layout, tankIds }: Dragging,
  at: PointerEvent,
): HandAct | null {
  const element = scrollerRef.current;
  if (!element || !layout) return null;
  const dx = at.clientX - drag.x + element.scrollLeft - drag.left;
  const dy = at.clientY - drag.y + element.scrollTop - drag.top;
  const byMs = instantAt(layout.upright ? dy : dx, 0, layout);
  const { startsAtMs, endsAtMs } = drag.item.run;
  if (drag.part === "end") return { kind: "pull end", endsAtMs: endsAtMs + byMs };
  const box = element.getBoundingClientRect();
  const across = layout.upright
    ? at.clientX - box.left + element.scrollLeft
    : at.clientY - box.top + element.scrollTop;
  const lane = Math.floor((across - layout.scalePx) / layout.lanePx);
  const tankId = tankIds[Math.max(0, Math.min(tankIds.length - 1, lane))] ?? drag.tankId;
  return { kind: "carry", tankId, startsAtMs: startsAtMs + byMs };
}

function scrollOn(element: HTMLElement | null, { clientX, clientY }: PointerEvent): void {
  if (!element) return;
  const { left, right, top, bottom } = element.getBoundingClientRect();
  element.scrollBy(edge(clientX, left, right), edge(clientY, top, bottom));
}

const edge = (at: number, from: number, until: number): number =>
  at < from + EDGE_PX ? -SCROLL_PX : at > until - EDGE_PX ? SCROLL_PX : 0;
