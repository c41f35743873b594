import {
  chosenOption,
  type Db,
  findQuotableJob,
  findQuoteByLink,
  type QuotableJob,
  type QuoteLineRow,
  type QuoteOptionRow,
  type QuoteRow,
  type QuoteState,
  type QuoteVersionRow,
  reading,
} from "@/lib/data";
import { requireShop } from "../open-shop";
import { differenceOf, type VersionDifference } from "./difference";
import { estimateOf } from "./estimate";
import { hashSecretToken } from "../secret-token";
import { offeredVersion } from "./offer";
import { hoursWords, type PartPromise } from "./promise";

/** How far one part is, for its customer. */
export type PartProgress = {
  readonly mark: string;
  readonly description: string;
  /** plain words: "in the bath now" */
  readonly words: string;
  /** how many of the steps are behind it, of `PROGRESS_STEPS` */
  readonly step: number;
};

/** Everything a customer sees through the link, and nothing else of the shop. */
export type CustomerQuote = {
  readonly shop: {
    readonly name: string;
    readonly address: string;
    readonly email: string;
    readonly phone: string;
  };
  readonly customerName: string;
  readonly quoteNumber: number;
  readonly jobNumber: number;
  readonly promisedFor: Date | null;
  readonly locale: string;
  readonly timeZone: string;
  /** null while the shop is changing its offer */
  readonly offer: CustomerOffer | null;
  /** how the work stands; empty until accepted */
  readonly progress: readonly PartProgress[];
};

export type CustomerOffer = Pick<
  QuoteVersionRow,
  | "version"
  | "validUntil"
  | "currency"
  | "terms"
  | "messageToCustomer"
  | "answeredAt"
  | "answeredName"
  | "acceptedOptionId"
> & {
  readonly versionId: string;
  readonly state: QuoteState;
  /** one or more ways of doing it, the leading one first */
  readonly options: readonly OfferedOption[];
  /** against the version that the customer was sent before; null where there was none */
  readonly changes: VersionDifference | null;
};

export type OfferedOption = Pick<
  QuoteOptionRow,
  | "id"
  | "name"
  | "goal"
  | "rush"
  | "netMinor"
  | "taxMinor"
  | "totalMinor"
  | "lowMinor"
  | "highMinor"
  | "depositMinor"
  | "pricesIncludeTax"
  | "taxes"
> & {
  readonly lines: readonly Omit<QuoteLineRow, "partId">[];
  readonly promises: readonly (Omit<PartPromise, "partId"> & { readonly hours: string })[];
};

/** Steps of a part's way through the shop, as a customer follows them. */
export const PROGRESS_STEPS = 5;

const PROGRESS: Readonly<
  Record<QuotableJob["parts"][number]["state"], readonly [words: string, step: number]>
> = {
  TAKEN_IN: ["with us, waiting to be planned", 0],
  PLANNED: ["with us, waiting for a tank", 1],
  BOOKED: ["a tank is booked for it", 2],
  IN_BATH: ["in the bath now", 3],
  PULLED: ["out of the bath, being finished", 4],
  FINISHED: ["finished, ready for you", 5],
  HANDED_BACK: ["handed back to you", 5],
  REFUSED: ["not to be treated: please ask us", 0],
};

/**
 * What the link opens at `now`; null for an unknown, revoked or expired link, which all look the same.
 * The token is the only authority here: it opens this one quote.
 */
export async function openQuote(token: string, now: Date): Promise<CustomerQuote | null> {
  return reading(async (db) => {
    const quote = await findQuoteByLink(db, hashSecretToken(token), now);
    return quote && customerView(db, quote);
  });
}

async function customerView(db: Db, quote: QuoteRow): Promise<CustomerQuote | null> {
  const [job, shop] = await Promise.all([findQuotableJob(db, quote.jobId), requireShop(db)]);
  if (!job) return null;
  const offered = offeredVersion(quote);
  return {
    shop: { name: shop.name, address: shop.address, email: shop.email, phone: shop.phone },
    customerName: job.customer.name,
    quoteNumber: quote.number,
    jobNumber: job.number,
    promisedFor: job.promisedFor,
    locale: shop.locale,
    timeZone: shop.timeZone,
    offer: offered && asOffer(offered, quote),
    progress: offered?.state === "ACCEPTED" ? progressOf(job, offered) : [],
  };
}

function asOffer(version: QuoteVersionRow, quote: QuoteRow): CustomerOffer {
  const seenBefore = quote.versions.find(
    (other) => other.version < version.version && other.sentAt !== null,
  );
  return {
    versionId: version.id,
    version: version.version,
    state: version.state,
    validUntil: version.validUntil,
    currency: version.currency,
    terms: version.terms,
    messageToCustomer: version.messageToCustomer,
    answeredAt: version.answeredAt,
    answeredName: version.answeredName,
    acceptedOptionId: version.acceptedOptionId,
    options: version.options.map(asOfferedOption),
    changes: seenBefore ? differenceOf(seenBefore, version) : null,
  };
}

function asOfferedOption(option: QuoteOptionRow): OfferedOption {
  const promises = estimateOf(option)?.promises ?? [];
  return {
    id: option.id,
    name: option.name,
    goal: option.goal,
    rush: option.rush,
    netMinor: option.netMinor,
    taxMinor: option.taxMinor,
    totalMinor: option.totalMinor,
    lowMinor: option.lowMinor,
    highMinor: option.highMinor,
    depositMinor: option.depositMinor,
    pricesIncludeTax: option.pricesIncludeTax,
    taxes: option.taxes,
    lines: option.lines.map(asOfferedLine),
    promises: promises.map(({ partId: _, ...promise }) => ({
      ...promise,
      hours: hoursWords(promise),
    })),
  };
}

/** Named one by one: what the database adds to a row stays in the shop. */
const asOfferedLine = (line: QuoteLineRow): OfferedOption["lines"][number] => ({
  position: line.position,
  label: line.label,
  detail: line.detail,
  netMinor: line.netMinor,
  taxMinor: line.taxMinor,
  taxCode: line.taxCode,
});

function progressOf(job: QuotableJob, version: QuoteVersionRow): PartProgress[] {
  const quoted = new Set(chosenOption(version).lines.map(({ partId }) => partId));
  return job.parts
    .filter(({ id }) => quoted.has(id))
    .map(({ mark, description, state }) => {
      const [words, step] = PROGRESS[state];
      return { mark, description, words, step };
    });
}
