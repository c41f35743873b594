import { notFound } from "next/navigation";
import { isRefusal } from "@/lib/errors";
import { callerAddress, countTry, formatDay } from "@/lib/server";
import {
  type CustomerOffer,
  type CustomerQuote,
  type OfferedOption,
  openQuote,
} from "@/lib/services";
import {
  LinkButton,
  type MoneyCustoms,
  Notice,
  Page,
  PriceLines,
  QuoteChanges,
  QuoteRange,
  Section,
} from "@/app/ui";
import { AnswerForms } from "./answer-forms";
import { OptionCards, withoutRepeats } from "./option-cards";
import { PartPromises } from "./part-promises";
import { Progress } from "./progress";
import { StateNotice } from "./state-notice";

type Props = { readonly params: Promise<{ token: string }> };

/** What a customer sees: the offer, the answer, and later how the work stands. */
export default async function CustomerQuotePage({ params }: Props) {
  const { token } = await params;
  const tooMany = await countOpening();
  if (tooMany) {
    return (
      <Page title="One moment" narrow>
        <p>{tooMany}</p>
      </Page>
    );
  }
  const quote = await openQuote(token, new Date());
  if (!quote) notFound();
  const { offer, shop } = quote;
  return (
    <Page
      title={`Quote ${quote.quoteNumber} for ${quote.customerName}`}
      kicker={<span className="text-base font-semibold text-magnetite">{shop.name}</span>}
      // Cards beside each other need the width; text alone reads better in a narrow column.
      narrow={(offer?.options.length ?? 1) === 1}
    >
      {offer ? (
        <>
          <StateNotice offer={offer} customs={quote} />
          {quote.progress.length > 0 ? (
            <Section title="How the work stands" id="progress">
              <Progress parts={quote.progress} />
              {quote.promisedFor ? (
                <p className="mt-3">
                  We mean to have it ready by {formatDay(quote.promisedFor, quote)}.
                </p>
              ) : null}
            </Section>
          ) : null}
          <Offer quote={quote} offer={offer} token={token} />
        </>
      ) : (
        <Notice tone="brass" title="We are changing this quote">
          You will get a new link when it is ready.
        </Notice>
      )}
      <Contact shop={shop} />
    </Page>
  );
}

type OfferProps = {
  readonly quote: CustomerQuote;
  readonly offer: CustomerOffer;
  readonly token: string;
};

function Offer({ quote, offer, token }: OfferProps) {
  const customs = { currency: offer.currency, locale: quote.locale };
  const [first, ...more] = offer.options;
  return (
    <>
      {offer.messageToCustomer ? (
        <p className="max-w-prose whitespace-pre-line">{offer.messageToCustomer}</p>
      ) : null}
      {offer.changes && !offer.changes.isEmpty ? (
        <Section title="What changed since the version you saw" id="changes">
          <QuoteChanges
            difference={offer.changes}
            customs={customs}
            dayText={(day) => formatDay(day, quote)}
          />
        </Section>
      ) : null}
      {first && more.length === 0 ? (
        <OneOption option={first} customs={customs} token={token} />
      ) : (
        <Section
          title={`${offer.options.length} ways to do it`}
          id="price"
          actions={<SaveAsPdf token={token} />}
        >
          <OptionCards offer={offer} customs={customs} />
        </Section>
      )}
      {offer.terms ? (
        <Section title="Terms" id="terms">
          <p className="max-w-prose whitespace-pre-line text-zinc">{offer.terms}</p>
        </Section>
      ) : null}
      <AnswerForms token={token} offer={offer} customs={customs} />
    </>
  );
}

function SaveAsPdf({ token }: { readonly token: string }) {
  return (
    <LinkButton href={`/q/${token}/pdf`} download>
      Save as PDF
    </LinkButton>
  );
}

type OneOptionProps = {
  readonly option: OfferedOption;
  readonly customs: MoneyCustoms;
  readonly token: string;
};

/** The usual quote: nothing to choose between, so what is done and its price stand open. */
function OneOption({ option, customs, token }: OneOptionProps) {
  return (
    <>
      <Section title="What we will do" id="work">
        <PartPromises promises={option.promises} />
      </Section>
      <Section title="The price" id="price" actions={<SaveAsPdf token={token} />}>
        <div className="space-y-3">
          <PriceLines option={withoutRepeats(option)} customs={customs} />
          <QuoteRange option={option} customs={customs} />
        </div>
      </Section>
    </>
  );
}

function Contact({ shop }: { readonly shop: CustomerQuote["shop"] }) {
  return (
    <footer className="border-t border-line pt-4 text-zinc">
      <p className="font-semibold text-magnetite">{shop.name}</p>
      {shop.address ? <p className="whitespace-pre-line">{shop.address}</p> : null}
      {shop.phone ? (
        <p>
          <a className="link inline-block py-1" href={`tel:${shop.phone.replace(/[^\d+]/g, "")}`}>
            {shop.phone}
          </a>
        </p>
      ) : null}
      {shop.email ? (
        <p>
          <a className="link inline-block py-1" href={`mailto:${shop.email}`}>
            {shop.email}
          </a>
        </p>
      ) : null}
    </footer>
  );
}

/** What to say to somebody who opens links too fast; nothing otherwise. */
async function countOpening(): Promise<string | null> {
  try {
    await countTry("private-link", await callerAddress());
    return null;
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}
