import Link from "next/link";
import { type Diagnosis, type NextCheck, percent } from "@/lib/diagnosis";
import type { RunView } from "@/lib/services";
import { Badge, Bar, buttonClass, Figure, Notice, Said, Section, type Tone } from "@/app/ui";
import { answersHref, withoutAnswer } from "./answers";

type Props = {
  readonly runId: string;
  readonly progress: RunView["progress"];
  readonly answers: Readonly<Record<string, string>>;
};

const VERDICT_TONE: Readonly<Record<Diagnosis["verdict"], Tone>> = {
  "as expected": "bath",
  likely: "oxide",
  "not sure": "brass",
};

/** What presses, the causes with their probabilities, and the one check to make next. */
export function WhatMayBeWrong({ runId, progress, answers }: Props) {
  const { diagnosis, findings } = progress;
  const fine = diagnosis?.verdict === "as expected" && findings.length === 0;
  if (!diagnosis && findings.length === 0) return null;
  return (
    <Section title={fine ? "What the meter says" : "What may be wrong"} id="wrong">
      <div className="space-y-4">
        {findings
          .filter(({ code }) => !isCause(diagnosis, code))
          .map((finding) => (
            <Notice
              key={finding.code}
              tone={finding.severity === "look now" ? "oxide" : "brass"}
              title={finding.title}
            >
              <p>
                <Said>{finding.seen}</Said>
              </p>
              <p className="mt-1 font-medium">
                <Said>{finding.nextCheck}</Said>
              </p>
            </Notice>
          ))}
        {diagnosis ? <Causes diagnosis={diagnosis} runId={runId} answers={answers} /> : null}
      </div>
    </Section>
  );
}

/** Whether the ranked causes say it already. Safety rules that name a cause keep their own notice. */
function isCause(diagnosis: Diagnosis | null, code: string): boolean {
  if (!diagnosis || diagnosis.verdict === "as expected") return false;
  return code === "NOT_SURE" || (diagnosis.ranked[0]?.cause === code && !SAFETY_TOO.has(code));
}

/** Causes for which a safety rule says what to do at once. */
const SAFETY_TOO: ReadonlySet<string> = new Set([
  "TOUCHING",
  "REVERSED",
  "LEAD_OPEN",
  "SUPPLY_OFF",
]);

type CausesProps = Omit<Props, "progress"> & { readonly diagnosis: Diagnosis };

function Causes({ diagnosis, runId, answers }: CausesProps) {
  const { verdict, headline, next } = diagnosis;
  return (
    <>
      <p className="flex flex-wrap items-center gap-x-3 gap-y-1 text-lg font-semibold">
        <Badge tone={VERDICT_TONE[verdict]}>{verdict}</Badge>
        <span>
          <Said>{headline}</Said>
        </span>
      </p>
      {verdict === "as expected" && diagnosis.answered.length === 0 ? null : (
        <>
          <RankedCauses ranked={diagnosis.ranked} />
          {verdict === "likely" ? <Mend ranked={diagnosis.ranked} /> : null}
          <Answered diagnosis={diagnosis} runId={runId} answers={answers} />
          {next ? <Next next={next} runId={runId} answers={answers} /> : null}
        </>
      )}
      <Figure worked={diagnosis.working} />
    </>
  );
}

function RankedCauses({ ranked }: Pick<Diagnosis, "ranked">) {
  return (
    <ol className="plate divide-y divide-line">
      {ranked.map(({ cause, title, shows, probability, word }) => (
        <li key={cause} className="px-4 py-3">
          <p className="flex flex-wrap items-baseline justify-between gap-x-3">
            <span className="font-semibold">{title}</span>
            <span>
              {word}, {percent(probability)}
            </span>
          </p>
          <Bar share={probability} tone={cause === "AS_IT_SHOULD" ? "bath" : "brass"} />
          <p className="mt-1 text-sm text-zinc">
            <Said>{shows}</Said>
          </p>
        </li>
      ))}
    </ol>
  );
}

/** How the likeliest is put right, where no notice above says it. */
function Mend({ ranked: [first] }: Pick<Diagnosis, "ranked">) {
  if (!first || SAFETY_TOO.has(first.cause)) return null;
  return (
    <p>
      <span className="font-semibold">To put it right: </span>
      <Said>{first.mend}</Said>
    </p>
  );
}

/** What somebody answered, each to be taken back with a tap. */
function Answered({ diagnosis, runId, answers }: CausesProps) {
  if (diagnosis.answered.length === 0) return null;
  return (
    <ul className="space-y-2" aria-label="Checks made">
      {diagnosis.answered.map(({ code, ask, words }) => (
        <li key={code} className="flex flex-wrap items-center justify-between gap-3">
          <span className="min-w-0 flex-1">
            {ask} <span className="font-semibold">{words}.</span>
          </span>
          <Link
            href={answersHref(runId, withoutAnswer(answers, code))}
            scroll={false}
            prefetch={false}
            className={buttonClass("plain", "bench")}
            aria-label={`Take back: ${words}`}
          >
            Take back
          </Link>
        </li>
      ))}
    </ul>
  );
}

type NextProps = Omit<Props, "progress"> & { readonly next: NextCheck };

/** The one check that tells most, and where each of its outcomes would lead. */
function Next({ next, runId, answers }: NextProps) {
  return (
    <div className="plate space-y-3 border-l-4 p-4">
      <h3 className="font-semibold">Check next</h3>
      <p className="text-lg">
        <Said>{next.words}</Said>
      </p>
      <ul className="grid gap-3 sm:grid-cols-2">
        {next.prospects.map(({ code, words, points }) => (
          <li key={code} className="grid gap-1">
            <Link
              href={answersHref(runId, { ...answers, [next.code]: code })}
              scroll={false}
              prefetch={false}
              className={buttonClass("plain", "bench")}
            >
              {words}
            </Link>
            <span className="text-sm text-zinc">
              Then first: {points.title}, {percent(points.probability)}.
            </span>
          </li>
        ))}
      </ul>
      <p className="text-sm text-zinc">
        {next.tier === "look" ? "" : "Supply off, then wait for the bubbles to stop. "}
        The gas over the bath burns: no flame or spark, nothing over the tank. Goggles and gloves
        on. Mains leads and supplies are opened by licensed people only; local codes come first.
        Your tap is kept in this page’s address alone.
      </p>
    </div>
  );
}
