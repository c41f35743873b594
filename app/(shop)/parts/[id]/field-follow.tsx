"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { useShopChanges } from "../../live/use-shop-changes";

export type FollowedField = {
  readonly partId: string;
  /** null while nobody has asked for it */
  readonly fieldId: string | null;
  readonly stamp: string | null;
  readonly state: "WAITING" | "WORKING" | "DONE" | "FAILED" | null;
  /** 0 to 1 */
  readonly progress: number;
};

type Answer = Pick<FollowedField, "stamp" | "state" | "progress">;

/** The field's progress as it goes on; the page is read anew when something else of it changed. */
export function FieldFollow({ partId, fieldId, ...shown }: FollowedField) {
  const router = useRouter();
  const [latest, setLatest] = useState<Answer>(shown);
  const ask = async (): Promise<void> => {
    const answer = await fetch(`/parts/${partId}/field-progress`).catch(() => null);
    if (!answer?.ok) return;
    const told = (await answer.json()) as Answer | null;
    if (told) setLatest(told);
    if ((told?.stamp ?? null) !== shown.stamp) router.refresh();
  };
  useShopChanges(() => void ask(), fieldId ? [partId, fieldId] : [partId]);
  // What the page itself says is newer when it was read anew.
  const { state, progress } = latest.stamp === shown.stamp ? latest : shown;
  if (state === "WAITING") {
    return <p role="status">It waits to be worked out: seconds, once those before it are done.</p>;
  }
  if (state !== "WORKING") return null;
  const percent = Math.round(100 * progress);
  return (
    <div className="space-y-1">
      <p id="field-progress">Working it out: {percent} %</p>
      <div
        role="progressbar"
        aria-labelledby="field-progress"
        aria-valuenow={percent}
        aria-valuemin={0}
        aria-valuemax={100}
        className="h-2.5 bg-zinc-wash"
      >
        <div className="h-full bg-bath" style={{ width: `${percent}%` }} />
      </div>
    </div>
  );
}
