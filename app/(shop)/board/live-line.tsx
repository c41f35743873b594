"use client";

import { ageWords } from "./words";

type LiveLineProps = {
  readonly live: boolean;
  readonly ageMs: number;
  /** when the shop wrote what is seen */
  readonly asOf: string;
};

/** Whether the board follows the shop; when it does not, how old it is. */
export function LiveLine({ live, ageMs, asOf }: LiveLineProps) {
  return (
    <p className={live ? "text-sm text-zinc" : "font-semibold text-brass"}>
      <span aria-hidden="true" className={live ? "text-bath" : ""}>
        {live ? "●" : "◆"}{" "}
      </span>
      {live ? `Live, as of ${asOf}` : null}
      <span role="status">
        {live ? "" : `Not live: this is ${ageWords(ageMs)}, as of ${asOf}. Listening again.`}
      </span>
    </p>
  );
}
