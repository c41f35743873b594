import { formatWhen, type ShopSettings } from "@/lib/server";
import type { JobQuotes } from "@/lib/services";
import { Badge, type Tone } from "@/app/ui";

type Mail = JobQuotes["mails"][number];

type Props = { readonly mails: readonly Mail[]; readonly shop: ShopSettings };

const STATE: Readonly<Record<Mail["state"], { readonly word: string; readonly tone: Tone }>> = {
  WAITING: { word: "waiting", tone: "brass" },
  SENDING: { word: "being sent", tone: "brass" },
  SENT: { word: "sent", tone: "bath" },
  FAILED: { word: "not sent", tone: "oxide" },
  DROPPED: { word: "dropped", tone: "zinc" },
};

/** The mails about the quotes of this job, newest first; their text is not kept once they are sent. */
export function Mails({ mails, shop }: Props) {
  return (
    <ul className="divide-y divide-line">
      {mails.map((mail) => (
        <li key={mail.id} className="flex flex-wrap items-baseline gap-x-4 gap-y-1 py-2">
          <span className="w-40 shrink-0 text-zinc">{formatWhen(mail.createdAt, shop)}</span>
          <span className="min-w-0 flex-1 break-words">
            {mail.subject}, to {mail.toAddress}
            <span className="block text-zinc">{details(mail, shop)}</span>
          </span>
          <Badge tone={STATE[mail.state].tone}>{STATE[mail.state].word}</Badge>
        </li>
      ))}
    </ul>
  );
}

function details(mail: Mail, shop: ShopSettings): string {
  const { state, lastError, tries, nextTryAt, sentAt } = mail;
  switch (state) {
    case "SENT":
      return sentAt ? `Taken by the mail server, ${formatWhen(sentAt, shop)}.` : "";
    case "WAITING":
      return tries > 0
        ? `Tried ${tries === 1 ? "once" : `${tries} times`}: ${lastError} Next try ${formatWhen(nextTryAt, shop)}.`
        : "Goes out within a minute.";
    case "FAILED":
      return `${lastError} Make a new link and mail it again, or give it to the customer yourself.`;
    case "DROPPED":
      return "The quote was changed or withdrawn, or its link replaced, before it went out.";
    case "SENDING":
      return "";
  }
}
