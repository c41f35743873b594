import { formatDay } from "@/lib/server";
import type { jobList } from "@/lib/services";
import { Badge, Pager, Table, TextLink } from "@/app/ui";
import { JOB_STATE, PART_STATE } from "../words";

type Props = {
  readonly list: Awaited<ReturnType<typeof jobList>>;
  readonly shop: { readonly timeZone: string; readonly locale: string };
  readonly href: (page: number) => string;
};

export function JobTable({ list, shop, href }: Props) {
  return (
    <div>
      <Table
        caption="Jobs"
        rows={list.rows}
        rowKey={(job) => job.id}
        columns={[
          {
            head: "Job",
            cell: (job) => <TextLink href={`/jobs/${job.id}`}>#{job.number}</TextLink>,
          },
          { head: "Customer", cell: (job) => job.customer.name },
          {
            head: "Parts",
            cell: (job) => job.parts.map(({ description }) => description).join(", ") || "none yet",
            wideOnly: true,
          },
          {
            head: "Promised",
            cell: (job) => (
              <>
                {job.promisedFor ? formatDay(job.promisedFor, shop) : "—"}
                {job.rush ? " rush" : ""}
              </>
            ),
          },
          { head: "State", cell: (job) => <JobWord job={job} /> },
        ]}
      />
      <Pager page={list.page} pages={list.pages} href={href} />
    </div>
  );
}

/** The job's own state, or, while it is open, that of its part furthest behind. */
function JobWord({ job }: { readonly job: Props["list"]["rows"][number] }) {
  const order = Object.keys(PART_STATE);
  const behind = [...job.parts].sort((a, b) => order.indexOf(a.state) - order.indexOf(b.state))[0];
  const word = job.state === "OPEN" && behind ? PART_STATE[behind.state] : JOB_STATE[job.state];
  return word ? <Badge tone={word.tone}>{word.word}</Badge> : null;
}
