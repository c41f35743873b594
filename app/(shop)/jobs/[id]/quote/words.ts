/** What happened to a quote, as its history says it. */
export const EVENT_WORDS: Readonly<Record<string, string>> = {
  "quote.drafted": "priced as a draft",
  "quote.sent": "sent",
  "quote.withdrawn": "withdrawn",
  "quote.link-renewed": "new link made",
  "quote.link-revoked": "link revoked",
  "quote.accepted": "accepted by the customer",
  "quote.taken-on": "plans made for what was accepted",
  "quote.declined": "declined by the customer",
  "quote.question": "the customer asks",
  "quote.expired": "expired",
};

/** A text kept with an event; nothing where there is none. */
export function eventText(
  { detail }: { readonly detail: Readonly<Record<string, unknown>> },
  name: string,
): string {
  const value = detail[name];
  return typeof value === "string" ? value : "";
}
