import { type Actor, requirePermission } from "@/lib/access";
import {
  findQuotableJob,
  type MailRow,
  mailsOfQuotes,
  type QuotableJob,
  type QuoteEvent,
  quoteEvents,
  type QuoteOptionRow,
  type QuoteRow,
  quotesOfJob,
  type QuoteVersionRow,
  rateCardOn,
  reading,
  type ShopRow,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import type { TaxRule } from "@/lib/pricing";
import { addDays, calendarDay } from "../calendar";
import { type MailAddresses, mailAddresses } from "../mail/quote-mails";
import { requireShop } from "../open-shop";
import { partsToQuote } from "./draft";
import { differenceOf, type VersionDifference } from "./difference";
import { estimateOf, type StoredEstimate } from "./estimate";
import { usualTaxCode } from "./price-options";
import { type OptionWish, usualWishes } from "./wishes";

export type ShownOption = QuoteOptionRow & { readonly stored: StoredEstimate | null };
export type ShownVersion = Omit<QuoteVersionRow, "options"> & {
  readonly options: readonly ShownOption[];
  /** against the version before; null of the first */
  readonly difference: VersionDifference | null;
};
export type ShownQuote = Omit<QuoteRow, "versions"> & {
  readonly versions: readonly ShownVersion[];
  /** good, ended by time, ended by the shop, or never made */
  readonly link: "open" | "expired" | "revoked" | "none";
};

/** The quotes of one job as the shop sees them. */
export type JobQuotes = {
  readonly job: QuotableJob;
  readonly quotes: readonly ShownQuote[];
  /** parts that a new draft would price */
  readonly toQuote: QuotableJob["parts"];
  /** parts that no draft can price yet: no plan */
  readonly unplanned: QuotableJob["parts"];
  readonly events: readonly QuoteEvent[];
  /** what a new draft would be valid until */
  readonly usualValidUntil: Date;
  /** the usual ways of doing the parts of `toQuote`, the leading one first; empty where there are none */
  readonly usual: readonly OptionWish[];
  /** ways of taxing, of the rates in force today; empty where none hold yet */
  readonly taxRules: readonly Pick<TaxRule, "code" | "label">[];
  readonly usualTaxCode: string;
  readonly shop: ShopRow;
  /** about these quotes, newest first */
  readonly mails: readonly MailRow[];
  readonly addresses: MailAddresses;
};

/** Events shown beside a quote; older ones stand in the audit trail. */
const EVENTS_SHOWN = 30;

/** @throws Refusal not-allowed | not-found */
export async function jobQuotes(actor: Actor, jobId: string, now: Date): Promise<JobQuotes> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const job = await findQuotableJob(db, jobId);
    if (!job) throw new Refusal("not-found", "There is no such job.");
    const [quotes, shop] = await Promise.all([quotesOfJob(db, jobId), requireShop(db)]);
    const quoteIds = quotes.map(({ id }) => id);
    const events = await quoteEvents(db, quoteIds, EVENTS_SHOWN);
    const today = calendarDay(now, shop.timeZone);
    const card = await rateCardOn(db, today);
    const toQuote = job.state === "OPEN" ? partsToQuote(job, quotes) : [];
    return {
      job,
      quotes: quotes.map((quote) => asShown(quote, now)),
      toQuote,
      usual: toQuote.length > 0 ? usualWishes(toQuote, card?.rushPercent ?? 0) : [],
      taxRules: card?.taxRules ?? [],
      usualTaxCode: card ? usualTaxCode(job.customer.taxCode, card) : "",
      unplanned: job.parts.filter(({ plan, state }) => plan === null && state !== "REFUSED"),
      events,
      mails: await mailsOfQuotes(db, quoteIds, EVENTS_SHOWN),
      addresses: mailAddresses(job, shop),
      usualValidUntil: addDays(today, shop.quoteValidDays),
      shop,
    };
  });
}

function asShown(quote: QuoteRow, now: Date): ShownQuote {
  return {
    ...quote,
    versions: quote.versions.map((version, index) => {
      // Newest first: the one before stands behind.
      const before = quote.versions[index + 1];
      return {
        ...version,
        options: version.options.map((option) => ({ ...option, stored: estimateOf(option) })),
        difference: before ? differenceOf(before, version) : null,
      };
    }),
    link: linkState(quote, now),
  };
}

function linkState(quote: QuoteRow, now: Date): ShownQuote["link"] {
  if (!quote.hasLink || !quote.linkExpiresAt) return "none";
  if (quote.linkRevokedAt) return "revoked";
  return quote.linkExpiresAt > now ? "open" : "expired";
}
