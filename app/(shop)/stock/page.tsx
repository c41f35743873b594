import type { Metadata } from "next";
import { may } from "@/lib/access";
import { load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { buyingCount, type StockItem, stockOverview } from "@/lib/services";
import { packOf, packsText, STOCK_STATE_WORDS } from "@/lib/stock";
import {
  Badge,
  type Column,
  Empty,
  Figure,
  Figures,
  formatNumber,
  LinkButton,
  moneyText,
  Page,
  Pager,
  Table,
  TextLink,
} from "@/app/ui";
import { countWords } from "./orders/words";
import { shownQuantity } from "./quantity";
import { expiryWords, itemWords, STATE_TONE } from "./words";

export const metadata: Metadata = { title: "Stock" };

type Props = { readonly searchParams: Promise<{ page?: string | string[] }> };

export default async function StockPage({ searchParams }: Props) {
  const actor = await requireActor();
  const [shop, { page: asked }] = await Promise.all([shopSettings(), searchParams]);
  const { items, value } = await load(() => stockOverview(actor, new Date()));
  const due = await buyingCount(actor, new Date());
  const { page, skip, take } = pageWindow(asked);
  const low = items.filter(({ advice }) => advice.state !== "ENOUGH");
  const add = may(actor, "keep-stock") ? (
    <LinkButton href="/stock/new" kind="main">
      Add an item
    </LinkButton>
  ) : null;
  const actions = (
    <>
      <LinkButton href="/stock/orders">{dueWords(due)}</LinkButton>
      {may(actor, "keep-stock") ? <LinkButton href="/stock/count">Count</LinkButton> : null}
      {may(actor, "see-money") ? <LinkButton href="/stock/value">Value</LinkButton> : null}
      {add}
    </>
  );
  if (items.length === 0) {
    return (
      <Page title="Stock">
        <Empty action={add}>
          Nothing is kept in stock yet. Add the soda, the anode steel and the consumables you buy;
          every gram used then finds its job.
        </Empty>
      </Page>
    );
  }
  return (
    <Page title="Stock" kicker={lowWords(low)} actions={actions}>
      <div>
        <Table
          caption="Items in stock, what runs low first"
          rows={items.slice(skip, skip + take)}
          rowKey={({ item }) => item.id}
          columns={columnsFor(shop, value !== null)}
        />
        <Pager
          page={page}
          pages={Math.ceil(items.length / take)}
          href={(number) => `/stock?page=${number}`}
        />
      </div>
      <p>
        <TextLink href="/stock/cutting">Cut steel for an anode</TextLink>
      </p>
      {value ? (
        <Figures>
          <Figure worked={value} shown={moneyText(items.reduce(addValue, 0), shop)} />
        </Figures>
      ) : null}
    </Page>
  );
}

const addValue = (total: number, { valueMinor }: StockItem): number => total + (valueMinor ?? 0);

/** @example dueWords({ items: 3, suppliers: 2 }) // "To buy: 3 items from 2 suppliers" */
function dueWords({ items, suppliers }: Awaited<ReturnType<typeof buyingCount>>): string {
  if (items === 0) return "Orders: nothing due";
  return `To buy: ${countWords(items, "item")} from ${countWords(suppliers, "supplier")}`;
}

function lowWords(low: readonly StockItem[]): string {
  if (low.length === 0) return "Enough of everything";
  const names = low.slice(0, 3).map(({ item }) => item.name);
  const more = low.length > 3 ? ` and ${low.length - 3} more` : "";
  return `To order: ${names.join(", ")}${more}`;
}

type Shop = Awaited<ReturnType<typeof shopSettings>>;

function columnsFor(shop: Shop, money: boolean): readonly Column<StockItem>[] {
  const amount = (quantity: number, { item }: StockItem): string =>
    shownQuantity(quantity, item.unit, shop.unitSystem);
  const columns: Column<StockItem>[] = [
    {
      head: "Item",
      cell: ({ item, expiryDays }) => (
        <>
          <TextLink href={`/stock/${item.id}`}>{item.name}</TextLink>
          <span className="block text-sm text-zinc">
            {[itemWords(item), item.place].filter(Boolean).join(" · ")}
          </span>
          {expiryDays === null ? null : (
            <span className="block text-sm font-medium text-oxide">{expiryWords(expiryDays)}</span>
          )}
        </>
      ),
    },
    {
      head: "On hand",
      numeric: true,
      cell: (row) => (
        <span className="inline-flex flex-col items-end gap-1">
          <span className="text-lg font-semibold whitespace-nowrap">{amount(row.onHand, row)}</span>
          <InPacks row={row} />
          <Badge tone={STATE_TONE[row.advice.state]}>{STOCK_STATE_WORDS[row.advice.state]}</Badge>
        </span>
      ),
    },
    { head: "Lasts", numeric: true, cell: ({ advice }) => lastsWords(advice.cover?.value) },
    {
      head: "Order at",
      numeric: true,
      wideOnly: true,
      cell: (row) => amount(row.reorderPoint, row),
    },
    {
      head: "Order now",
      numeric: true,
      wideOnly: true,
      cell: (row) => (row.advice.order > 0 ? amount(row.advice.order, row) : "nothing"),
    },
  ];
  if (!money) return columns;
  return [
    ...columns,
    {
      head: "Value at cost",
      numeric: true,
      wideOnly: true,
      cell: ({ valueMinor }) => moneyText(valueMinor ?? 0, shop),
    },
  ];
}

/** "2.5 sacks", where the thing comes in packs and there is any. */
function InPacks({ row: { item, onHand } }: { readonly row: StockItem }) {
  const pack = packOf(item);
  if (!pack || onHand === 0) return null;
  return <span className="text-sm whitespace-nowrap text-zinc">{packsText(onHand, pack)}</span>;
}

/** Days of cover, no finer than they deserve. */
function lastsWords(days: number | undefined): string {
  if (days === undefined) return "not used of late";
  if (days >= 365) return "over a year";
  return `${formatNumber(Math.round(days))} ${Math.round(days) === 1 ? "day" : "days"}`;
}
