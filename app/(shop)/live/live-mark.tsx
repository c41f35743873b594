"use client";

import { useRouter } from "next/navigation";
import { useShopChanges } from "./use-shop-changes";

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
  const live = useShopChanges(() => router.refresh());
  return (
    <p role="status" className="text-sm text-zinc">
      <span aria-hidden="true" className={live ? "text-bath" : "text-brass"}>
        {live ? "●" : "◆"}{" "}
      </span>
      {live ? `Live, as of ${asOf}` : `Not live: as of ${asOf}`}
    </p>
  );
}
