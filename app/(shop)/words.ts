/** How states are said on every screen, each with its tone. */
import type { Tone } from "@/app/ui";

type Word = { readonly word: string; readonly tone: Tone };

export const PART_STATE: Readonly<Record<string, Word>> = {
  TAKEN_IN: { word: "taken in", tone: "ink" },
  PLANNED: { word: "planned", tone: "ink" },
  BOOKED: { word: "booked", tone: "bath" },
  IN_BATH: { word: "in the bath", tone: "bath" },
  PULLED: { word: "pulled, to finish", tone: "brass" },
  FINISHED: { word: "finished", tone: "ink" },
  HANDED_BACK: { word: "handed back", tone: "zinc" },
  REFUSED: { word: "must not go in", tone: "oxide" },
};

export const VERDICT: Readonly<Record<string, Word>> = {
  ACCEPT: { word: "may go in", tone: "bath" },
  ACCEPT_WITH_CONDITIONS: { word: "with conditions", tone: "brass" },
  REFER: { word: "refer or find out", tone: "oxide" },
  REFUSE: { word: "must not go in", tone: "oxide" },
};

export const JOB_STATE: Readonly<Record<string, Word>> = {
  OPEN: { word: "open", tone: "ink" },
  CLOSED: { word: "closed", tone: "zinc" },
  CANCELLED: { word: "cancelled", tone: "zinc" },
};

export const QUOTE_STATE = {
  DRAFT: { word: "draft", tone: "ink" },
  SENT: { word: "with the customer", tone: "brass" },
  ACCEPTED: { word: "accepted", tone: "bath" },
  DECLINED: { word: "declined", tone: "oxide" },
  EXPIRED: { word: "expired", tone: "oxide" },
  SUPERSEDED: { word: "replaced or withdrawn", tone: "zinc" },
} as const satisfies Readonly<Record<string, Word>>;

export const RUN_STATE: Readonly<Record<string, Word>> = {
  PLANNED: { word: "booked", tone: "ink" },
  RUNNING: { word: "running", tone: "bath" },
  PULLED: { word: "pulled, to finish", tone: "brass" },
  FINISHED: { word: "finished", tone: "zinc" },
  CANCELLED: { word: "cancelled", tone: "zinc" },
};

export const DIP_RESULT: Readonly<Record<string, Word>> = {
  CLEAN: { word: "clean", tone: "bath" },
  PARTLY: { word: "partly clean", tone: "brass" },
  AGAIN: { word: "must go in again", tone: "oxide" },
  DAMAGED: { word: "damaged", tone: "oxide" },
};

/** A load in words, for a sentence. @example loadWords(run) // "the skillet and 2 more" */
export function loadWords(run: {
  readonly dips: readonly { readonly part: { readonly description: string } }[];
}): string {
  const [first, second, ...rest] = run.dips.map(
    ({ part }) => `the ${inSentence(part.description)}`,
  );
  if (!first) return "the load";
  if (!second) return first;
  return rest.length === 0 ? `${first} and ${second}` : `${first} and ${rest.length + 1} more`;
}

/** A description as it stands within a sentence: "Skillet" loses its capital, "BSA frame" keeps it. */
export function inSentence(description: string): string {
  return /^\p{Lu}\p{Ll}/u.test(description)
    ? `${description.charAt(0).toLowerCase()}${description.slice(1)}`
    : description;
}
