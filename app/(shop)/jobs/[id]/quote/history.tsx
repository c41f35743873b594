import { formatWhen, type ShopSettings } from "@/lib/server";
import type { JobQuotes } from "@/lib/services";
import { EVENT_WORDS, eventText } from "./words";

type Event = JobQuotes["events"][number];

type Props = { readonly events: readonly Event[]; readonly shop: ShopSettings };

/** What happened to the quotes of this job, newest first; questions stand out. */
export function History({ events, shop }: Props) {
  return (
    <ul className="divide-y divide-line">
      {events.map((event) => (
        <li key={event.id} className="flex flex-wrap gap-x-4 gap-y-1 py-2">
          <span className="w-40 shrink-0 text-zinc">{formatWhen(event.at, shop)}</span>
          <span className="min-w-0 flex-1">
            {EVENT_WORDS[event.action] ?? event.action}
            <span className="text-zinc">{who(event)}</span>
            {event.action === "quote.taken-on" ? <TakenOn event={event} /> : null}
            {event.action === "quote.question" ? (
              <q className="mt-1 block border-l-4 border-brass bg-brass-wash px-3 py-2 break-words">
                {eventText(event, "text")}
              </q>
            ) : null}
          </span>
        </li>
      ))}
    </ul>
  );
}

/** What an acceptance changed, and what somebody should look at. */
function TakenOn({ event }: { readonly event: Event }) {
  const [planned, booked, left] = ["planned", "booked", "left"].map((name) =>
    eventText(event, name),
  );
  return (
    <span className="mt-1 block">
      {planned ? `Planned anew for “${eventText(event, "option")}”: ${planned}. ` : ""}
      {booked ? `Look at the booking of ${booked}: it rests on the plan before. ` : ""}
      {left ? `Not planned anew: ${left}. No tank takes it like that, or it is in the bath.` : ""}
    </span>
  );
}

function who(event: Event): string {
  const name = event.personName ?? eventText(event, "name");
  return name ? `, ${name}` : "";
}
