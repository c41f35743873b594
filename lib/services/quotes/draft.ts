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
  type NewQuoteOption,
  type NewQuoteVersion,
  nextNumber,
  type QuotableJob,
  type QuotablePart,
  type QuoteRow,
  quotesOfJob,
  recordAudit,
  rewriteDraft,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { money, percentOf } from "@/lib/money";
import { quoteLines } from "@/lib/pricing";
import { addDays, calendarDay } from "../calendar";
import { requireShop } from "../open-shop";
import { ratesOn } from "../rates";
import type { StoredEstimate } from "./estimate";
import { pricedPart } from "./priced-part";
import { promiseFor } from "./promise";

export type QuoteTerms = {
  readonly rush: boolean;
  /** 0 to 100 */
  readonly discountPercent: number;
  readonly messageToCustomer: string;
  /** the shop's own terms where left out */
  readonly terms?: string | undefined;
  /** last day it holds, as midnight UTC; the shop's usual number of days from today where left out */
  readonly validUntil?: Date | undefined;
};

/**
 * Prices a job from the newest plans of its parts with the rates in force today, as a draft.
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
      detail: { version, totalMinor: content.options[0]?.totalMinor ?? 0 },
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

async function priceJob(
  db: Db,
  job: QuotableJob,
  parts: readonly QuotablePart[],
  terms: QuoteTerms,
  now: Date,
): Promise<NewQuoteVersion> {
  if (parts.length === 0) {
    throw new Refusal(
      "conflict",
      job.parts.some(({ plan }) => plan !== null)
        ? "Every planned part of this job is in an accepted quote already, or was refused."
        : "No part of this job has a plan yet. Plan a part first; the price comes from its plan.",
    );
  }
  const shop = await requireShop(db);
  const today = calendarDay(now, shop.timeZone);
  checkTerms(terms, today);
  const { rush, discountPercent } = terms;
  const rates = await ratesOn(db, shop, today);
  const priced = quoteLines(
    parts.map((part) => pricedPart(part, shop.unitSystem)),
    rates,
    { rush, discountPercent },
  );
  const estimate: StoredEstimate = {
    priced,
    promises: parts.map((part) => promiseFor(part, shop.unitSystem)),
    planVersions: Object.fromEntries(parts.map(({ id, plan }) => [id, plan?.version ?? 0])),
  };
  const option = asOption("As planned", rush, estimate, shop.quoteDepositPercent);
  return { ...columnsOf(shop, terms, today), madeAt: now, options: [option] };
}

function asOption(
  name: string,
  rush: boolean,
  estimate: StoredEstimate,
  depositPercent: number,
): NewQuoteOption {
  const { priced } = estimate;
  const total = money(priced.totalMinor, priced.currency);
  return {
    name,
    goal: null,
    rush,
    discountPercent: priced.discountPercent,
    netMinor: priced.netMinor,
    taxMinor: priced.taxMinor,
    totalMinor: priced.totalMinor,
    lowMinor: priced.lowMinor,
    highMinor: priced.highMinor,
    depositMinor: percentOf(total, depositPercent).minor,
    pricesIncludeTax: priced.pricesIncludeTax,
    taxes: priced.taxes,
    estimate,
    lines: priced.lines.map(({ kind: _, ...line }) => line),
  };
}

function columnsOf(shop: ShopRow, terms: QuoteTerms, today: Date) {
  return {
    currency: shop.currency,
    depositPercent: shop.quoteDepositPercent,
    terms: terms.terms ?? shop.quoteTerms,
    messageToCustomer: terms.messageToCustomer,
    validUntil: terms.validUntil ?? addDays(today, shop.quoteValidDays),
  };
}

function checkTerms(terms: QuoteTerms, today: Date): void {
  const fields: Record<string, string> = {};
  if (!(terms.discountPercent >= 0 && terms.discountPercent <= 100)) {
    fields["discountPercent"] = "A discount is from 0 to 100 %.";
  }
  if (terms.validUntil && terms.validUntil < today) {
    fields["validUntil"] = "Choose today or a later day.";
  }
  if (Object.keys(fields).length > 0) {
    throw new Refusal("invalid", "This quote cannot be made like this.", fields);
  }
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
  const version = (newest?.version ?? 0) + 1;
  await insertQuoteVersion(db, quoteId, version, content);
  return version;
}
