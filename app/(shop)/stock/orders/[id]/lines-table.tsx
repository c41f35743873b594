import type { ShopSettings } from "@/lib/server";
import type { seePurchaseOrder } from "@/lib/services";
import { roundQuantity } from "@/lib/stock";
import { Badge, type Column, moneyText, Table, TextLink } from "@/app/ui";
import { exactQuantity } from "../../quantity";

export type OrderLine = Awaited<ReturnType<typeof seePurchaseOrder>>["lines"][number];

type Props = {
  readonly lines: readonly OrderLine[];
  readonly shop: ShopSettings;
  readonly money: boolean;
};

/** What was listed, and what came of it. */
export function LinesTable({ lines, shop, money }: Props) {
  const amount = (quantity: number, line: OrderLine): string =>
    exactQuantity(quantity, line.unit, shop.unitSystem);
  const columns: Column<OrderLine>[] = [
    {
      head: "Item",
      cell: (line) => <TextLink href={`/stock/${line.itemId}`}>{line.itemName}</TextLink>,
    },
    {
      head: "How much",
      numeric: true,
      cell: (line) => (
        <>
          <span className="whitespace-nowrap">{amount(line.quantity, line)}</span>
          {line.packQuantity === null ? null : (
            <span className="block text-sm text-zinc">
              {`${roundQuantity(line.quantity / line.packQuantity)} × ${amount(line.packQuantity, line)}`}
            </span>
          )}
        </>
      ),
    },
    { head: "Came", numeric: true, cell: (line) => <Came line={line} amount={amount} /> },
  ];
  const priced: Column<OrderLine> = {
    head: "Expected price",
    numeric: true,
    wideOnly: true,
    cell: ({ expectedMinor }) =>
      expectedMinor === null ? "not known" : moneyText(expectedMinor, shop),
  };
  return (
    <Table
      caption="Items on this order"
      rows={lines}
      rowKey={({ id }) => id}
      columns={money ? [...columns, priced] : columns}
    />
  );
}

type CameProps = {
  readonly line: OrderLine;
  readonly amount: (quantity: number, line: OrderLine) => string;
};

function Came({ line, amount }: CameProps) {
  if (line.received === 0) return "nothing yet";
  const over = roundQuantity(line.received - line.quantity);
  return (
    <span className="inline-flex flex-col items-end gap-1">
      {amount(line.received, line)}
      {over > 0 ? <Badge tone="brass">{`${amount(over, line)} too much`}</Badge> : null}
      {over < 0 ? (
        <span className="text-sm text-zinc">{`${amount(-over, line)} missing`}</span>
      ) : null}
    </span>
  );
}
