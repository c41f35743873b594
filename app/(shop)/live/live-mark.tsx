"use client";

import { useRouter } from "next/navigation";
import { useEffect, useState } from "react";

/** Changes that come together are shown together. */
const GATHER_MS = 400;
/** Time left and the now-line move on though nothing changes. */
const MOVE_ON_MS = 60_000;

type LiveMarkProps = {
  /** when the server wrote this page, already in words */
  readonly asOf: string;
};

/**
 * Keeps a board up to date without reloading: listens for changes while the page is seen, has it read anew, and
 * says whether it is live.
 */
export function LiveMark({ asOf }: LiveMarkProps) {
  const router = useRouter();
  const [live, setLive] = useState(false);

  useEffect(() => {
    let source: EventSource | undefined;
    let gathering: ReturnType<typeof setTimeout> | undefined;
    const refreshSoon = (): void => {
      clearTimeout(gathering);
      gathering = setTimeout(() => router.refresh(), GATHER_MS);
    };
    const open = (): void => {
      if (source || document.visibilityState === "hidden") return;
      source = new EventSource("/live");
      source.onopen = () => {
        setLive(true);
        // What changed between the writing of this page and now was not heard.
        refreshSoon();
      };
      source.onmessage = refreshSoon;
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
        refreshSoon();
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
  }, [router]);

  return (
    <p role="status" className="text-sm text-zinc">
      <span aria-hidden="true" className={live ? "text-bath" : "text-brass"}>
        {live ? "●" : "◆"}{" "}
      </span>
      {live ? `Live, as of ${asOf}` : `Not live: as of ${asOf}`}
    </p>
  );
}
