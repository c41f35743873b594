import { formatWhen } from "@/lib/server";
import type { EntryShare, JobCostView, RunShare } from "@/lib/services";
import { type Column, Empty, formatNumber, moneyText, Section, Table, TextLink } from "@/app/ui";

/** What the cost adds up: minutes, runs and stock, each line leading to where it was written down. */
export function Behind({ view }: { readonly view: JobCostView }) {
  const { labour, runs, entries, shop } = view;
  return (
    <>
      <Section title="Runs" id="runs">
        {runs.length === 0 ? (
          <Empty>Nothing of this job has been in a tank yet.</Empty>
        ) : (
          <Table
            caption="Runs that held parts of this job"
            rows={runs}
            rowKey={(run) => run.id}
            columns={RUN_COLUMNS}
          />
        )}
      </Section>
      <Section title="Minutes" id="minutes">
        {labour.length === 0 ? (
          <Empty>Nobody has written down any minutes yet.</Empty>
        ) : (
          <Table
            caption="Minutes worked on this job"
            rows={labour}
            rowKey={(entry) => entry.id}
            columns={[
              { head: "When", cell: (entry) => formatWhen(entry.at, shop) },
              { head: "Who", cell: (entry) => entry.personName },
              {
                head: "What",
                cell: (entry) => `${entry.task}${entry.partMark ? `, part ${entry.partMark}` : ""}`,
              },
              { head: "Minutes", numeric: true, cell: (entry) => formatNumber(entry.minutes) },
              { head: "Cost", numeric: true, cell: (entry) => moneyText(entry.costMinor, shop) },
            ]}
          />
        )}
      </Section>
      <Section title="Stock" id="stock">
        {entries.length === 0 ? (
          <Empty>
            No stock was written on this job. It still bears its share of the baths it went through.
          </Empty>
        ) : (
          <Table
            caption="Stock used for this job"
            rows={entries}
            rowKey={(entry) => entry.id}
            columns={stockColumns(view)}
          />
        )}
      </Section>
    </>
  );
}

const RUN_COLUMNS: readonly Column<RunShare>[] = [
  {
    head: "Run",
    cell: (run) => (
      <>
        <TextLink href={`/runs/${run.id}`}>Run {run.number}</TextLink>
        <span className="mt-2 block text-sm text-zinc">
          <TextLink href={`/tanks/${run.tankId}`}>{run.tankName}</TextLink>, part{" "}
          {run.partMarks.join(", ")}
        </span>
      </>
    ),
  },
  {
    head: "In the tank",
    numeric: true,
    cell: (run) => (
      <>
        <span className="whitespace-nowrap">
          {formatNumber(run.hours)} h{run.settled ? "" : " so far"}
        </span>
        <span className="block text-sm whitespace-nowrap text-zinc">
          planned {formatNumber(run.planned.hoursP50)} h
        </span>
      </>
    ),
  },
  {
    head: "This job's share",
    numeric: true,
    cell: (run) => `${formatNumber(run.jobShare * 100)} %`,
  },
  {
    head: "Charge",
    numeric: true,
    cell: (run) => <span className="whitespace-nowrap">{formatNumber(run.jobChargeAh)} A·h</span>,
  },
  {
    head: "Energy",
    numeric: true,
    wideOnly: true,
    cell: (run) => <span className="whitespace-nowrap">{formatNumber(run.jobEnergyKwh)} kW·h</span>,
  },
];

function stockColumns({ shop, runs }: JobCostView): readonly Column<EntryShare>[] {
  const numberOf = new Map(runs.map(({ id, number }) => [id, number]));
  return [
    {
      head: "Item",
      cell: (entry) => (
        <>
          <TextLink href={`/stock/${entry.itemId}`}>{entry.itemName}</TextLink>
          <span className="block text-sm text-zinc">{entry.note}</span>
        </>
      ),
    },
    {
      head: "For",
      wideOnly: true,
      cell: (entry) =>
        entry.onJob ? "this job" : `its share of run ${numberOf.get(entry.runId ?? "") ?? ""}`,
    },
    { head: "Cost", numeric: true, cell: (entry) => moneyText(entry.jobMinor, shop) },
  ];
}
