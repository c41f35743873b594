import type { Metadata } from "next";
import { formatDay, load, requireActor } from "@/lib/server";
import { openBalances, type OpenBalance } from "@/lib/services";
import {
  Badge,
  type Column,
  Empty,
  Facts,
  LinkButton,
  type MoneyCustoms,
  moneyText,
  Page,
  Pager,
  Section,
  Table,
  TextLink,
} from "@/app/ui";

export const metadata: Metadata = { title: "Who owes what" };

type Props = { readonly searchParams: Promise<{ page?: string | string[] }> };

/** Statements that are not even, the longest overdue first. */
export default async function MoneyPage({ searchParams }: Props) {
  const actor = await requireActor();
  const { page: asked } = await searchParams;
  const view = await load(() =>
    openBalances(actor, Number(typeof asked === "string" ? asked : 1), new Date()),
  );
  const { page, ages, shop, owedMinor, overdueMinor, heldMinor } = view;
  const text = (minor: number): string => moneyText(minor, shop);
  return (
    <Page
      title="Who owes what"
      actions={
        page.total > 0 ? (
          <LinkButton href="/money/list" download>
            As a file for a spreadsheet
          </LinkButton>
        ) : null
      }
    >
      <Facts
        facts={[
          { label: "Owed", value: text(owedMinor) },
          { label: "Of it overdue", value: text(overdueMinor) },
          { label: "Held for customers", value: heldMinor > 0 ? text(heldMinor) : null },
          ...ages.slice(1).map(({ age, owedMinor: minor }) => ({
            label: `Overdue ${age}`,
            value: minor > 0 ? text(minor) : null,
          })),
        ]}
      />
      <Section title="Statements that are not even" id="open">
        {page.total === 0 ? (
          <Empty action={<LinkButton href="/jobs">To the jobs</LinkButton>}>
            Nobody owes anything: every statement is paid or credited.
          </Empty>
        ) : (
          <>
            <Table
              caption="Statements that are not even, the longest overdue first"
              rows={page.rows}
              rowKey={({ jobId }) => jobId}
              columns={columnsFor(shop)}
            />
            <Pager page={page.page} pages={page.pages} href={(to) => `/money?page=${to}`} />
          </>
        )}
      </Section>
    </Page>
  );
}

type Shop = MoneyCustoms & { readonly timeZone: string };

function columnsFor(shop: Shop): readonly Column<OpenBalance>[] {
  return [
    {
      head: "Customer",
      cell: ({ customerName, customerPhone, jobId, jobNumber }) => (
        <>
          {customerName}
          <span className="block text-sm text-zinc">
            <TextLink href={`/jobs/${jobId}/money`}>Job {jobNumber}</TextLink>
            {customerPhone ? (
              <>
                {", "}
                <a className="link" href={`tel:${customerPhone}`}>
                  {customerPhone}
                </a>
              </>
            ) : null}
          </span>
        </>
      ),
    },
    { head: "Statement", wideOnly: true, cell: ({ statementNumber }) => statementNumber },
    { head: "Due", wideOnly: true, cell: ({ dueOn }) => formatDay(dueOn, shop) },
    {
      head: "Charged",
      numeric: true,
      wideOnly: true,
      cell: ({ chargedMinor }) => moneyText(chargedMinor, shop),
    },
    {
      head: "Paid",
      numeric: true,
      wideOnly: true,
      cell: ({ paidMinor }) => moneyText(paidMinor, shop),
    },
    {
      head: "Balance",
      numeric: true,
      cell: ({ balanceMinor }) => (
        <span className="whitespace-nowrap">{moneyText(balanceMinor, shop)}</span>
      ),
    },
    { head: "State", cell: (row) => <StateBadge row={row} /> },
  ];
}

function StateBadge({ row: { balanceMinor, daysOverdue } }: { readonly row: OpenBalance }) {
  if (balanceMinor < 0) return <Badge tone="brass">pay back</Badge>;
  if (daysOverdue > 0) return <Badge tone="oxide">{daysOverdue} d overdue</Badge>;
  return <Badge tone="ink">not due</Badge>;
}
