import { formatWhen, type ShopSettings } from "@/lib/server";
import type { StockItemPage } from "@/lib/services";
import { ENTRY_KIND_WORDS } from "@/lib/stock";
import { Badge, type Column, signedMoneyText, Table, TextLink } from "@/app/ui";
import { exactQuantity } from "../quantity";

type Line = StockItemPage["ledger"]["lines"][number];

type Props = {
  readonly itemId: string;
  readonly lines: readonly Line[];
  readonly shop: ShopSettings;
  readonly money: boolean;
  /** Offers to correct lines. */
  readonly keeps: boolean;
};

/** Lines of the ledger, newest first, each with what it was for, and what was put right. */
export function LedgerTable({ itemId, lines, shop, money, keeps }: Props) {
  const columns: Column<Line>[] = [
    {
      head: "When",
      cell: (line) => (
        <>
          <span id={`line-${line.id}`} className="whitespace-nowrap">
            {formatWhen(line.at, shop)}
          </span>
          <span className="block text-sm text-zinc">{line.enteredBy}</span>
          {line.writtenAt.getTime() - line.at.getTime() > LATER_MS ? (
            <span className="block text-sm text-zinc">
              written {formatWhen(line.writtenAt, shop)}
            </span>
          ) : null}
        </>
      ),
    },
    {
      head: "What",
      cell: (line) => (
        <>
          <span className={line.corrected ? "line-through" : undefined}>
            {line.correctsId ? "correction of " : null}
            {line.correctsId ? (
              <a className="link" href={`#line-${line.correctsId}`}>
                {ENTRY_KIND_WORDS[line.kind]}
              </a>
            ) : (
              ENTRY_KIND_WORDS[line.kind]
            )}
          </span>
          {line.note ? <span className="text-zinc">: {line.note}</span> : null}
          <CorrectionState line={line} shop={shop} />
          <LedgerLinks itemId={itemId} line={line} shop={shop} keeps={keeps} />
        </>
      ),
    },
    {
      head: "Amount",
      numeric: true,
      cell: (line) => (
        <span className="font-medium whitespace-nowrap">
          {line.quantity > 0 ? "+" : "−"}
          {exactQuantity(Math.abs(line.quantity), line.unit, shop.unitSystem)}
        </span>
      ),
    },
  ];
  if (money) {
    columns.push({
      head: "At cost",
      numeric: true,
      wideOnly: true,
      cell: (line) => signedMoneyText(line.costMinor, shop),
    });
  }
  return (
    <Table
      caption="Stock ledger, newest first"
      rows={lines}
      rowKey={(line) => line.id}
      columns={columns}
    />
  );
}

/** From here on a line counts as written later than what it tells of, ms. */
const LATER_MS = 3_600_000;

type StateProps = Pick<Props, "itemId" | "shop" | "keeps"> & { readonly line: Line };

/** Who put a line right. */
function CorrectionState({ line: { corrected }, shop }: Omit<StateProps, "itemId" | "keeps">) {
  if (!corrected) return null;
  return (
    <span className="mt-1 block">
      <Badge tone="zinc">corrected</Badge>{" "}
      <span className="text-sm text-zinc">
        {corrected.by}, {formatWhen(corrected.at, shop)}
      </span>
    </span>
  );
}

/** What a line was for, and the way to put it right. */
function LedgerLinks({ itemId, line, shop, keeps }: StateProps) {
  const { job, run, tank } = line;
  const open = keeps && !line.correctsId && !line.corrected;
  if (!job && !run && !tank && !open) return null;
  return (
    <span className="mt-1.5 flex flex-wrap gap-x-4 gap-y-2 text-sm">
      {job ? <TextLink href={`/jobs/${job.id}`}>job {job.number}</TextLink> : null}
      {run ? <TextLink href={`/runs/${run.id}`}>run {run.number}</TextLink> : null}
      {tank ? <TextLink href={`/tanks/${tank.id}`}>{tank.name}</TextLink> : null}
      {open ? (
        <TextLink href={`/stock/${itemId}/correct/${line.id}`}>
          Correct<span className="sr-only"> the line of {formatWhen(line.at, shop)}</span>
        </TextLink>
      ) : null}
    </span>
  );
}
