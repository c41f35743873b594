import { notFound } from "next/navigation";
import { isRefusal } from "@/lib/errors";
import { callerAddress, countTry, formatDay } from "@/lib/server";
import {
  type CustomerOffer,
  type CustomerQuote,
  type OfferedOption,
  openQuote,
} from "@/lib/services";
import { LinkButton, Notice, Page, PriceLines, Section } from "@/app/ui";
import { AnswerForms } from "./answer-forms";
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
      narrow
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

function Offer({
  quote,
  offer,
  token,
}: {
  readonly quote: CustomerQuote;
  readonly offer: CustomerOffer;
  readonly token: string;
}) {
  const customs = { currency: offer.currency, locale: quote.locale };
  return (
    <>
      {offer.messageToCustomer ? (
        <p className="max-w-prose whitespace-pre-line">{offer.messageToCustomer}</p>
      ) : null}
      <Section title="What we will do" id="work">
        <PartPromises promises={offer.options[0]?.promises ?? []} />
      </Section>
      <Section
        title="The price"
        id="price"
        actions={
          <LinkButton href={`/q/${token}/pdf`} download>
            Save as PDF
          </LinkButton>
        }
      >
        {offer.options.map((option) => (
          <PriceLines key={option.id} option={withoutRepeats(option)} customs={customs} />
        ))}
        {offer.terms ? (
          <div className="mt-4">
            <h3 className="font-semibold">Terms</h3>
            <p className="max-w-prose whitespace-pre-line text-zinc">{offer.terms}</p>
          </div>
        ) : null}
      </Section>
      <AnswerForms token={token} offer={offer} customs={customs} />
    </>
  );
}

/** A part's line need not say again what stands above under “What we will do”. */
function withoutRepeats(offer: OfferedOption): OfferedOption {
  const said = new Set(offer.promises.map(({ work }) => work));
  return {
    ...offer,
    lines: offer.lines.map((line) => (said.has(line.detail) ? { ...line, detail: "" } : line)),
  };
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
