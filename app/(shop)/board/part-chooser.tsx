"use client";

import Link from "next/link";
import { useMemo, useState } from "react";
import type { TankSlots, WaitingPart } from "@/lib/services";
import { Said } from "@/app/ui";
import { clockOf, type Place } from "./clock";
import { addressOf, type BoardSpan } from "./span";
import { startOfSpan } from "./span-day";

type PartChooserProps = {
  readonly parts: readonly WaitingPart[];
  readonly chosen: WaitingPart | null;
  readonly slots: readonly TankSlots[];
  readonly span: BoardSpan;
  readonly place: Place;
};

/** Shown of a long list; the search narrows it. */
const MOST = 12;

/** For which part a free time is looked for, and what was found. */
export function PartChooser({ parts, chosen, slots, span, place }: PartChooserProps) {
  if (chosen) return <Found {...{ chosen, slots, span, place }} />;
  return (
    <details className="border border-rim bg-sheet open:w-full">
      <summary className="flex min-h-12 items-center px-3 font-semibold">
        Free time for a part ({parts.length} {parts.length === 1 ? "waits" : "wait"})
      </summary>
      <Search parts={parts} span={span} />
    </details>
  );
}

function Search({ parts, span }: Pick<PartChooserProps, "parts" | "span">) {
  const [typed, setTyped] = useState("");
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const fitting = parts.filter((part) => {
    const text = `${part.jobNumber} ${part.mark} ${part.description}`.toLowerCase();
    return words.every((word) => text.includes(word));
  });
  return (
    <div className="space-y-2 border-t border-line p-3">
      <label className="block max-w-md">
        <span className="mb-1 block font-medium">Job, mark or description</span>
        <input
          type="search"
          value={typed}
          onChange={(event) => setTyped(event.target.value)}
          className="min-h-12 w-full border border-rim bg-sheet px-3"
        />
      </label>
      <ul className="flex flex-wrap gap-2">
        {fitting.slice(0, MOST).map((part) => (
          <li key={part.partId}>
            <Link
              href={addressOf(span, { part: part.partId })}
              className="inline-flex min-h-12 items-center border border-rim px-3 hover:bg-zinc-wash"
            >
              <span>
                <strong>{part.description}</strong>, job {part.jobNumber} {part.mark}
                {part.rush ? ", rush" : ""}
              </span>
            </Link>
          </li>
        ))}
      </ul>
      {fitting.length === 0 ? <p className="text-zinc">No waiting part is called that.</p> : null}
      {fitting.length > MOST ? (
        <p className="text-zinc">{fitting.length - MOST} more: type to narrow them.</p>
      ) : null}
    </div>
  );
}

/** The first free times in words: the same as the outlines on the board, whatever days it shows. */
function Found({
  chosen,
  slots,
  span,
  place: { timeZone, locale },
}: Omit<PartChooserProps, "parts" | "chosen"> & { readonly chosen: WaitingPart }) {
  const clock = useMemo(() => clockOf({ timeZone, locale }), [timeZone, locale]);
  return (
    <section
      aria-label={`Free times for ${chosen.description}`}
      className="w-full border-4 border-double border-brass bg-sheet p-3"
    >
      <div className="flex flex-wrap items-center justify-between gap-x-4">
        <p className="font-semibold">
          <span aria-hidden="true" className="text-brass">
            ◆{" "}
          </span>
          Free times for {chosen.description}, job {chosen.jobNumber} {chosen.mark}
        </p>
        <Link href={addressOf(span)} className="link inline-flex min-h-12 items-center">
          Leave off
        </Link>
      </div>
      <ul className="grid gap-x-8 gap-y-1 text-sm sm:grid-cols-2 lg:grid-cols-3">
        {slots.map((tank) => (
          <li key={tank.tankId}>
            <strong>{tank.tankName}</strong>
            {tank.planned ? " (planned for it)" : ""}: {tank.why ? <Said>{tank.why}</Said> : null}
            {!tank.why && tank.slots.length === 0 ? "nothing free in eight weeks" : null}
            {tank.slots.map(({ startsAtMs }, index) => (
              <span key={startsAtMs} suppressHydrationWarning>
                {index > 0 ? " · " : ""}
                <Link
                  className="link inline-block py-1"
                  href={addressOf(
                    { view: span.view, from: startOfSpan(span, startsAtMs, timeZone) },
                    { part: chosen.partId },
                  )}
                >
                  {clock.when(startsAtMs)}
                </Link>
              </span>
            ))}
          </li>
        ))}
      </ul>
    </section>
  );
}
