"use client";

import { type RefObject, useCallback, useEffect, useState } from "react";
import { UPRIGHT_BELOW_PX } from "./geometry";
import { type Window, windowAt } from "./windowing";

export type Room = { readonly width: number; readonly height: number };

/** Under the board on a wide screen, px: what was moved last, and how to take it back. */
const FOOT = 76;
/** On a phone the board takes the screen when it is scrolled to, but for the bar under the thumb. */
const THUMB = 76;
const LEAST_HEIGHT = 380;

/** The room there is for the board; null before the browser has measured it. */
export function useRoom(frameRef: RefObject<HTMLElement | null>): Room | null {
  const [room, setRoom] = useState<Room | null>(null);
  useEffect(() => {
    const element = frameRef.current;
    if (!element) return;
    const measure = (): void => {
      const width = element.clientWidth;
      const top = element.getBoundingClientRect().top + window.scrollY;
      const taken = width < UPRIGHT_BELOW_PX ? THUMB : top + FOOT;
      const height = Math.max(LEAST_HEIGHT, Math.round(window.innerHeight - taken));
      setRoom((before) =>
        before?.width === width && before.height === height ? before : { width, height },
      );
    };
    const watching = new ResizeObserver(measure);
    watching.observe(element);
    window.addEventListener("resize", measure);
    measure();
    return () => {
      watching.disconnect();
      window.removeEventListener("resize", measure);
    };
  }, [frameRef]);
  return room;
}

export type Windows = { readonly x: Window; readonly y: Window };

const same = (a: Windows, b: Windows): boolean =>
  a.x.from === b.x.from &&
  a.y.from === b.y.from &&
  a.x.until === b.x.until &&
  a.y.until === b.y.until;

/** What of a scrolled element is to be in the page; told anew only when it scrolled a quarter of a view further. */
export function useWindows(
  scrollerRef: RefObject<HTMLElement | null>,
  room: Room | null,
): { readonly windows: Windows; readonly onScroll: () => void } {
  const [windows, setWindows] = useState<Windows>({
    x: windowAt(0, 1200),
    y: windowAt(0, 800),
  });
  const onScroll = useCallback(() => {
    const element = scrollerRef.current;
    if (!element) return;
    const seen = {
      x: windowAt(element.scrollLeft, element.clientWidth),
      y: windowAt(element.scrollTop, element.clientHeight),
    };
    setWindows((before) => (same(before, seen) ? before : seen));
  }, [scrollerRef]);
  useEffect(() => {
    // Once the room is known, and laid out, what lies in it is looked up.
    const next = requestAnimationFrame(onScroll);
    return () => cancelAnimationFrame(next);
  }, [onScroll, room]);
  return { windows, onScroll };
}
