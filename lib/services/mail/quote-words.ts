/** The words of mails about quotes: plain text, nothing else. Pure; amounts and days come as text. */
import { oneLine } from "./address";

export type MailText = { readonly subject: string; readonly text: string };

type Shop = { readonly name: string; readonly phone: string; readonly email: string };

export type OfferWords = {
  readonly shop: Shop;
  readonly customerName: string;
  readonly quoteNumber: number;
  /** whether the customer was sent another version before */
  readonly isChange: boolean;
  readonly options: readonly { readonly name: string; readonly total: string }[];
  readonly validUntil: string;
  readonly message: string;
  /** private: a key to the quote */
  readonly link: string;
};

/** To the customer: the prices, how long they hold, and the private link. */
export function offerMail(words: OfferWords): MailText {
  const { shop, options, quoteNumber, isChange } = words;
  const what = isChange ? "We have changed our quote" : "Here is our quote";
  const [first, ...more] = options;
  const price =
    first && more.length === 0
      ? `The price is ${first.total} with tax.`
      : [
          "You can choose one of these:",
          ...options.map(({ name, total }) => `  - ${oneLine(name)}: ${total} with tax`),
        ].join("\n");
  return mail(`${isChange ? "Changed quote" : "Quote"} ${quoteNumber} from ${shop.name}`, [
    `Dear ${oneLine(words.customerName)},`,
    `${what}${isChange ? "; it takes the place of the one before" : ""}. ${price}`,
    words.message,
    `It holds until ${words.validUntil}. Read it, ask, accept or decline on your private page:`,
    words.link,
    "Whoever has this link can answer in your name, so keep it to yourself. The quote is attached as a PDF.",
    signature(shop),
  ]);
}

export type AnswerWords = {
  readonly quoteNumber: number;
  readonly customerName: string;
  readonly answeredName: string;
  readonly accepted: boolean;
  /** of several; null where one was offered, or none accepted */
  readonly optionName: string | null;
  readonly total: string;
  readonly note: string;
  /** what somebody should look at: bookings, parts that could not be planned; nothing where empty */
  readonly lookAt: string;
  /** the job's quote in the shop's own pages */
  readonly page: string;
};

/** To the shop: what the customer answered. */
export function answerMail(words: AnswerWords): MailText {
  const { accepted, quoteNumber, customerName, optionName } = words;
  const which = optionName === null ? "" : ` “${oneLine(optionName)}”`;
  const done = accepted ? `accepted${which} for ${words.total} with tax` : "declined";
  const verb = accepted ? "accepted" : "declined";
  return mail(`Quote ${quoteNumber} ${verb}: ${customerName}`, [
    `${oneLine(words.answeredName)} ${done} (quote ${quoteNumber}, ${oneLine(customerName)}).`,
    words.note === "" ? "" : `They write:\n${words.note}`,
    words.lookAt,
    words.page,
  ]);
}

export type QuestionWords = Pick<AnswerWords, "quoteNumber" | "customerName" | "page"> & {
  /** who asks; may be empty */
  readonly name: string;
  readonly question: string;
};

/** To the shop: what the customer asks. */
export function questionMail(words: QuestionWords): MailText {
  const { quoteNumber, customerName, question } = words;
  const who = oneLine(words.name) || oneLine(customerName);
  return mail(`Question about quote ${quoteNumber}: ${customerName}`, [
    `${who} asks about quote ${quoteNumber}:`,
    question,
    words.page,
  ]);
}

/** Paragraphs with an empty line between; those without words are left out. */
function mail(subject: string, paragraphs: readonly string[]): MailText {
  const text = paragraphs
    .map((paragraph) => withoutControls(paragraph).trim())
    .filter((paragraph) => paragraph !== "")
    .join("\n\n");
  return { subject: oneLine(subject), text: `${text}\n` };
}

/** Line ends and tabs stay. */
const withoutControls = (text: string): string =>
  text.replace(/\r\n?/g, "\n").replace(/[^\P{Cc}\n\t]/gu, "");

const signature = ({ name, phone, email }: Shop): string =>
  [name, phone, email]
    .map(oneLine)
    .filter((line) => line !== "")
    .join("\n");
