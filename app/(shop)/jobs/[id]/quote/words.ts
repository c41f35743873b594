import type { ShownVersion } from "@/lib/services";
import type { Tone } from "@/app/ui";

type State = ShownVersion["state"];

export const QUOTE_STATE_WORDS: Readonly<Record<State, string>> = {
  DRAFT: "draft",
  SENT: "with the customer",
  ACCEPTED: "accepted",
  DECLINED: "declined",
  EXPIRED: "expired",
  SUPERSEDED: "replaced or withdrawn",
};

export const QUOTE_STATE_TONE: Readonly<Record<State, Tone>> = {
  DRAFT: "ink",
  SENT: "brass",
  ACCEPTED: "bath",
  DECLINED: "oxide",
  EXPIRED: "oxide",
  SUPERSEDED: "zinc",
};

export const EVENT_WORDS: Readonly<Record<string, string>> = {
  "quote.drafted": "priced as a draft",
  "quote.sent": "sent",
  "quote.withdrawn": "withdrawn",
  "quote.link-renewed": "new link made",
  "quote.link-revoked": "link revoked",
  "quote.accepted": "accepted by the customer",
  "quote.declined": "declined by the customer",
  "quote.question": "the customer asks",
  "quote.expired": "expired",
};
