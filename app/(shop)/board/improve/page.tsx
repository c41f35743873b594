import type { Metadata } from "next";
import { Suspense } from "react";
import { formatWhen, load, requireActorWith, shopSettings } from "@/lib/server";
import { lastChangeOfBoard } from "@/lib/services";
import { Button, CheckField, Confirm, Notice, Page, TextLink } from "@/app/ui";
import { takeBackAction } from "./actions";
import { Proposal } from "./proposal";

export const metadata: Metadata = { title: "A better board" };

type Props = {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
};

/** Looks for a better board, shows what it would move, and changes it as a whole or not at all. */
export default async function ImprovePage({ searchParams }: Props) {
  const actor = await requireActorWith("book");
  const query = await searchParams;
  const looks = query["look"] === "1";
  const wishes = {
    withWaiting: !looks || query["waiting"] === "yes",
    otherTanks: query["tanks"] === "yes",
  };
  const shop = await shopSettings();
  const last = await load(() => lastChangeOfBoard(actor, new Date()));
  return (
    <Page title="A better board" kicker={<TextLink href="/board">Board</TextLink>}>
      {last ? (
        <Notice
          tone="bath"
          title={`The board was changed ${formatWhen(last.at, shop)} by ${last.by}`}
        >
          <Confirm
            label="Take it all back"
            question="Every run goes back to where it was, and what was booked then waits again. If somebody moved one of them since, nothing is changed."
            action={takeBackAction}
            confirm="Take it back"
          >
            <input type="hidden" name="back" value="all" />
          </Confirm>
        </Notice>
      ) : null}
      <form method="get" className="plate max-w-3xl space-y-2 p-4" aria-label="What may be changed">
        <input type="hidden" name="look" value="1" />
        <p>
          Fewest parts without a place, then the least lateness (an hour of a rush job counts
          threefold), then the earliest end. Running loads and those fixed in place stay.
        </p>
        <CheckField
          name="waiting"
          value="yes"
          label="Place the parts that wait, too"
          defaultChecked={wishes.withWaiting}
        />
        <CheckField
          name="tanks"
          value="yes"
          label="Loads may go to other tanks"
          hint="Their parts are then planned anew for that tank."
          defaultChecked={wishes.otherTanks}
        />
        <Button type="submit">Look for a better board</Button>
      </form>
      {looks ? (
        <Suspense
          key={`${wishes.withWaiting} ${wishes.otherTanks}`}
          fallback={<p role="status">Looking for a better board: a few seconds …</p>}
        >
          <Proposal actor={actor} wishes={wishes} shop={shop} />
        </Suspense>
      ) : null}
    </Page>
  );
}
