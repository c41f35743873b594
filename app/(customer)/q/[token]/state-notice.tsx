import { formatDate, formatDay } from "@/lib/server";
import type { CustomerOffer } from "@/lib/services";
import { moneyText, Notice } from "@/app/ui";

type Props = {
  readonly offer: CustomerOffer;
  readonly customs: { readonly locale: string; readonly timeZone: string };
};

/** Where the offer stands, first thing on the page. */
export function StateNotice({ offer, customs }: Props) {
  const chosen = offer.options.find(({ id }) => id === offer.acceptedOptionId) ?? offer.options[0];
  const total = moneyText(chosen?.totalMinor ?? 0, {
    currency: offer.currency,
    locale: customs.locale,
  });
  const answered = offer.answeredAt ? formatDate(offer.answeredAt, customs) : "";
  if (offer.state === "ACCEPTED") {
    return (
      <Notice tone="bath" title={`Accepted by ${offer.answeredName} on ${answered}`}>
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
    <Notice tone="brass" title={`${total} with tax`}>
      You can accept it until the end of {formatDay(offer.validUntil, customs)}.
    </Notice>
  );
}
