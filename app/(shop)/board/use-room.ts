"use client";

import { type RefObject, useCallback, useEffect, useState } from "react";
import { type Window, windowAt } from "./windowing";

export type Room = { readonly width: number; readonly height: number };

/** Room that the bars of the page take over and under the board, px. */
const CHROME = { wide: 250, phone: 250 };
const LEAST_HEIGHT = 360;

/** The room there is for the board; null before the browser has measured it. */
export function useRoom(frameRef: RefObject<HTMLElement | null>): Room | null {
  const [room, setRoom] = useState<Room | null>(null);
  useEffect(() => {
    const element = frameRef.current;
    if (!element) return;
    const measure = (): void => {
      const width = element.clientWidth;
      const taken = width < 720 ? CHROME.phone : CHROME.wide;
      const height = Math.max(LEAST_HEIGHT, window.innerHeight - taken);
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

/** What of a scrolled element is to be in the page; told anew only when it scrolled half a view further. */
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
