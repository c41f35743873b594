import { type Actor, requirePermission } from "@/lib/access";
import {
  type Db,
  findQuote,
  inTransaction,
  type QuoteRow,
  recordAudit,
  revokeQuoteLink,
  setQuoteLink,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { addDays, calendarDay, endOfDay } from "../calendar";
import { dropOffers, mailOffer, type Post } from "../mail/quote-mails";
import { requireShop } from "../open-shop";
import { newSecretToken } from "../secret-token";

/** How long an accepted quote's link shows how the work stands, days from acceptance. */
const LINK_DAYS_AFTER_ACCEPTANCE = 180;

/** The moment until which the link of a quote valid up to and with `validUntil` works. */
export function linkExpiry(validUntil: Date, timeZone: string): Date {
  return endOfDay(validUntil, timeZone);
}

/** The moment until which the link of a quote accepted on a day goes on to show the work. */
export function linkExpiryAfterAcceptance(acceptedAt: Date, timeZone: string): Date {
  return endOfDay(addDays(calendarDay(acceptedAt, timeZone), LINK_DAYS_AFTER_ACCEPTANCE), timeZone);
}

/**
 * Makes a new link for a quote that is with the customer or accepted; the link before stops working.
 *
 * @param post writes the mail that brings the link, in the same transaction; null: no mail
 * @returns the new token, which is not kept and cannot be shown again
 * @throws Refusal not-allowed | not-found | conflict
 */
export async function renewLink(
  actor: Actor,
  quoteId: string,
  now: Date,
  post: Post | null = null,
): Promise<string> {
  requirePermission(actor, "quote");
  return inTransaction(async (db) => {
    const quote = await requireQuote(db, quoteId);
    const { timeZone } = await requireShop(db);
    const live = quote.versions.find(({ state }) => state === "SENT" || state === "ACCEPTED");
    if (!live) {
      throw new Refusal("conflict", "Only a quote that was sent or accepted has a link.");
    }
    const { token, tokenHash } = newSecretToken();
    const expiresAt =
      live.state === "SENT"
        ? linkExpiry(live.validUntil, timeZone)
        : linkExpiryAfterAcceptance(now, timeZone);
    await setQuoteLink(db, quoteId, { tokenHash, expiresAt });
    await dropOffers(db, quoteId);
    await mailOffer(db, { quote, version: live, token }, post, now);
    await auditLink(db, actor, now, "quote.link-renewed", quote);
    return token;
  });
}

/** Stops the link of a quote at once; the quote itself stays as it is. @throws Refusal not-allowed | not-found | conflict */
export async function revokeLink(actor: Actor, quoteId: string, now: Date): Promise<void> {
  requirePermission(actor, "quote");
  await inTransaction(async (db) => {
    const quote = await requireQuote(db, quoteId);
    if (!(await revokeQuoteLink(db, quoteId, now))) {
      throw new Refusal("conflict", "This quote has no link that works.");
    }
    await dropOffers(db, quoteId);
    await auditLink(db, actor, now, "quote.link-revoked", quote);
  });
}

/** @throws Refusal not-found */
export async function requireQuote(db: Db, quoteId: string): Promise<QuoteRow> {
  const quote = await findQuote(db, quoteId);
  if (!quote) throw new Refusal("not-found", "There is no such quote.");
  return quote;
}

async function auditLink(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  quote: QuoteRow,
): Promise<void> {
  await recordAudit(db, {
    actor,
    at,
    action,
    subjectType: "quote",
    subjectId: quote.id,
    detail: { number: quote.number },
  });
}
