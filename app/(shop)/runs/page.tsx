import type { Metadata } from "next";
import Link from "next/link";
import { formatWhen, requireActor, shopSettings } from "@/lib/server";
import { RUNS_PER_PAGE, seeRuns } from "@/lib/services";
import { Badge, Empty, LinkButton, Page, Pager, Table, TextLink } from "@/app/ui";
import { loadWords, RUN_STATE } from "../words";

export const metadata: Metadata = { title: "Runs" };

const STATES = ["RUNNING", "PULLED", "PLANNED", "FINISHED", "CANCELLED"] as const;
type Props = { readonly searchParams: Promise<{ state?: string; page?: string }> };

export default async function RunsPage({ searchParams }: Props) {
  const actor = await requireActor();
  const place = await shopSettings();
  const search = await searchParams;
  const state = STATES.find((known) => known === search.state);
  const page = Math.max(1, Math.floor(Number(search.page)) || 1);
  const { runs, total } = await seeRuns(actor, { state, page });
  const href = (to: number): string => `/runs?${state ? `state=${state}&` : ""}page=${to}`;
  return (
    <Page title="Runs">
      <nav aria-label="Which runs" className="flex flex-wrap gap-2">
        {[undefined, ...STATES].map((one) => (
          <Link
            key={one ?? "all"}
            href={one ? `/runs?state=${one}` : "/runs"}
            aria-current={one === state ? "page" : undefined}
            className="flex min-h-11 items-center border-b-4 border-transparent px-3 aria-[current]:border-bath aria-[current]:font-semibold"
          >
            {one ? RUN_STATE[one]?.word : "all"}
          </Link>
        ))}
      </nav>
      {runs.length === 0 ? (
        <Empty action={<LinkButton href="/jobs">Jobs</LinkButton>}>
          {state ? "No run is at that." : "No runs yet. Book a tank from a part that has a plan."}
        </Empty>
      ) : (
        <div>
          <Table
            caption="Runs, newest first"
            rows={runs}
            rowKey={({ id }) => id}
            columns={[
              {
                head: "Run",
                cell: (run) => (
                  <TextLink href={`/runs/${run.id}`}>
                    {run.number}, {loadWords(run)}
                  </TextLink>
                ),
              },
              {
                head: "Tank",
                cell: ({ tank }) => <TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink>,
              },
              { head: "Load", cell: (run) => formatWhen(run.loadedAt ?? run.startsAt, place) },
              {
                head: "Pull",
                wideOnly: true,
                cell: (run) => formatWhen(run.pulledAt ?? run.endsAt, place),
              },
              {
                head: "State",
                cell: (run) => (
                  <Badge tone={RUN_STATE[run.state]?.tone ?? "zinc"}>
                    {RUN_STATE[run.state]?.word}
                  </Badge>
                ),
              },
            ]}
          />
          <Pager page={page} pages={Math.ceil(total / RUNS_PER_PAGE)} href={href} />
        </div>
      )}
    </Page>
  );
}
