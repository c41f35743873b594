import type { Metadata } from "next";
import { may } from "@/lib/access";
import { idFrom, load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { seeSupplier } from "@/lib/services";
import {
  type Column,
  Empty,
  Facts,
  Figure,
  Figures,
  formatNumber,
  moneyText,
  Page,
  Pager,
  Section,
  Table,
  TextLink,
} from "@/app/ui";
import { OrdersTable } from "../../orders/orders-table";
import { ITEM_KIND_WORDS } from "../../words";
import { changeSupplierAction } from "../actions";
import { SupplierForm } from "../supplier-form";

export const metadata: Metadata = { title: "Supplier" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ page?: string | string[] }>;
};

export default async function SupplierPage({ params, searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const id = idFrom((await params).id);
  const window = pageWindow((await searchParams).page);
  const view = await load(() => seeSupplier(actor, id, window, new Date()));
  const { supplier, items, lead, deliveries, orders, ordersTotal } = view;
  const money = may(actor, "see-money");
  const { orderCostMinor } = supplier;
  return (
    <Page title={supplier.name} kicker={<TextLink href="/stock/suppliers">Suppliers</TextLink>}>
      <Facts
        facts={[
          { label: "E-mail", value: supplier.email },
          { label: "Telephone", value: supplier.phone },
          { label: "Customer number and terms", value: supplier.note },
          {
            label: "Cost of one order",
            value: orderCostMinor === null ? null : moneyText(orderCostMinor, shop),
          },
        ]}
      />
      <Section title="How long it takes" id="lead">
        <Figures>
          <Figure worked={lead.worked} />
        </Figures>
        <p className="mt-3 text-zinc">
          {deliveries.length === 0
            ? "No order has come in yet. What it says holds until then."
            : `The last deliveries took ${lastOf(deliveries)} days.`}
        </p>
      </Section>
      <Section title="Bought here" id="items">
        {items.length === 0 ? (
          <Empty>No item names it under “bought from”.</Empty>
        ) : (
          <Table
            caption="Items bought here"
            rows={items}
            rowKey={(item) => item.id}
            columns={ITEM_COLUMNS}
          />
        )}
      </Section>
      <Section title="Orders" id="orders">
        {ordersTotal === 0 ? (
          <Empty>Nothing has been ordered here yet.</Empty>
        ) : (
          <OrdersTable
            caption="Its orders, the newest first"
            orders={orders}
            shop={shop}
            money={money}
          />
        )}
        <Pager
          page={window.page}
          pages={Math.ceil(ordersTotal / window.take)}
          href={(page) => `/stock/suppliers/${id}?page=${page}#orders`}
        />
      </Section>
      {may(actor, "keep-stock") ? (
        <Section title="Change what is known" id="change" plate>
          <SupplierForm
            action={changeSupplierAction}
            submit="Save"
            shop={shop}
            money={money}
            supplier={supplier}
          />
        </Section>
      ) : null}
    </Page>
  );
}

type Item = Awaited<ReturnType<typeof seeSupplier>>["items"][number];

const ITEM_COLUMNS: readonly Column<Item>[] = [
  { head: "Item", cell: (item) => <TextLink href={`/stock/${item.id}`}>{item.name}</TextLink> },
  { head: "What it is", cell: ({ kind }) => ITEM_KIND_WORDS[kind] },
  {
    head: "How it is ordered",
    cell: (item) => (
      <TextLink href={`/stock/${item.id}/ordering`}>Ordering of {item.name}</TextLink>
    ),
  },
];

/** How many deliveries are told one by one. */
const TOLD = 8;

const lastOf = (days: readonly number[]): string =>
  days
    .slice(-TOLD)
    .map((each) => formatNumber(Number(each.toFixed(1))))
    .join(", ");
