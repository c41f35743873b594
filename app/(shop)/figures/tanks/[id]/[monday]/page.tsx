import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { formatDay, formatWhen, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { tankWeekPage } from "@/lib/services";
import { Bar, Empty, formatNumber, LinkButton, Page, Section, Table, TextLink } from "@/app/ui";

export const metadata: Metadata = { title: "A tank's week" };

type Props = { readonly params: Promise<{ id: string; monday: string }> };

const WEEK_MS = 7 * 86_400_000;

const STATE_WORDS = {
  PLANNED: "booked",
  RUNNING: "running",
  PULLED: "pulled",
  FINISHED: "finished",
  CANCELLED: "cancelled",
} as const;

/** What held one tank in one week, load by load. */
export default async function TankWeekScreen({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const { id, monday: asked } = await params;
  const tankId = idFrom(id);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(asked) || Number.isNaN(Date.parse(asked))) notFound();
  const { tank, week, runs } = await load(() => tankWeekPage(actor, tankId, asked, new Date()));
  const monday = new Date(`${week.monday}T00:00:00Z`);
  const address = (weeks: number): string =>
    `/figures/tanks/${tank.id}/${new Date(monday.getTime() + weeks * WEEK_MS).toISOString().slice(0, 10)}`;
  const all = week.usedHours + week.freeHours;
  return (
    <Page
      title={`${tank.name}, week of ${formatDay(monday, shop)}`}
      kicker={<TextLink href="/figures#capacity">Figures</TextLink>}
      actions={
        <>
          <LinkButton href={address(-1)}>← Week before</LinkButton>
          <LinkButton href={address(1)}>Week after →</LinkButton>
        </>
      }
    >
      <div className="max-w-md space-y-2">
        <p className="text-lg">
          <strong>{formatNumber(week.usedHours)} h</strong> used,{" "}
          <strong>{formatNumber(week.freeHours)} h</strong> free
        </p>
        <Bar share={week.usedHours / Math.max(1, all)} />
      </div>
      <Section title="Loads" id="loads">
        {runs.length === 0 ? (
          <Empty action={<LinkButton href={`/tanks/${tank.id}`}>To the tank</LinkButton>}>
            Nothing was in it that week, and nothing is booked.
          </Empty>
        ) : (
          <Table
            caption="Loads of the week; their hours within it add up to the hours used"
            rows={runs}
            rowKey={(run) => run.runId}
            columns={[
              {
                head: "Run",
                cell: (run) => <TextLink href={`/runs/${run.runId}`}>Run {run.runNumber}</TextLink>,
              },
              { head: "State", cell: (run) => STATE_WORDS[run.state] },
              { head: "From", cell: (run) => formatWhen(run.from, shop) },
              { head: "To", cell: (run) => formatWhen(run.to, shop) },
              {
                head: "Hours in this week",
                numeric: true,
                cell: (run) => formatNumber(run.hours),
              },
            ]}
          />
        )}
      </Section>
    </Page>
  );
}
