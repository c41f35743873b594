import type { ShopSettings } from "@/lib/server";
import type { StockItem } from "@/lib/services";
import { STOCK_STATE_WORDS } from "@/lib/stock";
import { Badge, Table, TextLink } from "@/app/ui";
import { shownQuantity } from "../stock/quantity";
import { STATE_TONE } from "../stock/words";

type Props = { readonly low: readonly StockItem[]; readonly shop: ShopSettings };

/** What to order, the emptiest first. */
export function LowStock({ low, shop }: Props) {
  return (
    <Table
      caption="Stock running low"
      rows={low}
      rowKey={({ item }) => item.id}
      columns={[
        {
          head: "Item",
          cell: ({ item }) => <TextLink href={`/stock/${item.id}`}>{item.name}</TextLink>,
        },
        {
          head: "On hand",
          numeric: true,
          cell: ({ item, onHand }) => shownQuantity(onHand, item.unit, shop.unitSystem),
        },
        {
          head: "State",
          cell: ({ advice }) => (
            <Badge tone={STATE_TONE[advice.state]}>{STOCK_STATE_WORDS[advice.state]}</Badge>
          ),
        },
        {
          head: "Order",
          numeric: true,
          cell: ({ item, advice }) => shownQuantity(advice.order, item.unit, shop.unitSystem),
        },
      ]}
    />
  );
}
