"use client";

import { useEffect, useRef, useState } from "react";

/** Changes that come together are shown together. */
const GATHER_MS = 400;
/** Time left and the now-line move on though nothing changes. */
const MOVE_ON_MS = 60_000;

/**
 * Calls back when something changed, while the page is seen: as it is announced, when listening begins, since what
 * changed before was not heard, and once a minute.
 *
 * @param about ids of rows whose changes count; all that boards show when left out
 * @returns whether changes are heard at this moment
 */
export function useShopChanges(onChange: () => void, about: readonly string[] = []): boolean {
  const [live, setLive] = useState(false);
  const call = useRef(onChange);
  useEffect(() => {
    call.current = onChange;
  });
  const query = new URLSearchParams(about.map((id) => ["about", id])).toString();
  useEffect(
    () => listen(query ? `/live?${query}` : "/live", () => call.current(), setLive),
    [query],
  );
  return live;
}

/** @returns ends it */
function listen(
  address: string,
  onChange: () => void,
  setLive: (live: boolean) => void,
): () => void {
  let source: EventSource | undefined;
  let gathering: ReturnType<typeof setTimeout> | undefined;
  const callSoon = (): void => {
    clearTimeout(gathering);
    gathering = setTimeout(onChange, GATHER_MS);
  };
  const open = (): void => {
    if (source || document.visibilityState === "hidden") return;
    source = new EventSource(address);
    source.onopen = () => {
      setLive(true);
      // What changed between the writing of this page and now was not heard.
      callSoon();
    };
    source.onmessage = callSoon;
    source.onerror = () => {
      setLive(false);
      // The browser tries again by itself, unless the answer was a refusal.
      if (source?.readyState === EventSource.CLOSED) close();
    };
  };
  const close = (): void => {
    source?.close();
    source = undefined;
    setLive(false);
  };
  const look = (): void => {
    if (document.visibilityState === "hidden") close();
    else open();
  };
  const moveOn = setInterval(() => {
    if (document.visibilityState === "visible") {
      open();
      callSoon();
    }
  }, MOVE_ON_MS);
  open();
  document.addEventListener("visibilitychange", look);
  window.addEventListener("online", open);
  return () => {
    close();
    clearTimeout(gathering);
    clearInterval(moveOn);
    document.removeEventListener("visibilitychange", look);
    window.removeEventListener("online", open);
  };
}
