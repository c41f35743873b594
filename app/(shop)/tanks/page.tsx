import type { Metadata } from "next";
import type { ComponentProps } from "react";
import { may } from "@/lib/access";
import { formatTime, requireActor, shopSettings } from "@/lib/server";
import { seeBoard, type TankView } from "@/lib/services";
import { Empty, LinkButton, Page, Section } from "@/app/ui";
import { LiveMark } from "../live/live-mark";
import { ScaleBar } from "./scale-bar";
import { commonSpan, TankCard } from "./tank-card";
import { WeekStrip } from "./week-strip";

export const metadata: Metadata = { title: "Tanks" };

export default async function TanksPage() {
  const actor = await requireActor();
  const place = await shopSettings();
  const now = new Date();
  const { tanks, strip } = await seeBoard(actor, now);
  const setsUp = may(actor, "set-up-tanks");
  const addTank = (
    <LinkButton href="/tanks/new" kind="main">
      New tank
    </LinkButton>
  );
  return (
    <Page
      title="Tanks"
      actions={
        <>
          <LinkButton href="/supplies">Supplies</LinkButton>
          {setsUp ? addTank : null}
        </>
      }
    >
      <LiveMark asOf={formatTime(now, place)} />
      {tanks.length === 0 ? (
        <Empty action={setsUp ? addTank : null}>
          No tanks yet. Measure the first tub, barrel or bucket; everything else is worked out from
          it.
        </Empty>
      ) : (
        <>
          <Row views={tanks} now={now} place={place} />
          <Section title="The next seven days" id="days">
            <p className="mb-2 text-sm text-zinc">
              Light hours are those with somebody there to load and pull; treatment runs on through
              the others.
            </p>
            <WeekStrip strip={strip} rows={tanks} now={now} place={place} />
          </Section>
        </>
      )}
    </Page>
  );
}

type RowProps = Pick<ComponentProps<typeof TankCard>, "now" | "place"> & {
  readonly views: readonly TankView[];
};

/** All the tanks on one floor, to one scale. */
function Row({ views, now, place }: RowProps) {
  const spanMm = commonSpan(views);
  return (
    <section aria-label="The tanks, to scale">
      <ul className="grid grid-cols-1 gap-x-10 gap-y-4 sm:grid-cols-2 lg:grid-cols-3">
        {views.map((view) => (
          <TankCard key={view.tank.id} view={view} spanMm={spanMm} now={now} place={place} />
        ))}
      </ul>
      <ScaleBar spanMm={spanMm} units={place.unitSystem} />
    </section>
  );
}
