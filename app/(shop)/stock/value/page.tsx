import type { Metadata } from "next";
import {
  formatDate,
  formatDay,
  load,
  pageWindow,
  requireActorWith,
  type ShopSettings,
  shopSettings,
} from "@/lib/server";
import { stockValuation, type ValuedItem } from "@/lib/services";
import {
  Button,
  type Column,
  Empty,
  Facts,
  Figure,
  Figures,
  LinkButton,
  moneyText,
  Notice,
  Page,
  Pager,
  Section,
  Table,
  TextLink,
} from "@/app/ui";
import { exactQuantity, shownQuantity } from "../quantity";
import { askedDay } from "./day";

export const metadata: Metadata = { title: "Value of the stock" };

type Props = {
  readonly searchParams: Promise<{ on?: string | string[]; page?: string | string[] }>;
};

export default async function StockValuePage({ searchParams }: Props) {
  const actor = await load(() => requireActorWith("see-money"));
  const [shop, asked] = await Promise.all([shopSettings(), searchParams]);
  const now = new Date();
  const day = askedDay(asked.on, shop.timeZone, now);
  const on = day.toISOString().slice(0, 10);
  const valuation = await load(() => stockValuation(actor, day, now));
  const { page, skip, take } = pageWindow(asked.page);
  const { items } = valuation;
  return (
    <Page
      title="Value of the stock"
      kicker={<TextLink href="/stock">Stock</TextLink>}
      actions={
        <>
          <LinkButton href={`/stock/value/csv?on=${on}`} download>
            Items as CSV
          </LinkButton>
          <LinkButton href={`/stock/value/csv?on=${on}&of=layers`} download>
            Layers as CSV
          </LinkButton>
        </>
      }
    >
      <DayForm on={on} />
      <Totals valuation={valuation} shop={shop} />
      <Section title={`At the end of ${formatDay(day, shop)}`} id="items">
        {items.length === 0 ? (
          <Empty>Nothing was on the shelves.</Empty>
        ) : (
          <Table
            caption="Items with their value, by name"
            rows={items.slice(skip, skip + take)}
            rowKey={({ item }) => item.id}
            columns={columnsFor(shop)}
          />
        )}
        <Pager
          page={page}
          pages={Math.ceil(items.length / take)}
          href={(number) => `/stock/value?on=${on}&page=${number}#items`}
        />
      </Section>
      <Section title="How it is reckoned" id="how">
        <ul className="list-disc space-y-2 pl-5">
          <li>
            First in, first out: what is on hand is made up of the newest deliveries, each at its
            own cost. Worked out anew from the dates of all lines.
          </li>
          <li>
            As drawn: the deliveries from which things were really taken, as the ledger and the
            costs of jobs have it. It differs where something expired first, was taken or spoiled
            out of its turn, or was written down late.
          </li>
          <li>
            Moving average: each delivery makes a new average, everything else moves at it. For
            comparison; the shop keeps first in, first out.
          </li>
        </ul>
      </Section>
    </Page>
  );
}

function DayForm({ on }: { readonly on: string }) {
  return (
    <form action="/stock/value" className="flex max-w-md items-end gap-2">
      <label className="min-w-0 flex-1">
        <span className="mb-1 block font-medium">At the end of this day</span>
        <input
          type="date"
          name="on"
          defaultValue={on}
          key={on}
          className="min-h-11 w-full rounded-[var(--radius-plate)] border border-rim bg-sheet px-3"
        />
      </label>
      <Button kind="plain">Show</Button>
    </form>
  );
}

type Valuation = Awaited<ReturnType<typeof stockValuation>>;

function Totals({
  valuation,
  shop,
}: {
  readonly valuation: Valuation;
  readonly shop: ShopSettings;
}) {
  const { items, fifo, drawnMinor, averageMinor, writtenLater } = valuation;
  const fifoMinor = items.reduce((total, item) => total + item.fifoMinor, 0);
  return (
    <>
      <Figures>
        <Figure
          worked={fifo}
          label="Value at cost, first in first out"
          shown={moneyText(fifoMinor, shop)}
        />
      </Figures>
      <Facts
        facts={[
          { label: "As drawn", value: moneyText(drawnMinor, shop) },
          {
            label: "At moving average",
            value: averageMinor === null ? "cannot be told" : moneyText(averageMinor, shop),
          },
          { label: "Items", value: String(items.length) },
        ]}
      />
      {writtenLater > 0 ? (
        <Notice tone="brass" title="Written after this day">
          {writtenLater === 1 ? "One line" : `${writtenLater} lines`} of the ledger dated to this
          day or before came later: deliveries dated back, or corrections. What was printed on that
          evening may differ.
        </Notice>
      ) : null}
    </>
  );
}

function columnsFor(shop: ShopSettings): readonly Column<ValuedItem>[] {
  return [
    {
      head: "Item",
      cell: (row) => (
        <>
          <TextLink href={`/stock/${row.item.id}`}>{row.item.name}</TextLink>
          <Layers row={row} shop={shop} />
        </>
      ),
    },
    {
      head: "On hand",
      numeric: true,
      cell: ({ item, onHand }) => (
        <span className="whitespace-nowrap">
          {shownQuantity(onHand, item.unit, shop.unitSystem)}
        </span>
      ),
    },
    {
      head: "First in, first out",
      numeric: true,
      cell: ({ fifoMinor }) => <span className="font-medium">{moneyText(fifoMinor, shop)}</span>,
    },
    {
      head: "As drawn",
      numeric: true,
      wideOnly: true,
      cell: ({ drawnMinor }) => moneyText(drawnMinor, shop),
    },
    {
      head: "Average",
      numeric: true,
      wideOnly: true,
      cell: ({ averageMinor }) =>
        averageMinor === null ? "cannot be told" : moneyText(averageMinor, shop),
    },
  ];
}

/** The deliveries that make up what is on hand. */
function Layers({ row, shop }: { readonly row: ValuedItem; readonly shop: ShopSettings }) {
  const { item, layers, short } = row;
  const amount = (quantity: number): string => exactQuantity(quantity, item.unit, shop.unitSystem);
  return (
    <>
      {short > 0 ? (
        <span className="block text-sm text-oxide">
          {amount(short)} went out, by the dates written down, before they came in.
        </span>
      ) : null}
      {layers.length > 0 ? (
        <details className="text-sm">
          <summary className="min-h-8 py-1 text-zinc">
            {layers.length === 1 ? "1 layer" : `${layers.length} layers`}
          </summary>
          <ul className="space-y-1 pb-2">
            {layers.map(({ lotId, receivedAt, quantity, costMinor }) => (
              <li key={lotId}>
                {amount(quantity)} of {formatDate(receivedAt, shop)}: {moneyText(costMinor, shop)}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
    </>
  );
}
