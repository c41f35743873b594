"use client";

import clsx from "clsx";
import type { Clock } from "./clock";
import type { Layout } from "./geometry";
import type { RunItem } from "./on-board";
import { lateWords, loadName } from "./words";

type RunWordsProps = {
  readonly item: RunItem;
  readonly layout: Layout;
  readonly clock: Clock;
  /** days after the promised one */
  readonly late: number;
  /** px across time, and along it */
  readonly cross: number;
  readonly along: number;
  /** what it is at */
  readonly words: string;
};

/** Room over the words: across, they stand in the liquid; upright, under the waterline. */
const ACROSS_AIR = 24;
const UPRIGHT_AIR = 20;

/** As much as there is room for: number, load, how late it is, when it is pulled. It stays in view while the run does. */
export function RunWords(props: RunWordsProps) {
  const { item, layout, cross, along } = props;
  const { upright, headPx } = layout;
  const [wide, high] = upright ? [cross, along] : [along, cross];
  if (wide < 20 || high < 18) return null;
  const roomy = wide >= 78 && high >= 44;
  return (
    <span
      aria-hidden="true"
      className="pointer-events-none absolute inset-0 block overflow-clip text-magnetite"
      style={{ paddingTop: upright ? Math.min(UPRIGHT_AIR, high / 5) : ACROSS_AIR }}
    >
      <span
        className={clsx("sticky block w-fit max-w-full", wide < 40 ? "px-1" : "px-2")}
        style={upright ? { top: headPx + 4 } : { left: headPx + 4 }}
      >
        {roomy ? (
          <Roomy {...props} high={high} />
        ) : (
          <span
            className={clsx("block leading-5 font-bold [font-stretch:78%]", wide > 40 && "text-lg")}
          >
            {item.run.number}
          </span>
        )}
      </span>
    </span>
  );
}

function Roomy(props: RunWordsProps & { readonly high: number }) {
  const { item, layout, clock, late, words, high } = props;
  const { run, stretches } = item;
  const { upright } = layout;
  const rows = Math.floor((high - (upright ? UPRIGHT_AIR : ACROSS_AIR + 4)) / 20);
  const toCome = run.state === "PLANNED" || run.state === "RUNNING";
  return (
    <>
      <span
        className={clsx(
          "font-bold [font-stretch:78%]",
          upright ? "line-clamp-2 leading-5" : "block truncate text-xl leading-6",
        )}
      >
        <span className={upright ? "text-lg leading-5" : "text-2xl"}>{run.number}</span>{" "}
        {loadName(run.parts)}
      </span>
      {late > 0 && rows >= 2 ? (
        <span className="block w-fit max-w-full bg-oxide-wash px-1 text-sm leading-5 font-semibold text-oxide">
          ▲ {lateWords(late)}
        </span>
      ) : null}
      {rows >= (upright ? 4 : late > 0 ? 3 : 2) ? (
        <span className={clsx("block truncate leading-5", upright && "text-sm")}>
          {toCome ? `pull ${clock.time(stretches.pullAtMs)}` : words}
          {run.fixed && !upright ? ", fixed" : ""}
        </span>
      ) : null}
      {upright && rows >= 5 && run.fixed ? (
        <span className="block text-sm leading-5">fixed</span>
      ) : null}
    </>
  );
}
