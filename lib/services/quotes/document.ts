import { type Actor, requirePermission } from "@/lib/access";
import {
  chosenOption,
  type Db,
  findQuotableJob,
  type QuotableJob,
  type QuoteOptionRow,
  type QuoteRow,
  type QuoteVersionRow,
  reading,
  type ShopRow,
} from "@/lib/data";
import { type QuoteDocument, type QuoteDocumentOption, quotePdf } from "@/lib/documents";
import { Refusal } from "@/lib/errors";
import { requireQuoteByLink } from "./answer";
import { calendarDay, dayText } from "../calendar";
import { requireShop } from "../open-shop";
import { estimateOf } from "./estimate";
import { requireQuote } from "./link";
import { offeredVersion } from "./offer";
import { hoursWords } from "./promise";

export type PdfFile = { readonly name: string; readonly bytes: Uint8Array };

/** Said on every quote: the bath is not a licence. */
const GENERAL_CAUTIONS = [
  "Cleaned parts of brakes, steering, lifting gear, pressure vessels and firearms go back into use only after inspection by somebody qualified for it.",
];

/**
 * One version of a quote on paper, for the shop.
 *
 * @throws Refusal not-allowed | not-found
 */
export async function quotePdfForShop(
  actor: Actor,
  versionId: string,
  quoteId: string,
): Promise<PdfFile> {
  requirePermission(actor, "see-money");
  return reading(async (db) => {
    const quote = await requireQuote(db, quoteId);
    const version = quote.versions.find(({ id }) => id === versionId);
    if (!version) throw new Refusal("not-found", "There is no such version of this quote.");
    return printQuote(db, quote, version);
  });
}

/** The offered version on paper, for the customer with the link. @throws Refusal not-found */
export async function quotePdfByLink(token: string, now: Date): Promise<PdfFile> {
  return reading(async (db) => {
    const quote = await requireQuoteByLink(db, token, now);
    const version = offeredVersion(quote);
    if (!version) throw new Refusal("not-found", "The shop is changing this quote at the moment.");
    return printQuote(db, quote, version);
  });
}

/** @throws Refusal not-found */
export async function printQuote(
  db: Db,
  quote: QuoteRow,
  version: QuoteVersionRow,
): Promise<PdfFile> {
  const [job, shop] = await Promise.all([findQuotableJob(db, quote.jobId), requireShop(db)]);
  if (!job) throw new Refusal("not-found", "There is no such job.");
  const bytes = await quotePdf(quoteDocument(quote, version, job, shop));
  return { name: `quote-${quote.number}-${version.version}.pdf`, bytes };
}

function quoteDocument(
  quote: QuoteRow,
  version: QuoteVersionRow,
  job: QuotableJob,
  shop: ShopRow,
): QuoteDocument {
  const { locale, timeZone } = shop;
  return {
    shop: { name: shop.name, address: shop.address, email: shop.email, phone: shop.phone },
    customer: { name: job.customer.name, address: job.customer.address },
    quoteNumber: quote.number,
    version: version.version,
    jobNumber: job.number,
    date: dayText(calendarDay(version.sentAt ?? version.madeAt, timeZone), locale),
    validUntil: dayText(version.validUntil, locale),
    promisedFor: job.promisedFor && dayText(job.promisedFor, locale),
    currency: version.currency,
    locale,
    message: version.messageToCustomer,
    options: version.options.map(asPrinted),
    accepted: acceptedBy(version, shop),
    terms: version.terms,
    cautions: GENERAL_CAUTIONS,
    // The link is a secret that is not kept, so paper cannot carry it.
    acceptLink: null,
    madeAt: version.madeAt,
  };
}

function asPrinted(option: QuoteOptionRow): QuoteDocumentOption {
  const promises = estimateOf(option)?.promises ?? [];
  const { name, rush, pricesIncludeTax, netMinor, taxes, totalMinor } = option;
  const { lowMinor, highMinor, depositMinor } = option;
  return {
    ...{ name, rush, pricesIncludeTax, netMinor, taxes, totalMinor },
    ...{ lowMinor, highMinor, depositMinor },
    parts: promises.map((promise) => ({
      mark: promise.mark,
      description: promise.description,
      quantity: promise.quantity,
      work: promise.work,
      hours: hoursWords(promise),
      cautions: promise.cautions,
    })),
    lines: option.lines.map((line) => ({
      label: line.label,
      detail: line.detail,
      amountMinor: pricesIncludeTax ? line.netMinor + line.taxMinor : line.netMinor,
    })),
  };
}

function acceptedBy(
  version: QuoteVersionRow,
  { locale, timeZone }: ShopRow,
): QuoteDocument["accepted"] {
  const { answeredAt, answeredName, options } = version;
  if (version.state !== "ACCEPTED" || !answeredAt) return null;
  const when = new Intl.DateTimeFormat(locale, {
    timeZone,
    dateStyle: "long",
    timeStyle: "short",
  }).format(answeredAt);
  const option = options.length > 1 ? chosenOption(version).name : null;
  return { name: answeredName, when, option };
}
