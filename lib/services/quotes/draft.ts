import { type Actor, requirePermission } from "@/lib/access";
import {
  chosenOption,
  type Db,
  findQuotableJob,
  insertQuote,
  insertQuoteVersion,
  inTransaction,
  lockJobForQuote,
  moveQuoteVersion,
  type NewQuoteVersion,
  nextNumber,
  type QuotableJob,
  type QuotablePart,
  type QuoteRow,
  quotesOfJob,
  recordAudit,
  rewriteDraft,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { dropOffers } from "../mail/quote-mails";
import { priceJob, type QuoteTerms } from "./price-options";

/**
 * Prices a job from the newest plans of its parts with the rates in force today, as a draft with one to four
 * options side by side.
 *
 * An earlier draft is written again; a version that was sent is superseded by a new one; parts that the customer has
 * accepted already are left out and the rest goes into a quote of its own. The job's row is locked, so that of two
 * people who draft at once the second writes over the first's draft rather than beside it.
 *
 * @returns id of the quote
 * @throws Refusal not-allowed | not-found | invalid | conflict (closed job, nothing to quote, or answered meanwhile)
 */
export async function draftQuote(
  actor: Actor,
  jobId: string,
  terms: QuoteTerms,
  now: Date,
): Promise<string> {
  requirePermission(actor, "quote");
  return inTransaction(async (db) => {
    if (!(await lockJobForQuote(db, jobId)))
      throw new Refusal("not-found", "There is no such job.");
    const job = await requireQuotableJob(db, jobId);
    const quotes = await quotesOfJob(db, jobId);
    const content = await priceJob(db, job, partsToQuote(job, quotes), terms, now);
    const quote = quotes.find((candidate) => !accepted(candidate));
    const quoteId = quote?.id ?? (await newQuote(db, jobId, now));
    const version = await writeDraft(db, quoteId, quote, content);
    await recordAudit(db, {
      actor,
      at: now,
      action: "quote.drafted",
      subjectType: "quote",
      subjectId: quoteId,
      detail: {
        version,
        totalMinor: content.options[0]?.totalMinor ?? 0,
        options: content.options.length,
      },
    });
    return quoteId;
  });
}

async function requireQuotableJob(db: Db, jobId: string): Promise<QuotableJob> {
  const job = await findQuotableJob(db, jobId);
  if (!job) throw new Refusal("not-found", "There is no such job.");
  if (job.state !== "OPEN") throw new Refusal("conflict", "This job is closed: nothing to quote.");
  return job;
}

const accepted = (quote: QuoteRow): boolean =>
  quote.versions.some(({ state }) => state === "ACCEPTED");

/** The planned parts that are not refused and not in an accepted quote already. */
export function partsToQuote(
  job: QuotableJob,
  quotes: readonly QuoteRow[],
): readonly QuotablePart[] {
  const settled = new Set(
    quotes
      .flatMap(({ versions }) => versions)
      .filter(({ state }) => state === "ACCEPTED")
      .flatMap((version) => chosenOption(version).lines.map(({ partId }) => partId)),
  );
  return job.parts.filter(
    ({ id, plan, state }) =>
      plan !== null && state !== "REFUSED" && state !== "HANDED_BACK" && !settled.has(id),
  );
}

async function newQuote(db: Db, jobId: string, now: Date): Promise<string> {
  return insertQuote(db, { number: await nextNumber(db, "quote"), jobId, createdAt: now });
}

/** @returns number of the version written */
async function writeDraft(
  db: Db,
  quoteId: string,
  quote: QuoteRow | undefined,
  content: NewQuoteVersion,
): Promise<number> {
  const newest = quote?.versions[0];
  if (newest?.state === "DRAFT" && (await rewriteDraft(db, newest.id, content))) {
    return newest.version;
  }
  // The customer may be answering at this moment: whoever changes the sent version first decides.
  if (
    newest?.state === "SENT" &&
    !(await moveQuoteVersion(db, newest.id, "SENT", { state: "SUPERSEDED" }))
  ) {
    throw new Refusal("conflict", "The customer answered this quote a moment ago. Open it again.");
  }
  // What waits in the mail would offer what is offered no more.
  await dropOffers(db, quoteId);
  const version = (newest?.version ?? 0) + 1;
  await insertQuoteVersion(db, quoteId, version, content);
  return version;
}
