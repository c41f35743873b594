/** Mails about a quote, written in the transaction of what they tell of; the worker sends them. */
import {
  chosenOption,
  type Db,
  dropWaitingMails,
  findQuotableJob,
  insertMail,
  type MailKind,
  type QuotableJob,
  type QuoteRow,
  type QuoteVersionRow,
  type ShopRow,
  wakeMailer,
} from "@/lib/data";
import { formatMoney, money } from "@/lib/money";
import { dayText } from "../calendar";
import { requireShop } from "../open-shop";
import { mailAddress } from "./address";
import { answerMail, type MailText, offerMail, questionMail } from "./quote-words";

/** How mail leaves this server. */
export type Post = {
  /** whether there is a mail server to hand mails to; without, none are written */
  readonly isSetUp: boolean;
  /** address that people open, without a slash at its end */
  readonly publicUrl: string;
};

/** Mails that hold the customer's link. */
const WITH_LINK: readonly MailKind[] = ["QUOTE_SENT", "QUOTE_CHANGED"];

/** Drops what waits with a link that no longer opens the offer. */
export async function dropOffers(db: Db, quoteId: string): Promise<void> {
  await dropWaitingMails(db, quoteId, WITH_LINK);
}

/**
 * Writes the mail with the private link to the customer. Nothing where mail is not set up, or where the customer or
 * the shop has no address: the screen says which.
 */
export async function mailOffer(
  db: Db,
  { quote, version, token }: { quote: QuoteRow; version: QuoteVersionRow; token: string },
  post: Post | null,
  now: Date,
): Promise<void> {
  const about = await aboutQuote(db, quote, post);
  const to = mailAddress(about?.job.customer.email ?? "");
  if (!about || !to) return;
  const { shop, job, publicUrl } = about;
  const isChange = quote.versions.some(
    (other) => other.version < version.version && other.sentAt !== null,
  );
  const mail = offerMail({
    shop,
    customerName: job.customer.name,
    quoteNumber: quote.number,
    isChange,
    options: version.options.map(({ name, totalMinor }) => ({
      name,
      total: formatMoney(money(totalMinor, version.currency), shop.locale),
    })),
    validUntil: dayText(version.validUntil, shop.locale),
    message: version.messageToCustomer,
    link: `${publicUrl}/q/${token}`,
  });
  await queue(db, mail, {
    kind: isChange ? "QUOTE_CHANGED" : "QUOTE_SENT",
    quoteId: quote.id,
    attachVersionId: version.id,
    toAddress: to,
    // A renewed link is another mail; nothing of the link itself is kept.
    key: `offer ${version.id} ${now.getTime()}`,
    now,
  });
}

export type Answered = {
  readonly quote: QuoteRow;
  readonly version: QuoteVersionRow;
  readonly accepted: boolean;
  readonly name: string;
  readonly note: string;
  readonly optionId: string | null;
  readonly lookAt: string;
};

/** Tells the shop what the customer answered. */
export async function mailAnswer(
  db: Db,
  answered: Answered,
  post: Post | null,
  now: Date,
): Promise<void> {
  const { quote, version, accepted, optionId } = answered;
  const about = await aboutQuote(db, quote, post);
  if (!about) return;
  const option = chosenOption({ options: version.options, acceptedOptionId: optionId });
  const mail = answerMail({
    quoteNumber: quote.number,
    customerName: about.job.customer.name,
    answeredName: answered.name,
    accepted,
    optionName: accepted && version.options.length > 1 ? option.name : null,
    total: formatMoney(money(option.totalMinor, version.currency), about.shop.locale),
    note: answered.note,
    lookAt: answered.lookAt,
    page: pageOf(quote, about.publicUrl),
  });
  await queue(db, mail, {
    kind: "QUOTE_ANSWERED",
    quoteId: quote.id,
    attachVersionId: accepted ? version.id : null,
    toAddress: about.shopAddress,
    key: `answer ${version.id}`,
    now,
  });
}

/** Tells the shop what the customer asks. */
export async function mailQuestion(
  db: Db,
  { quote, name, text }: { quote: QuoteRow; name: string; text: string },
  post: Post | null,
  now: Date,
): Promise<void> {
  const about = await aboutQuote(db, quote, post);
  if (!about) return;
  const mail = questionMail({
    quoteNumber: quote.number,
    customerName: about.job.customer.name,
    name,
    question: text,
    page: pageOf(quote, about.publicUrl),
  });
  await queue(db, mail, {
    kind: "QUOTE_QUESTION",
    quoteId: quote.id,
    attachVersionId: null,
    toAddress: about.shopAddress,
    key: `question ${quote.id} ${now.getTime()}`,
    now,
  });
}

/** Whom mails about a job's quotes go to and come from; null where there is no address that mail can be sent to. */
export type MailAddresses = { readonly customer: string | null; readonly shop: string | null };

export const mailAddresses = (
  { customer }: QuotableJob,
  { email }: Pick<ShopRow, "email">,
): MailAddresses => ({ customer: mailAddress(customer.email), shop: mailAddress(email) });

const pageOf = ({ jobId }: QuoteRow, publicUrl: string): string =>
  `${publicUrl}/jobs/${jobId}/quote`;

type About = {
  readonly job: QuotableJob;
  readonly shop: ShopRow;
  /** sender of every mail, and where the shop reads its own */
  readonly shopAddress: string;
  readonly publicUrl: string;
};

async function aboutQuote(db: Db, quote: QuoteRow, post: Post | null): Promise<About | null> {
  if (!post?.isSetUp) return null;
  const shop = await requireShop(db);
  const shopAddress = mailAddress(shop.email);
  const job = await findQuotableJob(db, quote.jobId);
  return job && shopAddress ? { job, shop, shopAddress, publicUrl: post.publicUrl } : null;
}

type Queued = {
  readonly kind: MailKind;
  readonly quoteId: string;
  readonly attachVersionId: string | null;
  readonly toAddress: string;
  readonly key: string;
  readonly now: Date;
};

async function queue(db: Db, { subject, text }: MailText, mail: Queued): Promise<void> {
  const { key, now, ...columns } = mail;
  const idempotencyKey = key;
  await insertMail(db, { ...columns, subject, textBody: text, createdAt: now, idempotencyKey });
  await wakeMailer(db);
}
