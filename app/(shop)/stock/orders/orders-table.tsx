import { formatDate, formatDay, type ShopSettings } from "@/lib/server";
import type { seePurchaseOrder } from "@/lib/services";
import { Badge, type Column, moneyText, Table, TextLink } from "@/app/ui";
import { countWords, ORDER_STATE_TONE, ORDER_STATE_WORDS, supplierWords } from "./words";

type Order = Awaited<ReturnType<typeof seePurchaseOrder>>;

type Props = {
  readonly caption: string;
  readonly orders: readonly Order[];
  readonly shop: ShopSettings;
  readonly money: boolean;
};

/** Lists and orders, one a row. */
export function OrdersTable({ caption, orders, shop, money }: Props) {
  const columns: Column<Order>[] = [
    {
      head: "Order",
      cell: (order) => (
        <>
          <TextLink href={`/stock/orders/${order.id}`}>
            {`${order.number}, ${supplierWords(order.supplierName)}`}
          </TextLink>
          <span className="block text-sm text-zinc">{countWords(order.lines.length, "item")}</span>
        </>
      ),
    },
    {
      head: "State",
      cell: ({ state }) => <Badge tone={ORDER_STATE_TONE[state]}>{ORDER_STATE_WORDS[state]}</Badge>,
    },
    {
      head: "Ordered",
      wideOnly: true,
      cell: ({ orderedAt }) => (orderedAt ? formatDate(orderedAt, shop) : "not yet"),
    },
    {
      head: "Expected",
      wideOnly: true,
      cell: ({ expectedOn }) => (expectedOn ? formatDay(expectedOn, shop) : ""),
    },
  ];
  const priced: Column<Order> = {
    head: "Expected price",
    numeric: true,
    wideOnly: true,
    cell: ({ lines }) =>
      moneyText(
        lines.reduce((sum, { expectedMinor }) => sum + (expectedMinor ?? 0), 0),
        shop,
      ),
  };
  return (
    <Table
      caption={caption}
      rows={orders}
      rowKey={({ id }) => id}
      columns={money ? [...columns, priced] : columns}
    />
  );
}
