import type { PageWindow, ShopSettings } from "@/lib/server";
import type { JobMargin, jobMargins } from "@/lib/services";
import {
  Badge,
  Bar,
  type Column,
  formatNumber,
  moneyText,
  Pager,
  signedMoneyText,
  Table,
  TextLink,
} from "@/app/ui";

type Props = {
  readonly margins: Awaited<ReturnType<typeof jobMargins>>;
  readonly window: PageWindow;
  readonly shop: ShopSettings;
};

/** Jobs, newest first: what they were quoted at or charged, what they took, and what was left. */
export function MarginTable({ margins: { jobs, total }, window, shop }: Props) {
  return (
    <>
      <Table
        caption="Cost and margin of each job, newest first"
        rows={jobs}
        rowKey={({ job }) => job.id}
        columns={columnsFor(shop)}
      />
      <Pager
        page={window.page}
        pages={Math.ceil(total / window.take)}
        href={(page) => `/figures?page=${page}#jobs`}
      />
    </>
  );
}

function columnsFor(shop: ShopSettings): readonly Column<JobMargin>[] {
  return [
    {
      head: "Job",
      cell: ({ job, settled }) => (
        <>
          <TextLink href={`/jobs/${job.id}/cost`}>Job {job.number}</TextLink>
          <span className="block text-sm text-zinc">
            {job.customerName}
            {settled ? "" : ", still going on"}
          </span>
        </>
      ),
    },
    {
      head: "Price",
      numeric: true,
      wideOnly: true,
      cell: ({ cost, estimate, charged }) =>
        cost.quotedNetMinor === null ? (
          <span className="text-zinc">{estimate === "none" ? "no quote" : "not accepted"}</span>
        ) : (
          <>
            {moneyText(cost.quotedNetMinor, shop)}
            <span className="block text-sm text-zinc">{charged ? "charged" : "quoted"}</span>
          </>
        ),
    },
    {
      head: "Took",
      numeric: true,
      wideOnly: true,
      cell: ({ cost }) => moneyText(cost.actualMinor, shop),
    },
    {
      head: "Left",
      numeric: true,
      cell: ({ cost }) =>
        cost.marginMinor === null ? (
          <span className="text-zinc">–</span>
        ) : (
          <>
            <span className="whitespace-nowrap">{signedMoneyText(cost.marginMinor, shop)}</span>
            {cost.marginPercent === null ? null : (
              <span className="block text-sm text-zinc">{signedPercent(cost.marginPercent)}</span>
            )}
          </>
        ),
    },
    { head: "Paid off?", cell: (margin) => <PaidOff margin={margin} /> },
  ];
}

/** @example signedPercent(-2.3) // "−2.3 %" */
const signedPercent = (percent: number): string =>
  `${percent < 0 ? "−" : ""}${formatNumber(Math.abs(percent))} %`;

/** Whether the job left anything, in a word, with its share of the price drawn. */
function PaidOff({ margin: { cost, settled } }: { readonly margin: JobMargin }) {
  if (cost.marginMinor === null) return <Badge tone="zinc">no price yet</Badge>;
  const word = cost.marginMinor < 0 ? "at a loss" : settled ? "yes" : "so far";
  const tone = cost.marginMinor < 0 ? "oxide" : settled ? "bath" : "zinc";
  return (
    <span className="flex min-w-24 flex-col gap-1.5">
      <span>
        <Badge tone={tone}>{word}</Badge>
      </span>
      {cost.quotedNetMinor ? (
        <Bar share={Math.abs(cost.marginMinor) / cost.quotedNetMinor} tone={tone} />
      ) : null}
    </span>
  );
}
