import {
  chosenOption,
  countQuoteEvents,
  type Db,
  extendQuoteLink,
  findQuoteByLink,
  inTransaction,
  moveQuoteVersion,
  type QuoteRow,
  type QuoteVersionRow,
  recordAudit,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { hashSecretToken } from "../secret-token";
import { linkExpiryAfterAcceptance, requireQuote } from "./link";

/** Questions that one quote takes in a day; more than a person asks, less than a machine sends. */
const QUESTIONS_A_DAY = 10;
const DAY_MS = 86_400_000;

export type CustomerAnswer = {
  /** the version that was read: a newer one is not accepted unseen */
  readonly versionId: string;
  readonly name: string;
  /** why it was declined */
  readonly note?: string | undefined;
};

/**
 * The customer accepts, by the link. The same answer twice is harmless.
 *
 * @throws Refusal not-found (unknown, revoked or expired link: all the same) | invalid (no name) | expired | conflict
 */
export async function acceptQuote(token: string, answer: CustomerAnswer, now: Date): Promise<void> {
  await answerQuote(token, "ACCEPTED", answer, now);
}

/** The customer declines, by the link; as `acceptQuote`. */
export async function declineQuote(
  token: string,
  answer: CustomerAnswer,
  now: Date,
): Promise<void> {
  await answerQuote(token, "DECLINED", answer, now);
}

async function answerQuote(
  token: string,
  state: "ACCEPTED" | "DECLINED",
  answer: CustomerAnswer,
  now: Date,
): Promise<void> {
  const name = answer.name.trim();
  if (name === "") {
    throw new Refusal("invalid", "Write your name, so that the shop knows who answered.", {
      name: "Write your name.",
    });
  }
  await inTransaction(async (db) => {
    const quote = await requireQuoteByLink(db, token, now);
    const version = quote.versions.find(({ id }) => id === answer.versionId);
    if (!version || version.state === "DRAFT") throw deadLink();
    const { timeZone } = await requireShop(db);
    // Conditional on SENT and on the day: accepting, declining, withdrawing, revising and expiring at once have one outcome.
    const moved = await moveQuoteVersion(
      db,
      version.id,
      "SENT",
      {
        state,
        answeredAt: now,
        answeredName: name,
        answerNote: answer.note ?? "",
        ...(state === "ACCEPTED" && { acceptedOptionId: chosenOption(version).id }),
      },
      calendarDay(now, timeZone),
    );
    if (!moved) {
      await explainUnlessSame(db, version, state);
      return;
    }
    if (state === "ACCEPTED") {
      await extendQuoteLink(db, quote.id, linkExpiryAfterAcceptance(now, timeZone));
    }
    await recordAudit(db, {
      actor: null,
      at: now,
      action: state === "ACCEPTED" ? "quote.accepted" : "quote.declined",
      subjectType: "quote",
      subjectId: quote.id,
      detail: { version: version.version, name, note: answer.note ?? "" },
    });
  });
}

/** Nothing to say where the same answer stands already; otherwise why this one came too late. */
async function explainUnlessSame(
  db: Db,
  version: QuoteVersionRow,
  wanted: "ACCEPTED" | "DECLINED",
): Promise<void> {
  const quote = await requireQuote(db, version.quoteId);
  const state = quote.versions.find(({ id }) => id === version.id)?.state;
  if (state === wanted) return;
  if (state === "SENT" || state === "EXPIRED") {
    throw new Refusal("expired", "This quote is past its last day. Ask the shop for a new one.");
  }
  throw new Refusal(
    "conflict",
    state === "SUPERSEDED"
      ? "The shop has changed or withdrawn this quote meanwhile. Open the page again, or ask the shop."
      : `This quote was ${state === "ACCEPTED" ? "accepted" : "declined"} already. Ask the shop if that should change.`,
  );
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
    await recordAudit(db, {
      actor: null,
      at: now,
      action: "quote.question",
      subjectType: "quote",
      subjectId: quote.id,
      detail: { name: question.name.trim(), text },
    });
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
