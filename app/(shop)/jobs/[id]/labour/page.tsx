import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatWhen, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { jobLabour } from "@/lib/services";
import { Empty, formatNumber, Page, Section, Table, TextLink } from "@/app/ui";
import { LabourForm } from "./labour-form";

export const metadata: Metadata = { title: "Minutes" };

type Props = { readonly params: Promise<{ id: string }> };

/** The minutes of a job without any money: for those who do the work. */
export default async function LabourPage({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const jobId = idFrom((await params).id);
  const { job, labour } = await load(() => jobLabour(actor, jobId));
  const minutes = labour.reduce((total, entry) => total + entry.minutes, 0);
  return (
    <Page
      title={`Minutes on job ${job.number}`}
      kicker={
        <>
          <TextLink href={`/jobs/${job.id}`}>Job {job.number}</TextLink>, {job.customerName}
        </>
      }
      narrow
    >
      {may(actor, "work-runs") || may(actor, "see-money") ? (
        <LabourForm jobId={job.id} parts={job.parts} />
      ) : null}
      <Section title={`So far: ${formatNumber(minutes)} min`} id="minutes">
        {labour.length === 0 ? (
          <Empty>Nobody has written down any minutes yet.</Empty>
        ) : (
          <Table
            caption="Minutes written down, newest first"
            rows={[...labour].reverse()}
            rowKey={(entry) => entry.id}
            columns={[
              { head: "When", cell: (entry) => formatWhen(entry.at, shop) },
              { head: "Who", cell: (entry) => entry.personName },
              {
                head: "What",
                cell: (entry) => `${entry.task}${entry.partMark ? `, part ${entry.partMark}` : ""}`,
              },
              { head: "Minutes", numeric: true, cell: (entry) => formatNumber(entry.minutes) },
            ]}
          />
        )}
      </Section>
    </Page>
  );
}
