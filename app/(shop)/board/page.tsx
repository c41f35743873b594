import type { Metadata } from "next";
import { may } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import { dayAt } from "@/lib/scheduling";
import { load, requireActor, shopSettings } from "@/lib/server";
import { freeSlots, seeTimeBoard, type TankSlots, waitingParts } from "@/lib/services";
import { Empty, LinkButton, Notice, Page, TextLink } from "@/app/ui";
import { BoardScreen, type Sought } from "./board-screen";
import { ListView } from "./list-view";
import { PartChooser } from "./part-chooser";
import { type BoardSpan, DAYS, spanFrom } from "./span";
import { SpanBar } from "./span-bar";

export const metadata: Metadata = { title: "Board" };

type Props = {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
};
type Actor = Awaited<ReturnType<typeof requireActor>>;

/** The tanks over time. */
export default async function BoardPage({ searchParams }: Props) {
  const actor = await requireActor();
  const place = await shopSettings();
  const query = await searchParams;
  const now = new Date();
  const today = dayAt(now.getTime(), place.timeZone);
  const span = spanFrom(query, today);
  const asList = query["as"] === "list";
  const moves = may(actor, "book");
  const board = await load(() => seeTimeBoard(actor, firstDay(span), now));
  const waiting = moves && !asList ? await waitingParts(actor, now) : [];
  const part = waiting.find(({ partId }) => partId === query["part"]);
  const found = part ? await slotsFor(actor, part.partId, now) : null;
  const bar = <SpanBar span={span} today={today} asList={asList} part={part?.partId} />;
  if (board.lanes.length === 0) {
    return (
      <Page title="Board">
        <Empty action={<LinkButton href="/tanks/new">New tank</LinkButton>}>
          No tanks yet. Each tank that you add gets its lane here, and what is booked in it stands
          along the hours.
        </Empty>
      </Page>
    );
  }
  if (asList) {
    return (
      <Page title="Board" wide actions={bar} kicker={<Beyond moves={moves} />}>
        <ListView board={board} now={now} place={place} />
      </Page>
    );
  }
  const { timeZone, locale } = place;
  return (
    <Page title="Board" wide actions={bar} kicker={<Beyond moves={moves} />}>
      {typeof found === "string" ? <Notice tone="brass">{found}</Notice> : null}
      <BoardScreen
        initial={board}
        span={span}
        place={{ timeZone, locale }}
        moves={moves}
        me={actor.personId}
        sought={part && found && typeof found !== "string" ? soughtFrom(part, found) : null}
        chooser={
          moves ? (
            <PartChooser
              parts={waiting}
              chosen={part ?? null}
              slots={typeof found === "string" ? [] : (found ?? [])}
              span={span}
              place={{ timeZone, locale }}
            />
          ) : null
        }
      />
    </Page>
  );
}

/** Where the board is looked at as a whole. */
function Beyond({ moves }: { readonly moves: boolean }) {
  return (
    <span className="flex flex-wrap gap-x-4">
      {moves ? <TextLink href="/board/improve">A better board</TextLink> : null}
      <TextLink href="/board/ahead">The weeks ahead</TextLink>
    </span>
  );
}

const firstDay = (span: BoardSpan) => ({
  firstDay: new Date(`${span.from}T00:00:00Z`),
  days: DAYS[span.view],
});

/** @returns why there are none, in words, where the part no longer waits */
async function slotsFor(
  actor: Actor,
  partId: string,
  now: Date,
): Promise<readonly TankSlots[] | string> {
  try {
    return await freeSlots(actor, partId, now);
  } catch (error) {
    if (isRefusal(error)) return error.message;
    throw error;
  }
}

function soughtFrom(part: Sought["part"], tanks: readonly TankSlots[]): Sought {
  return {
    part,
    plannedFor: tanks.find(({ planned }) => planned)?.tankName ?? "another tank",
    offers: tanks.flatMap(({ tankId, tankName, planned, slots }) =>
      slots.map(({ startsAtMs, pullAtMs, endsAtMs }) => ({
        tankId,
        tankName,
        planned,
        startsAtMs,
        pullAtMs,
        endsAtMs,
      })),
    ),
  };
}
