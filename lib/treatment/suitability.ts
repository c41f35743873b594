import type { PartDescription } from "./part";
import { FINDING_OUTCOMES, type FindingOutcome } from "./rule";
import { RULES } from "./rules";

export const VERDICT_OUTCOMES = ["ACCEPT", "ACCEPT_WITH_CONDITIONS", "REFER", "REFUSE"] as const;
export type VerdictOutcome = (typeof VERDICT_OUTCOMES)[number];

/** How each outcome is said. */
export const VERDICT_WORDS: Readonly<Record<VerdictOutcome, string>> = {
  ACCEPT: "May go in",
  ACCEPT_WITH_CONDITIONS: "May go in, with conditions",
  REFER: "Not as it is: refer or find out first",
  REFUSE: "Must not go in",
};

/** One rule that spoke of this part, as plain data. */
export type Finding = {
  readonly rule: string;
  readonly title: string;
  readonly outcome: FindingOutcome;
  readonly absolute: boolean;
  readonly reason: string;
  readonly source: string;
  readonly caution: string | null;
  readonly whatToDo: string;
};

export type SuitabilityVerdict = {
  readonly outcome: VerdictOutcome;
  /** Firmest first. */
  readonly findings: readonly Finding[];
  /** True when a finding stands that nobody may overrule. */
  readonly absolute: boolean;
};

const OUTCOME_OF: Readonly<Record<FindingOutcome, VerdictOutcome>> = {
  CAUTION: "ACCEPT",
  CONDITION: "ACCEPT_WITH_CONDITIONS",
  REFER: "REFER",
  REFUSE: "REFUSE",
};

/**
 * Whether a part may go in the bath. Every rule that speaks of it is a finding; the firmest is the verdict.
 *
 * @example decide({ ...skillet, material: "ALUMINIUM" }).outcome // "REFUSE"
 */
export function decide(part: PartDescription): SuitabilityVerdict {
  const findings = RULES.filter((rule) => rule.when(part))
    .map((rule): Finding => ({
      rule: rule.id,
      title: rule.title,
      outcome: rule.outcome,
      absolute: rule.absolute ?? false,
      reason: rule.reason,
      source: rule.source,
      caution: rule.caution ?? null,
      whatToDo: rule.whatToDo,
    }))
    .sort((a, b) => firmness(b.outcome) - firmness(a.outcome));
  const firmest = findings[0];
  return {
    outcome: firmest ? OUTCOME_OF[firmest.outcome] : "ACCEPT",
    findings,
    absolute: findings.some((finding) => finding.absolute),
  };
}

/** True when the part may be planned and booked. */
export function mayGoIn(outcome: VerdictOutcome): boolean {
  return outcome === "ACCEPT" || outcome === "ACCEPT_WITH_CONDITIONS";
}

const firmness = (outcome: FindingOutcome): number => FINDING_OUTCOMES.indexOf(outcome);
