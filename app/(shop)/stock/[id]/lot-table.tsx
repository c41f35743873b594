import { formatDate, formatDay, type ShopSettings } from "@/lib/server";
import type { StockItemPage } from "@/lib/services";
import type { StockUnit } from "@/lib/stock";
import { type Column, moneyText, Table } from "@/app/ui";
import { exactQuantity } from "../quantity";

type Lot = StockItemPage["lots"][number];

type Props = {
  readonly lots: readonly Lot[];
  readonly unit: StockUnit;
  readonly shop: ShopSettings;
  readonly money: boolean;
};

/** Deliveries, oldest first. They are drawn on in this order, but for those that expire: the first to expire go first. */
export function LotTable({ lots, unit, shop, money }: Props) {
  const columns: Column<Lot>[] = [
    {
      head: "Came in",
      cell: (lot) => (
        <>
          <span className="whitespace-nowrap">{formatDate(lot.receivedAt, shop)}</span>
          <span className="block text-sm text-zinc">
            {[lot.supplierName, lot.place].filter(Boolean).join(" · ")}
          </span>
        </>
      ),
    },
    {
      head: "Left",
      numeric: true,
      cell: (lot) => (
        <>
          <span className="font-semibold whitespace-nowrap">
            {exactQuantity(lot.onHand, unit, shop.unitSystem)}
          </span>
          <span className="block text-sm whitespace-nowrap text-zinc">
            {lot.delivered > 0
              ? `of ${exactQuantity(lot.quantity, unit, shop.unitSystem)}`
              : "taken out again: written by mistake"}
          </span>
        </>
      ),
    },
    {
      head: "Good until",
      cell: (lot) => (lot.expiresOn ? formatDay(lot.expiresOn, shop) : "keeps"),
    },
  ];
  if (money) {
    columns.push({
      head: "Value left",
      numeric: true,
      cell: (lot) => (
        <>
          <span className="whitespace-nowrap">{moneyText(lot.valueMinor, shop)}</span>
          <span className="block text-sm whitespace-nowrap text-zinc">
            of {moneyText(lot.costMinor, shop)}
          </span>
        </>
      ),
    });
  }
  return (
    <Table
      caption="Deliveries, oldest first"
      rows={lots}
      rowKey={(lot) => lot.id}
      columns={columns}
    />
  );
}
