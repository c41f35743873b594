import type { Metadata } from "next";
import { may } from "@/lib/access";
import { load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { seeSuppliers, type SupplierLine } from "@/lib/services";
import { type Column, Empty, formatNumber, Page, Pager, Section, Table, TextLink } from "@/app/ui";
import { countWords } from "../orders/words";
import { addSupplierAction } from "./actions";
import { SupplierForm } from "./supplier-form";

export const metadata: Metadata = { title: "Suppliers" };

type Props = {
  readonly searchParams: Promise<{ page?: string | string[]; name?: string | string[] }>;
};

export default async function SuppliersPage({ searchParams }: Props) {
  const actor = await requireActor();
  const [shop, { page: asked, name }] = await Promise.all([shopSettings(), searchParams]);
  const { page, skip, take } = pageWindow(asked);
  const suppliers = await load(() => seeSuppliers(actor, new Date()));
  const changes = may(actor, "keep-stock");
  return (
    <Page title="Suppliers" kicker={<TextLink href="/stock/orders">To buy</TextLink>}>
      {suppliers.length === 0 ? (
        <Empty>
          Nobody is bought from yet. Say in an item whom you buy it from, or write a supplier down
          here.
        </Empty>
      ) : (
        <div>
          <Table
            caption="Suppliers, by name"
            rows={suppliers.slice(skip, skip + take)}
            rowKey={(row) => row.name}
            columns={columnsFor(changes)}
          />
          <Pager
            page={page}
            pages={Math.ceil(suppliers.length / take)}
            href={(number) => `/stock/suppliers?page=${number}`}
          />
        </div>
      )}
      {changes ? (
        <Section title="Write a supplier down" id="add" plate>
          <SupplierForm
            action={addSupplierAction}
            submit="Add the supplier"
            shop={shop}
            money={may(actor, "see-money")}
            name={typeof name === "string" ? name : ""}
          />
        </Section>
      ) : null}
    </Page>
  );
}

const columnsFor = (changes: boolean): readonly Column<SupplierLine>[] => [
  {
    head: "Supplier",
    cell: ({ name, supplier, items }) => (
      <>
        {supplier ? (
          <TextLink href={`/stock/suppliers/${supplier.id}`}>{name}</TextLink>
        ) : (
          <span className="font-medium">{name}</span>
        )}
        <span className="block text-sm text-zinc">
          {supplier ? supplier.phone || supplier.email : "only named on items. "}
          {supplier || !changes ? null : (
            <TextLink href={`/stock/suppliers?name=${encodeURIComponent(name)}#add`}>
              Write it down
            </TextLink>
          )}
        </span>
        <span className="block text-sm text-zinc">{countWords(items.length, "item")}</span>
      </>
    ),
  },
  { head: "On its way", numeric: true, cell: ({ openOrders }) => countWords(openOrders, "order") },
  {
    head: "Takes",
    numeric: true,
    cell: ({ lead }) => (
      <>
        <span className="whitespace-nowrap">{daysWords(lead.days)}</span>
        <span className="block text-sm text-zinc">{restsOn(lead.deliveries)}</span>
      </>
    ),
  },
  {
    head: "Give or take",
    numeric: true,
    wideOnly: true,
    cell: ({ lead }) => daysWords(lead.deviation),
  },
];

const daysWords = (days: number): string => `${formatNumber(Number(days.toFixed(1)))} days`;

function restsOn(deliveries: number): string {
  if (deliveries === 0) return "as said";
  return deliveries === 1 ? "by 1 delivery" : `by ${deliveries} deliveries`;
}
