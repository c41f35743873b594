"use client";

import { type KeyboardEvent, type PointerEvent, useRef } from "react";

/** What a hand does on the picture, whatever it does it with. */
export type HandActions = {
  /** Shares of the picture's width, to the right and up. */
  readonly onTurn: (right: number, up: number) => void;
  readonly onZoom: (by: number) => void;
  readonly onHome: () => void;
  /** Places in the picture, −1 to 1 to the right and up. */
  readonly onGrip: (x: number, y: number) => void;
  readonly onDrag: (x: number, y: number) => void;
  readonly onLetGo: () => void;
  readonly onTap: (x: number, y: number) => void;
  /** −1, 0 or 1 to the right and up. */
  readonly onArrow: (right: number, up: number) => void;
};

/** A pointer that moved no further than this, px, was a tap. */
const TAP_PX = 6;
const ZOOM_KEY = 1.2;

type At = { readonly x: number; readonly y: number };

/** Where in the picture a pointer is, −1 to 1 to the right and up. */
function inPicture({ clientX, clientY, currentTarget }: PointerEvent): At {
  const { left, top, width, height } = currentTarget.getBoundingClientRect();
  return { x: (2 * (clientX - left)) / width - 1, y: 1 - (2 * (clientY - top)) / height };
}

/** Handlers for pointers on the picture: one pointer turns or drags, two pinch. */
export function usePointers(actions: HandActions, drags: boolean) {
  const pointers = useRef(new Map<number, At>());
  const began = useRef<At | null>(null);
  const dragging = useRef(false);

  const letGo = (event: PointerEvent): void => {
    pointers.current.delete(event.pointerId);
    if (dragging.current) actions.onLetGo();
    dragging.current = false;
  };
  return {
    onPointerDown: (event: PointerEvent) => {
      event.currentTarget.setPointerCapture(event.pointerId);
      pointers.current.set(event.pointerId, { x: event.clientX, y: event.clientY });
      began.current = { x: event.clientX, y: event.clientY };
      if (!drags || pointers.current.size > 1) return;
      dragging.current = true;
      const { x, y } = inPicture(event);
      actions.onGrip(x, y);
    },
    onPointerMove: (event: PointerEvent) => {
      const before = pointers.current.get(event.pointerId);
      if (!before) return;
      const now = { x: event.clientX, y: event.clientY };
      const [other] = [...pointers.current].filter(([id]) => id !== event.pointerId);
      pointers.current.set(event.pointerId, now);
      const size = event.currentTarget.clientWidth;
      if (other) {
        const apart = (at: At): number => Math.hypot(at.x - other[1].x, at.y - other[1].y);
        actions.onZoom(apart(now) / Math.max(1, apart(before)));
        actions.onTurn((now.x - before.x) / size / 2, (before.y - now.y) / size / 2);
      } else if (dragging.current) {
        const { x, y } = inPicture(event);
        actions.onDrag(x, y);
      } else actions.onTurn((now.x - before.x) / size, (before.y - now.y) / size);
    },
    onPointerUp: (event: PointerEvent) => {
      const from = began.current;
      if (from && Math.hypot(event.clientX - from.x, event.clientY - from.y) < TAP_PX) {
        const { x, y } = inPicture(event);
        actions.onTap(x, y);
      }
      letGo(event);
    },
    // The browser takes a finger that scrolls the page.
    onPointerCancel: letGo,
  };
}

/** Arrows, plus and minus, and Home. */
export function keyDown(event: KeyboardEvent, actions: HandActions): void {
  const arrow = ARROWS[event.key];
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  if (arrow) actions.onArrow(...arrow);
  else if (event.key === "+" || event.key === "=") actions.onZoom(ZOOM_KEY);
  else if (event.key === "-") actions.onZoom(1 / ZOOM_KEY);
  else if (event.key === "Home") actions.onHome();
  else return;
  event.preventDefault();
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};
