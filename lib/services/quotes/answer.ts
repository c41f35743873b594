import {
  chosenOption,
  countQuoteEvents,
  type Db,
  extendQuoteLink,
  findQuoteByLink,
  inTransaction,
  lockJobForQuote,
  moveQuoteVersion,
  type QuoteOptionRow,
  type QuoteRow,
  type QuoteVersionRow,
  recordAudit,
  type VersionMove,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { calendarDay } from "../calendar";
import { mailAnswer, mailQuestion, type Post } from "../mail/quote-mails";
import { requireShop } from "../open-shop";
import { hashSecretToken } from "../secret-token";
import { linkExpiryAfterAcceptance, requireQuote } from "./link";
import { lookAtWords, takeOnOption } from "./take-on";

/** Questions that one quote takes in a day; more than a person asks, less than a machine sends. */
const QUESTIONS_A_DAY = 10;
const DAY_MS = 86_400_000;

export type CustomerAnswer = {
  /** the version that was read: a newer one is not accepted unseen */
  readonly versionId: string;
  readonly name: string;
};

export type Acceptance = CustomerAnswer & {
  /** which of the version's options; may be left out where it has one */
  readonly optionId?: string | undefined;
};

export type Decline = CustomerAnswer & {
  /** why it was declined */
  readonly note?: string | undefined;
};

/**
 * The customer accepts one option, by the link. The same answer twice is harmless. What was accepted is what the
 * parts are then planned for, in the same transaction (see `takeOnOption`), and the shop is told by mail.
 *
 * @param post how mail leaves this server; null: no mail
 * @throws Refusal not-found (unknown, revoked or expired link, or no option of this version: all the same) | invalid
 *   (no name, no option chosen) | expired | conflict
 */
export async function acceptQuote(
  token: string,
  answer: Acceptance,
  now: Date,
  post: Post | null = null,
): Promise<void> {
  const name = requireName(answer);
  await inTransaction(async (db) => {
    const { quote, version, timeZone } = await readVersion(db, token, answer, now);
    const option = requireOption(version, answer.optionId);
    const moved = await moveAnswered(db, version, timeZone, now, {
      state: "ACCEPTED",
      answeredName: name,
      answerNote: "",
      acceptedOptionId: option.id,
    });
    if (!moved) return explainUnlessSame(db, version, { state: "ACCEPTED", optionId: option.id });
    await extendQuoteLink(db, quote.id, linkExpiryAfterAcceptance(now, timeZone));
    const taken = await takeOnOption(db, quote.jobId, option, now);
    const offered = version.options.length > 1 ? { option: option.name } : {};
    await audit(db, quote.id, now, "quote.accepted", {
      version: version.version,
      name,
      ...offered,
    });
    if (taken.planned.length + taken.left.length > 0) {
      await audit(db, quote.id, now, "quote.taken-on", {
        option: option.name,
        planned: taken.planned.join(", "),
        booked: taken.booked.join(", "),
        left: taken.left.join(", "),
      });
    }
    const told = { quote, version, accepted: true, name, note: "", optionId: option.id };
    await mailAnswer(db, { ...told, lookAt: lookAtWords(taken) }, post, now);
  });
}

/** The customer declines, by the link; as `acceptQuote`. */
export async function declineQuote(
  token: string,
  answer: Decline,
  now: Date,
  post: Post | null = null,
): Promise<void> {
  const name = requireName(answer);
  const note = answer.note ?? "";
  await inTransaction(async (db) => {
    const { quote, version, timeZone } = await readVersion(db, token, answer, now);
    const moved = await moveAnswered(db, version, timeZone, now, {
      state: "DECLINED",
      answeredName: name,
      answerNote: note,
    });
    if (!moved) return explainUnlessSame(db, version, { state: "DECLINED" });
    await audit(db, quote.id, now, "quote.declined", { version: version.version, name, note });
    const told = { quote, version, accepted: false, name, note, optionId: null, lookAt: "" };
    await mailAnswer(db, told, post, now);
  });
}

function requireName(answer: CustomerAnswer): string {
  const name = answer.name.trim();
  if (name === "") {
    throw new Refusal("invalid", "Write your name, so that the shop knows who answered.", {
      name: "Write your name.",
    });
  }
  return name;
}

/** The version that was read, with the job held: whoever else drafts, accepts or withdraws waits for this one. */
async function readVersion(db: Db, token: string, { versionId }: CustomerAnswer, now: Date) {
  const { jobId } = await requireQuoteByLink(db, token, now);
  await lockJobForQuote(db, jobId);
  const quote = await requireQuoteByLink(db, token, now);
  const version = quote.versions.find(({ id }) => id === versionId);
  if (!version || version.state === "DRAFT") throw deadLink();
  const { timeZone } = await requireShop(db);
  return { quote, version, timeZone };
}

function requireOption(version: QuoteVersionRow, optionId: string | undefined): QuoteOptionRow {
  const [first, ...more] = version.options;
  if (optionId === undefined || optionId === "") {
    if (first && more.length === 0) return first;
    const names = version.options.map(({ name }) => `“${name}”`).join(", ");
    throw new Refusal("invalid", `Choose one of ${names}.`, { optionId: "Choose one." });
  }
  const chosen = version.options.find(({ id }) => id === optionId);
  if (!chosen) throw deadLink();
  return chosen;
}

/** Conditional on SENT and on the day: accepting, declining, withdrawing, revising and expiring at once have one outcome. */
async function moveAnswered(
  db: Db,
  version: QuoteVersionRow,
  timeZone: string,
  now: Date,
  move: Omit<VersionMove, "answeredAt">,
): Promise<boolean> {
  const today = calendarDay(now, timeZone);
  return moveQuoteVersion(db, version.id, "SENT", { ...move, answeredAt: now }, today);
}

type Wanted = { readonly state: "ACCEPTED" | "DECLINED"; readonly optionId?: string };

/** Nothing to say where the same answer stands already; otherwise why this one came too late. */
async function explainUnlessSame(db: Db, before: QuoteVersionRow, wanted: Wanted): Promise<void> {
  const quote = await requireQuote(db, before.quoteId);
  const version = quote.versions.find(({ id }) => id === before.id);
  const state = version?.state;
  const accepted = version?.acceptedOptionId ?? undefined;
  if (state === wanted.state && accepted === wanted.optionId) return;
  if (state === "SENT" || state === "EXPIRED") {
    throw new Refusal("expired", "This quote is past its last day. Ask the shop for a new one.");
  }
  if (state === "SUPERSEDED") {
    throw new Refusal(
      "conflict",
      "The shop has changed or withdrawn this quote meanwhile. Open the page again, or ask the shop.",
    );
  }
  const which =
    version && accepted !== undefined && version.options.length > 1
      ? `“${chosenOption(version).name}” of this quote`
      : "This quote";
  throw answeredAlready(which, state);
}

const answeredAlready = (which: string, state: QuoteVersionRow["state"] | undefined): Refusal =>
  new Refusal(
    "conflict",
    `${which} was ${state === "ACCEPTED" ? "accepted" : "declined"} already. Ask the shop if that should change.`,
  );

/** What the customer did; the actor is nobody of the shop. */
async function audit(
  db: Db,
  quoteId: string,
  at: Date,
  action: string,
  detail: Readonly<Record<string, string | number>>,
): Promise<void> {
  await recordAudit(db, {
    actor: null,
    at,
    action,
    subjectType: "quote",
    subjectId: quoteId,
    detail,
  });
}

/**
 * The customer asks something about the quote; the shop reads it beside the quote.
 *
 * @throws Refusal not-found | invalid | too-many-tries
 */
export async function askAboutQuote(
  token: string,
  question: { readonly name: string; readonly text: string },
  now: Date,
  post: Post | null = null,
): Promise<void> {
  const text = question.text.trim();
  if (text === "") {
    throw new Refusal("invalid", "Write your question first.", { text: "Write your question." });
  }
  await inTransaction(async (db) => {
    const quote = await requireQuoteByLink(db, token, now);
    const since = new Date(now.getTime() - DAY_MS);
    if ((await countQuoteEvents(db, quote.id, "quote.question", since)) >= QUESTIONS_A_DAY) {
      throw new Refusal(
        "too-many-tries",
        "That is many questions for one day. Please ring the shop.",
      );
    }
    const name = question.name.trim();
    await audit(db, quote.id, now, "quote.question", { name, text });
    await mailQuestion(db, { quote, name, text }, post, now);
  });
}

/** @throws Refusal not-found, the same for unknown, revoked and expired links */
export async function requireQuoteByLink(db: Db, token: string, now: Date): Promise<QuoteRow> {
  const quote = await findQuoteByLink(db, hashSecretToken(token), now);
  if (!quote) throw deadLink();
  return quote;
}

function deadLink(): Refusal {
  return new Refusal(
    "not-found",
    "This link does not open a quote, or no longer does. Ask the shop for a new one.",
  );
}
