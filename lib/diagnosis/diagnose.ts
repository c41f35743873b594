import type { Worked } from "@/lib/units";
import { type ByCause, type Cause, CAUSE_WORDS, CAUSES } from "./causes";
import {
  type Answers,
  afterOutcome,
  knownAnswers,
  likeliest,
  nextCheck,
  type NextCheck,
  OFF_FIRST,
} from "./checks";
import type { Expectation, Finding, RunReading, Severity } from "./expectation";
import { posteriorOf } from "./posterior";
import { safetyFindings } from "./safety";
import { amps, likelihoodWord, volts } from "./words";
import { workedDiagnosis } from "./working";

/** A cause with its probability, likeliest first. */
export type RankedCause = {
  readonly cause: Cause;
  readonly title: string;
  /** what it does to the meter */
  readonly shows: string;
  /** how it is put right, the supply off first */
  readonly mend: string;
  /** 0 to 1 */
  readonly probability: number;
  /** "likely", "perhaps" … */
  readonly word: string;
};

/** "as expected", one cause that is likely, or none that stands out. */
export type Verdict = "as expected" | "likely" | "not sure";

export type Diagnosis = {
  readonly verdict: Verdict;
  /** in a sentence; two causes by name when it is not sure */
  readonly headline: string;
  /** those worth a line, likeliest first */
  readonly ranked: readonly RankedCause[];
  readonly next: NextCheck | null;
  /** the checks that were answered, in words */
  readonly answered: readonly {
    readonly code: string;
    readonly ask: string;
    readonly words: string;
  }[];
  /** what to see to, "look now" before "watch"; empty when all is as expected */
  readonly findings: readonly Finding[];
  readonly working: Worked;
};

/** From here one cause is named; below it the diagnosis says that it is not sure: assumption. */
export const SURE_FROM = 0.7;
/** All is taken to be well while that is likelier than everything else together. */
const WELL_FROM = 0.5;
/** Less likely causes get no line; of fourteen, one is always likelier. */
const LEAST_SHOWN = 0.02;
const MOST_SHOWN = 5;

/**
 * What is likely wrong with a run: each cause's probability given the readings, what to check next, and what presses.
 *
 * Each cause is a family of cells, this tank's own with something changed over time, whose unknowns are averaged out;
 * volts, amps, temperature and level of every reading count, and what is known of bath, anode and clamps. When no cause
 * stands out it says so, and names the check that would tell.
 *
 * @param readings of one run, in any order; none gives no diagnosis
 * @param answers  outcomes of checks that somebody made, by the check's code; unknown ones are left out
 * @returns null without readings
 * @throws RangeError if the expected band is not 0 ≤ low ≤ high, or a figure of the cell is out of range
 * @example diagnose(readings, expected)?.headline // "Likely: positive lead open"
 */
export function diagnose(
  readings: readonly RunReading[],
  expected: Expectation,
  answers: Answers = {},
): Diagnosis | null {
  const inOrder = [...readings].sort((a, b) => a.atMs - b.atMs);
  const latest = inOrder.at(-1);
  if (!latest) return null;
  const posterior = posteriorOf(inOrder, expected);
  const done = knownAnswers(answers);
  const probability = done.reduce(
    (before, { outcome }) => afterOutcome(before, outcome),
    posterior.probability,
  );
  const verdict = verdictOn(probability);
  const ranked = rankedCauses(probability);
  const next = nextCheck(probability, done);
  const safety = safetyFindings(latest, { ...expected, supply: expected.cell.supply });
  const cause = causeFinding({ verdict, ranked, next, latest, expected });
  return {
    verdict,
    headline: headlineOf(verdict, ranked),
    ranked,
    next,
    answered: done.map(({ check, outcome }) => ({
      code: check.code,
      ask: check.ask,
      words: outcome.words,
    })),
    findings: byPressing(joined(safety, cause)),
    working: workedDiagnosis(posterior, probability, expected),
  };
}

function verdictOn(probability: ByCause): Verdict {
  const top = likeliest(probability);
  if (probability.AS_IT_SHOULD >= WELL_FROM) return "as expected";
  return top !== "SOMETHING_ELSE" && probability[top] >= SURE_FROM ? "likely" : "not sure";
}

function rankedCauses(probability: ByCause): readonly RankedCause[] {
  return [...CAUSES]
    .sort((one, other) => probability[other] - probability[one])
    .filter((cause) => probability[cause] >= LEAST_SHOWN)
    .slice(0, MOST_SHOWN)
    .map((cause) => ({
      cause,
      ...CAUSE_WORDS[cause],
      mend: `${OFF_FIRST} ${CAUSE_WORDS[cause].mend}`,
      probability: probability[cause],
      word: likelihoodWord(probability[cause]),
    }));
}

const lowered = (title: string): string => `${title.charAt(0).toLowerCase()}${title.slice(1)}`;

function headlineOf(verdict: Verdict, ranked: readonly RankedCause[]): string {
  if (verdict === "as expected") return "As it should be, as far as the meter tells.";
  const [first, second] = ranked
    .filter(({ cause }) => cause !== "AS_IT_SHOULD")
    .map(({ title }) => lowered(title));
  if (verdict === "likely") return `Likely: ${first}.`;
  if (ranked[0]?.cause === "SOMETHING_ELSE") return "Not sure: no cause here fits the readings.";
  const wellToo = ranked.slice(0, 2).some(({ cause }) => cause === "AS_IT_SHOULD");
  return `Not sure: ${first}, or ${wellToo ? "nothing at all" : (second ?? "something else")}.`;
}

/** Causes that may not wait: something is live, hot or eaten. */
const PRESSING: readonly Cause[] = ["LEAD_OPEN", "TOUCHING", "SUPPLY_OFF", "REVERSED"];

type Seen = Pick<Diagnosis, "verdict" | "ranked" | "next"> & {
  readonly latest: RunReading;
  readonly expected: Expectation;
};

/** The diagnosis in one line; null when all is as expected. */
function causeFinding({ verdict, ranked, next, latest, expected }: Seen): Finding | null {
  const [first] = ranked;
  if (verdict === "as expected" || !first) return null;
  const pressing = ranked
    .filter(({ cause }) => PRESSING.includes(cause))
    .reduce((sum, { probability }) => sum + probability, 0);
  const severity: Severity = pressing > WELL_FROM ? "look now" : "watch";
  const { currentLowA, currentHighA } = expected;
  return {
    code: verdict === "likely" ? first.cause : "NOT_SURE",
    severity,
    title: verdict === "likely" ? first.title : headlineOf(verdict, ranked).replace(/\.$/, ""),
    seen: `${amps(latest.currentA)} at ${volts(latest.voltsV)}; ${amps(currentLowA)} to ${amps(currentHighA)} planned.`,
    nextCheck: verdict === "likely" || !next ? first.mend : fromOff(next.words, severity),
  };
}

const fromOff = (words: string, severity: Severity): string =>
  severity === "watch" || words.startsWith(OFF_FIRST) ? words : `${OFF_FIRST} ${words}`;

/** What a safety rule says already is not said twice. */
function joined(safety: readonly Finding[], cause: Finding | null): readonly Finding[] {
  const said = safety.some(
    ({ code }) => code === cause?.code || (code === "LEVEL_LOW" && cause?.code === "LEVEL_FALLEN"),
  );
  return cause === null || said ? safety : [cause, ...safety];
}

function byPressing(findings: readonly Finding[]): readonly Finding[] {
  return [
    ...findings.filter(({ severity }) => severity === "look now"),
    ...findings.filter(({ severity }) => severity === "watch"),
  ];
}
