import type { Metadata } from "next";
import { may } from "@/lib/access";
import { load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { anodeFigures, capacityFigures, jobMargins, runningLow } from "@/lib/services";
import { Empty, LinkButton, Page, Section } from "@/app/ui";
import { AnodeTable } from "./anode-table";
import { CapacityGrid } from "./capacity-grid";
import { LowStock } from "./low-stock";
import { MarginTable } from "./margin-table";

export const metadata: Metadata = { title: "Figures" };

type Props = { readonly searchParams: Promise<{ page?: string | string[] }> };

/** How the shop does: tanks, jobs, anodes and shelves, each figure leading to what is behind it. */
export default async function FiguresPage({ searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const window = pageWindow((await searchParams).page);
  const now = new Date();
  const [capacity, anodes, low, margins] = await load(() =>
    Promise.all([
      capacityFigures(actor, now),
      anodeFigures(actor, now),
      runningLow(actor, now),
      may(actor, "see-money") ? jobMargins(actor, window, now) : null,
    ]),
  );
  return (
    <Page
      title="Figures"
      actions={<LinkButton href="/figures/learned">What this shop has learned</LinkButton>}
    >
      <Section title="Tank hours, used and free" id="capacity">
        {capacity.tanks.length === 0 ? (
          <Empty action={<LinkButton href="/tanks">To the tanks</LinkButton>}>
            There is no tank yet.
          </Empty>
        ) : (
          <CapacityGrid capacity={capacity} shop={shop} />
        )}
      </Section>
      {margins ? (
        <Section title="What jobs cost and left" id="jobs">
          {margins.total === 0 ? (
            <Empty action={<LinkButton href="/jobs">To the jobs</LinkButton>}>
              No job has been taken in yet.
            </Empty>
          ) : (
            <MarginTable margins={margins} window={window} shop={shop} />
          )}
        </Section>
      ) : null}
      <Section title="Anodes, the soonest due first" id="anodes">
        {anodes.length === 0 ? (
          <Empty action={<LinkButton href="/tanks">To the tanks</LinkButton>}>
            No anode hangs in any tank. Hang one from the page of its tank.
          </Empty>
        ) : (
          <AnodeTable anodes={anodes} shop={shop} />
        )}
      </Section>
      <Section title="Running low" id="stock">
        {low.length === 0 ? (
          <Empty action={<LinkButton href="/stock">To the stock</LinkButton>}>
            There is enough of everything.
          </Empty>
        ) : (
          <LowStock low={low} shop={shop} />
        )}
      </Section>
    </Page>
  );
}
