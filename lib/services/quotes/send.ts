import { type Actor, requirePermission } from "@/lib/access";
import {
  chosenOption,
  type Db,
  inTransaction,
  moveQuoteVersion,
  type QuoteRow,
  type QuoteVersionRow,
  recordAudit,
  revokeQuoteLink,
  setQuoteLink,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { calendarDay } from "../calendar";
import { dropOffers, mailOffer, type Post } from "../mail/quote-mails";
import { requireShop } from "../open-shop";
import { newSecretToken } from "../secret-token";
import { linkExpiry, requireQuote } from "./link";

/**
 * Offers the draft to the customer and makes its private link, which works up to the end of the last valid day.
 *
 * @param post writes the mail that brings the link, in the same transaction; null: no mail
 * @returns the link's token: not kept, so this is the one time it can be shown
 * @throws Refusal not-allowed | not-found | conflict (no draft, or sent meanwhile) | invalid (past its day)
 */
export async function sendQuote(
  actor: Actor,
  quoteId: string,
  now: Date,
  post: Post | null = null,
): Promise<string> {
  requirePermission(actor, "quote");
  return inTransaction(async (db) => {
    const quote = await requireQuote(db, quoteId);
    const draft = liveVersion(quote, "DRAFT");
    const { timeZone } = await requireShop(db);
    if (draft.validUntil < calendarDay(now, timeZone)) {
      throw new Refusal(
        "invalid",
        "This draft was valid up to an earlier day. Choose a new day first.",
      );
    }
    // Conditional on DRAFT: of two people who send at once, one finds it sent.
    if (!(await moveQuoteVersion(db, draft.id, "DRAFT", { state: "SENT", sentAt: now }))) {
      throw new Refusal("conflict", "This quote was sent or changed a moment ago. Open it again.");
    }
    const { token, tokenHash } = newSecretToken();
    await setQuoteLink(db, quoteId, {
      tokenHash,
      expiresAt: linkExpiry(draft.validUntil, timeZone),
    });
    await dropOffers(db, quoteId);
    await mailOffer(db, { quote, version: draft, token }, post, now);
    await audit(db, actor, now, "quote.sent", quote, draft);
    return token;
  });
}

/**
 * Takes a draft or an offer back and stops its link. A customer who answers at the same moment either is first, and
 * the withdrawal is refused, or finds it withdrawn.
 *
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function withdrawQuote(actor: Actor, quoteId: string, now: Date): Promise<void> {
  requirePermission(actor, "quote");
  await inTransaction(async (db) => {
    const quote = await requireQuote(db, quoteId);
    const version = quote.versions.find(({ state }) => state === "DRAFT" || state === "SENT");
    if (!version)
      throw new Refusal("conflict", "Only a draft or a quote not yet answered can be withdrawn.");
    if (!(await moveQuoteVersion(db, version.id, version.state, { state: "SUPERSEDED" }))) {
      throw new Refusal(
        "conflict",
        "This quote was answered or changed a moment ago. Open it again.",
      );
    }
    await revokeQuoteLink(db, quoteId, now);
    await dropOffers(db, quoteId);
    await audit(db, actor, now, "quote.withdrawn", quote, version);
  });
}

function liveVersion(quote: QuoteRow, state: QuoteVersionRow["state"]): QuoteVersionRow {
  const version = quote.versions.find((candidate) => candidate.state === state);
  if (!version)
    throw new Refusal("conflict", "There is no draft of this quote to send. Make one first.");
  return version;
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  quote: QuoteRow,
  version: QuoteVersionRow,
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "quote",
    subjectId: quote.id,
    detail: { version: version.version, totalMinor: chosenOption(version).totalMinor },
  });
}
