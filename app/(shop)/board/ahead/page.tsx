import type { Metadata } from "next";
import { Suspense } from "react";
import { load, requireActor, shopSettings } from "@/lib/server";
import { AHEAD_WEEKS, type LookAhead, seeBoard } from "@/lib/services";
import { Button, CheckField, Page, SelectField, TextLink } from "@/app/ui";
import { Played } from "./played";

export const metadata: Metadata = { title: "The weeks ahead" };

type Query = Record<string, string | string[] | undefined>;
type Props = { readonly searchParams: Promise<Query> };

/** Plays the booked weeks many times over: how sure promises are, what is full, what everything waits for. */
export default async function AheadPage({ searchParams }: Props) {
  const actor = await requireActor();
  const query = await searchParams;
  const shop = await shopSettings();
  const { tanks } = await load(() => seeBoard(actor, new Date()));
  const usable = tanks.map(({ tank }) => tank).filter(({ supply }) => supply !== null);
  const looks = query["look"] === "1";
  const look = lookOf(query);
  return (
    <Page title="The weeks ahead" kicker={<TextLink href="/board">Board</TextLink>}>
      <form
        method="get"
        className="plate grid max-w-3xl gap-4 p-4 sm:grid-cols-2"
        aria-label="What is played"
      >
        <input type="hidden" name="look" value="1" />
        <SelectField
          name="weeks"
          label="Look ahead"
          required
          defaultValue={`${look.weeks}`}
          options={AHEAD_WEEKS.map((weeks) => ({
            value: `${weeks}`,
            label: weeks === 1 ? "1 week" : `${weeks} weeks`,
          }))}
        />
        <SelectField
          name="change"
          label="What if the shop had"
          required
          defaultValue={typeof query["change"] === "string" ? query["change"] : "NOTHING"}
          options={[
            { value: "NOTHING", label: "nothing more" },
            { value: "HANDS", label: "one more pair of hands" },
            ...usable.map(({ id, name }) => ({
              value: `TANK:${id}`,
              label: `one more tank like ${name}`,
            })),
            ...usable.map(({ id, name }) => ({
              value: `SUPPLY:${id}`,
              label: `a supply of its own for ${name}`,
            })),
          ]}
        />
        <div className="sm:col-span-2">
          <CheckField
            name="arrivals"
            value="yes"
            label="Jobs go on coming in"
            hint="As often, and of the kind, as in the last eight weeks."
            defaultChecked={look.withArrivals}
          />
        </div>
        <p>
          <Button type="submit">Play the weeks</Button>
        </p>
      </form>
      {looks ? (
        <Suspense
          key={JSON.stringify(look)}
          fallback={<p role="status">Playing the weeks a thousand times: some seconds …</p>}
        >
          <Played actor={actor} look={look} shop={shop} />
        </Suspense>
      ) : null}
    </Page>
  );
}

function lookOf(query: Query): LookAhead {
  const weeks = AHEAD_WEEKS.find((known) => `${known}` === query["weeks"]) ?? 2;
  const [kind, id = ""] = typeof query["change"] === "string" ? query["change"].split(":") : [];
  const withArrivals = query["arrivals"] === "yes";
  switch (kind) {
    case "HANDS":
      return { weeks, withArrivals, change: { kind } };
    case "TANK":
      return { weeks, withArrivals, change: { kind, likeTankId: id } };
    case "SUPPLY":
      return { weeks, withArrivals, change: { kind, tankId: id } };
    default:
      return { weeks, withArrivals, change: null };
  }
}
