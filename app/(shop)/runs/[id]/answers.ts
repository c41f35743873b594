import type { Answers } from "@/lib/diagnosis";

const CHECK_CODE = /^[A-Z]{1,20}$/;
const OUTCOME_CODE = /^[a-z]{1,20}$/;

/**
 * Outcomes of checks made on the bench, as they stand in the page's address: nothing is stored, so going back undoes.
 *
 * @example parseAnswers("METER.steady,CLAMP.bright") // { METER: "steady", CLAMP: "bright" }
 */
export function parseAnswers(seen: string | readonly string[] | undefined): Answers {
  const text = typeof seen === "string" ? seen : (seen?.[0] ?? "");
  const pairs = text.split(",").flatMap((pair) => {
    const [check = "", outcome = ""] = pair.split(".");
    return CHECK_CODE.test(check) && OUTCOME_CODE.test(outcome) ? [[check, outcome] as const] : [];
  });
  return Object.fromEntries(pairs);
}

/** Address of a run's page with these answers. */
export function answersHref(runId: string, answers: Answers): string {
  const seen = Object.entries(answers).map(([check, outcome]) => `${check}.${outcome}`);
  return `/runs/${runId}${seen.length > 0 ? `?seen=${seen.join(",")}` : ""}#wrong`;
}

/** The answers without that of one check. */
export function withoutAnswer(answers: Answers, check: string): Answers {
  return Object.fromEntries(Object.entries(answers).filter(([code]) => code !== check));
}
