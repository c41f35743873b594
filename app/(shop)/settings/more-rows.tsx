"use client";

import { type ReactNode, useState } from "react";

type Props = {
  /** as many as there can be; those beyond `shown` appear when asked for */
  readonly rows: readonly ReactNode[];
  readonly shown: number;
  /** "Another rate" */
  readonly more: string;
};

/** Rows of fields, with more of them when somebody wants more. */
export function MoreRows({ rows, shown, more }: Props) {
  const [count, setCount] = useState(shown);
  return (
    <div className="space-y-3">
      {rows.slice(0, count).map((row, index) => (
        // Rows stand at their place: they are neither moved nor taken out.
        <div key={index} className="border-l-4 border-line pl-3">
          {row}
        </div>
      ))}
      {count < rows.length ? (
        <button
          type="button"
          className="link min-h-11"
          onClick={() => {
            setCount(count + 1);
          }}
        >
          {more}
        </button>
      ) : null}
    </div>
  );
}
