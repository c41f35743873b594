"use client";

import { DRY_TONE, type HourSteps, stepWords } from "./hour-steps";
import type { FieldSummary } from "./summary";

type Props = { readonly steps: HourSteps; readonly summary: FieldSummary };

/** What each tone means, how much of the part has it, and a bar of these shares. */
export function HoursLegend({ steps, summary }: Props) {
  const { shares, dryShare } = summary;
  return (
    <section aria-label="Legend" className="plate space-y-3 p-4">
      <h3 className="text-lg font-semibold">Hours until a place is clean</h3>
      <Bar steps={steps} shares={shares} />
      <ul className="divide-y divide-line">
        {steps.tones.map((tone, step) => (
          <Entry
            key={tone}
            tone={tone}
            words={stepWords(steps.limits, step)}
            share={percent(shares[step] ?? 0)}
          />
        ))}
        {dryShare > 0.001 ? (
          <Entry
            tone={DRY_TONE}
            words="above the level: stays as it is"
            share={percent(dryShare)}
          />
        ) : null}
      </ul>
      <p className="text-sm text-zinc">
        Quick is light, slow is dark. Share of the area under the bath
        {dryShare > 0.001 ? "; what is dry, of all of it" : ""}. Half of such places are clean by
        then.
      </p>
    </section>
  );
}

type EntryProps = { readonly tone: string; readonly words: string; readonly share: string };

function Entry({ tone, words, share }: EntryProps) {
  return (
    <li className="flex items-center gap-3 py-1.5">
      <span
        aria-hidden="true"
        className="size-6 shrink-0 border border-rim"
        style={{ background: tone }}
      />
      <span className="grow">{words}</span>
      <span className="font-medium">{share}</span>
    </li>
  );
}

function Bar({ steps, shares }: { readonly steps: HourSteps; readonly shares: readonly number[] }) {
  return (
    <div aria-hidden="true" className="flex h-5 w-full overflow-hidden border border-rim">
      {steps.tones.map((tone, step) => (
        <span key={tone} style={{ background: tone, width: `${100 * (shares[step] ?? 0)}%` }} />
      ))}
    </div>
  );
}

/** @example percent(0.004) // "under 1 %" */
export function percent(share: number): string {
  if (share > 0 && share < 0.01) return "under 1 %";
  return `${Math.round(100 * share)} %`;
}
