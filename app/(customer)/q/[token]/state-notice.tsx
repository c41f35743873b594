import { formatDate, formatDay } from "@/lib/server";
import type { CustomerOffer } from "@/lib/services";
import { moneyText, Notice } from "@/app/ui";

type Props = {
  readonly offer: CustomerOffer;
  readonly customs: { readonly locale: string; readonly timeZone: string };
};

/** Where the offer stands, first thing on the page. */
export function StateNotice({ offer, customs }: Props) {
  const { options } = offer;
  const chosen = options.find(({ id }) => id === offer.acceptedOptionId) ?? options[0];
  const amount = (minor: number) =>
    moneyText(minor, { currency: offer.currency, locale: customs.locale });
  const total = amount(chosen?.totalMinor ?? 0);
  const answered = offer.answeredAt ? formatDate(offer.answeredAt, customs) : "";
  if (offer.state === "ACCEPTED") {
    return (
      <Notice tone="bath" title={`Accepted by ${offer.answeredName} on ${answered}`}>
        {options.length > 1 && chosen ? `${chosen.name}, ` : ""}
        {total} with tax. Keep this link: it shows how the work stands.
      </Notice>
    );
  }
  if (offer.state === "DECLINED") {
    return (
      <Notice tone="zinc" title={`Declined by ${offer.answeredName} on ${answered}`}>
        Changed your mind? Please ask us.
      </Notice>
    );
  }
  if (offer.state === "EXPIRED") {
    return (
      <Notice tone="oxide" title="This quote has run out">
        It held until {formatDay(offer.validUntil, customs)}. Please ask us for a new one.
      </Notice>
    );
  }
  return (
    <Notice tone="brass" title={titleOf(options.map(({ totalMinor }) => amount(totalMinor)))}>
      You can accept {options.length > 1 ? "one of them" : "it"} until the end of{" "}
      {formatDay(offer.validUntil, customs)}.
    </Notice>
  );
}

/** What is offered, in one line. */
function titleOf(totals: readonly string[]): string {
  const [first = "", ...more] = totals;
  return more.length === 0
    ? `${first} with tax`
    : `${totals.length} ways to do it: ${totals.join(", ")} with tax`;
}
