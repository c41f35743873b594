import { formatDay, formatWhen, type ShopSettings } from "@/lib/server";
import type { MailAddresses, ShownQuote, ShownVersion } from "@/lib/services";
import { Badge, Confirm, LinkButton, Section } from "@/app/ui";
import { QUOTE_STATE } from "../../../words";
import { revokeAction, withdrawAction } from "./actions";
import { LinkPanel, type MailWay } from "./link-panel";
import { OptionSheets } from "./option-sheets";
import { Versions } from "./versions";

type Props = {
  readonly quote: ShownQuote;
  readonly jobId: string;
  readonly shop: ShopSettings;
  readonly writes: boolean;
  readonly addresses: MailAddresses;
  readonly mailIsSetUp: boolean;
};

/** One quote: its newest version in full, its link, and the versions before. */
export function QuoteSheet(props: Props) {
  const { quote, shop, writes } = props;
  const [newest] = quote.versions;
  if (!newest) return null;
  const customs = { currency: newest.currency, locale: shop.locale };
  return (
    <Section
      title={`Quote ${quote.number}, version ${newest.version}`}
      id={`quote-${quote.id}`}
      actions={
        <Badge tone={QUOTE_STATE[newest.state].tone}>{QUOTE_STATE[newest.state].word}</Badge>
      }
    >
      <div className="space-y-5">
        <p>{stateSentence(newest, shop)}</p>
        <OptionSheets version={newest} customs={customs} />
        <div className="flex flex-wrap gap-2">
          <LinkButton href={`/quotes/${quote.id}/${newest.id}/pdf`} download>
            On paper (PDF)
          </LinkButton>
        </div>
        {writes ? <QuoteActs {...props} newest={newest} /> : null}
        <Versions quote={quote} customs={customs} shop={shop} />
      </div>
    </Section>
  );
}

function stateSentence(version: ShownVersion, shop: ShopSettings): string {
  const until = formatDay(version.validUntil, shop);
  const when = version.answeredAt ? formatWhen(version.answeredAt, shop) : "";
  switch (version.state) {
    case "DRAFT":
      return `Only the shop sees it. It would hold until ${until}.`;
    case "SENT":
      return `The customer can answer until the end of ${until}.`;
    case "ACCEPTED":
      return `Accepted by ${version.answeredName}, ${when}${acceptedWords(version)}.`;
    case "DECLINED":
      return `Declined by ${version.answeredName}, ${when}${version.answerNote ? `: “${version.answerNote}”` : "."}`;
    case "EXPIRED":
      return `Nobody answered by ${until}.`;
    case "SUPERSEDED":
      return "No longer offered.";
  }
}

/** Which of several. */
function acceptedWords({ options, acceptedOptionId }: ShownVersion): string {
  const accepted = options.find(({ id }) => id === acceptedOptionId);
  return accepted && options.length > 1 ? `: “${accepted.name}”` : "";
}

const LINK_WORDS: Readonly<Record<ShownQuote["link"], string>> = {
  open: "The customer's link works",
  expired: "The customer's link has run out",
  revoked: "The customer's link is revoked",
  none: "There is no link yet",
};

type ActsProps = Omit<Props, "writes"> & { readonly newest: ShownVersion };

/** Sending, the link, and taking back. The link panel stands first and stays, whatever else comes and goes. */
function QuoteActs(props: ActsProps) {
  const { quote, newest, jobId, shop } = props;
  const linked = newest.state === "SENT" || newest.state === "ACCEPTED";
  if (!linked && newest.state !== "DRAFT") return null;
  return (
    <div className="grid items-start gap-3 lg:grid-cols-2">
      <div className="plate space-y-3 p-4">
        <p className="font-medium">
          {linked ? linkSentence(quote, shop) : "Ready? The customer answers by a private link."}
        </p>
        <LinkPanel
          jobId={jobId}
          quoteId={quote.id}
          act={linked ? "renew" : "send"}
          mail={mailWay(props)}
        />
      </div>
      <TakingBack quote={quote} newest={newest} jobId={jobId} linked={linked} />
    </div>
  );
}

/** Whether the link can be mailed from here, and if not, what is missing. */
function mailWay({ quote, shop, addresses, mailIsSetUp }: ActsProps): MailWay {
  const way = { customer: addresses.customer, subject: `Quote ${quote.number} from ${shop.name}` };
  if (!mailIsSetUp) {
    return {
      ...way,
      to: null,
      why: "Mail is not set up on this server (MAIL_URL), so nothing is mailed: copy the link, or open a mail with it.",
    };
  }
  if (addresses.shop === null) {
    return { ...way, to: null, why: "The shop has no e-mail address to send from: see Settings." };
  }
  if (addresses.customer === null) {
    return { ...way, to: null, why: "This customer has no e-mail address: hand the link over." };
  }
  return { ...way, to: addresses.customer, why: "" };
}

function linkSentence({ link, linkExpiresAt }: ShownQuote, shop: ShopSettings): string {
  const until =
    link === "open" && linkExpiresAt ? `, up to ${formatWhen(linkExpiresAt, shop)}` : "";
  return `${LINK_WORDS[link]}${until}.`;
}

type TakingBackProps = Pick<ActsProps, "quote" | "newest" | "jobId"> & { readonly linked: boolean };

function TakingBack({ quote, newest, jobId, linked }: TakingBackProps) {
  const draft = newest.state === "DRAFT";
  const hidden = (
    <>
      <input type="hidden" name="jobId" value={jobId} />
      <input type="hidden" name="quoteId" value={quote.id} />
    </>
  );
  return (
    <div className="space-y-3">
      {quote.link === "open" && linked ? (
        <Confirm
          label="Revoke the link"
          question="The link stops working at once; the quote stays as it is, and you can make a new link."
          action={revokeAction}
          confirm="Revoke it"
        >
          {hidden}
        </Confirm>
      ) : null}
      {newest.state === "ACCEPTED" ? null : (
        <Confirm
          label={draft ? "Discard this draft" : "Withdraw this offer"}
          question="It can no longer be sent or accepted. You can price the job again at any time."
          action={withdrawAction}
          confirm={draft ? "Discard it" : "Withdraw it"}
        >
          {hidden}
        </Confirm>
      )}
    </div>
  );
}
