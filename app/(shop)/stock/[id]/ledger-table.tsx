import { formatWhen, type ShopSettings } from "@/lib/server";
import type { StockItemPage } from "@/lib/services";
import { ENTRY_KIND_WORDS } from "@/lib/stock";
import { type Column, signedMoneyText, Table, TextLink } from "@/app/ui";
import { exactQuantity } from "../quantity";

type Line = StockItemPage["ledger"]["lines"][number];

type Props = {
  readonly lines: readonly Line[];
  readonly shop: ShopSettings;
  readonly money: boolean;
};

/** Lines of the ledger, newest first, each with what it was for. */
export function LedgerTable({ lines, shop, money }: Props) {
  const columns: Column<Line>[] = [
    {
      head: "When",
      cell: (line) => (
        <>
          <span className="whitespace-nowrap">{formatWhen(line.at, shop)}</span>
          <span className="block text-sm text-zinc">{line.enteredBy}</span>
        </>
      ),
    },
    {
      head: "What",
      cell: (line) => (
        <>
          {ENTRY_KIND_WORDS[line.kind]}
          {line.note ? <span className="text-zinc">: {line.note}</span> : null}
          <LedgerLinks line={line} />
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

function LedgerLinks({ line }: { readonly line: Line }) {
  if (!line.job && !line.run && !line.tank) return null;
  return (
    <span className="mt-1.5 flex flex-wrap gap-x-4 gap-y-2 text-sm">
      {line.job ? <TextLink href={`/jobs/${line.job.id}`}>job {line.job.number}</TextLink> : null}
      {line.run ? <TextLink href={`/runs/${line.run.id}`}>run {line.run.number}</TextLink> : null}
      {line.tank ? <TextLink href={`/tanks/${line.tank.id}`}>{line.tank.name}</TextLink> : null}
    </span>
  );
}
