import { formatDate, formatWhen, type ShopSettings } from "@/lib/server";
import type { FeedOverview, ShownFeed } from "@/lib/services";
import { Confirm, Empty, Form, FreshLink, Section, SelectField, Submit, TextField } from "@/app/ui";
import { makeFeedAction, revokeFeedAction } from "./calendar-actions";

type Props = {
  readonly feeds: FeedOverview;
  readonly shop: ShopSettings;
  /** the tank that somebody came from */
  readonly chosenTank: string | undefined;
};

/** Private addresses under which a phone's calendar reads the bookings: listed, made, revoked. */
export function CalendarSection({ feeds: { own, others, tanks }, shop, chosenTank }: Props) {
  return (
    <Section title="Calendar addresses" id="calendars">
      <div className="space-y-4">
        <p className="max-w-prose">
          Give one to the calendar of your phone or computer, as a calendar to subscribe to. It then
          shows the bookings, and follows them by itself, often within the hour. Whoever knows an
          address can read it: keep it to yourself, and revoke it when a phone is lost.
        </p>
        {own.length === 0 ? <Empty>You have no calendar address.</Empty> : null}
        <FeedList feeds={own} shop={shop} />
        <MakeFeed tanks={tanks} chosenTank={chosenTank} />
        {others.length > 0 ? (
          <>
            <h3 className="text-lg font-semibold">Those of other people</h3>
            <FeedList feeds={others} shop={shop} withPerson />
          </>
        ) : null}
      </div>
    </Section>
  );
}

type FeedListProps = {
  readonly feeds: readonly ShownFeed[];
  readonly shop: ShopSettings;
  readonly withPerson?: boolean;
};

function FeedList({ feeds, shop, withPerson = false }: FeedListProps) {
  if (feeds.length === 0) return null;
  return (
    <ul className="space-y-3">
      {feeds.map((feed) => (
        <li key={feed.id} className="plate space-y-3 p-4 [&_button]:min-h-12 [&_summary]:min-h-12">
          <div>
            <p className="font-semibold wrap-anywhere">
              {feedTitle(feed)}
              {feed.name ? `: ${feed.name}` : ""}
            </p>
            <p className="text-zinc">
              {withPerson ? `${feed.personName}, made ` : "Made "}
              {formatDate(feed.createdAt, shop)},{" "}
              {feed.lastReadAt ? `last read ${formatWhen(feed.lastReadAt, shop)}` : "not read yet"}
            </p>
          </div>
          <Confirm
            label="Revoke"
            question="Calendars that use this address stop following at once. It cannot be brought back; a new one can be made."
            action={revokeFeedAction}
            confirm="Revoke this address"
          >
            <input type="hidden" name="id" value={feed.id} />
          </Confirm>
        </li>
      ))}
    </ul>
  );
}

function feedTitle({ kind, tankName, includesUnassigned, personName }: ShownFeed): string {
  if (kind === "SHOP") return "The whole shop";
  if (kind === "TANK") return tankName ?? "A tank";
  return includesUnassigned
    ? `What ${personName} has to do, and what nobody has taken on`
    : `What ${personName} has to do`;
}

type MakeFeedProps = {
  readonly tanks: FeedOverview["tanks"];
  readonly chosenTank: string | undefined;
};

/** One choice for all that a calendar can show, so that no field depends on another. */
function MakeFeed({ tanks, chosenTank }: MakeFeedProps) {
  const options = [
    { value: "mine-and-free", label: "What I have to do, and what nobody has taken on" },
    { value: "mine", label: "What I have to do" },
    { value: "shop", label: "The whole shop: every tank, and the days jobs are promised for" },
    ...tanks.map(({ id, name }) => ({ value: id, label: `The tank ${name}` })),
  ];
  const known = options.some(({ value }) => value === chosenTank);
  return (
    <div className="plate p-4 sm:p-5 [&_button]:min-h-12 [&_input]:min-h-12 [&_select]:min-h-12">
      <Form action={makeFeedAction} label="Make a calendar address">
        <SelectField
          name="shows"
          label="What the calendar shows"
          options={options}
          defaultValue={known ? chosenTank : "mine-and-free"}
          required
        />
        <TextField
          name="name"
          label="Where you will use it"
          hint="Such as: my phone. It helps you to know later which one to revoke."
        />
        <Submit>Make an address</Submit>
        <FreshLink>
          Copy this into your calendar program, where it asks for the address of a calendar to
          subscribe to. It <strong>is shown only now</strong>; you can always make a new one.
        </FreshLink>
      </Form>
    </div>
  );
}
