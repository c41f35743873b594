import type { Metadata } from "next";
import {
  formatDate,
  formatDay,
  formatWhen,
  load,
  pageWindow,
  requireActorWith,
  type ShopSettings,
  shopSettings,
} from "@/lib/server";
import { type CountRow, countSheet, stockCounts } from "@/lib/services";
import {
  type Column,
  Empty,
  LinkButton,
  Page,
  Pager,
  Section,
  signedMoneyText,
  Table,
  TextLink,
} from "@/app/ui";
import { exactQuantity } from "../quantity";
import { CountSheet } from "./count-sheet";
import { differenceWords } from "./count-words";
import type { SheetPlace, SheetRow } from "./sheet-rows";

export const metadata: Metadata = { title: "Count the shelves" };

type Props = { readonly searchParams: Promise<{ page?: string | string[] }> };

export default async function CountPage({ searchParams }: Props) {
  const actor = await load(() => requireActorWith("keep-stock"));
  const [shop, asked] = await Promise.all([shopSettings(), searchParams]);
  const { page } = pageWindow(asked.page);
  const [places, counts] = await load(() =>
    Promise.all([countSheet(actor), stockCounts(actor, page)]),
  );
  const { currency, locale } = shop;
  return (
    <Page title="Count the shelves" kicker={<TextLink href="/stock">Stock</TextLink>} narrow>
      {places.length === 0 ? (
        <Empty action={<LinkButton href="/stock">To the stock list</LinkButton>}>
          Nothing was ever delivered. Enter what you have as deliveries first, so that it has a
          cost.
        </Empty>
      ) : (
        <CountSheet
          personId={actor.personId}
          places={places.map(({ place, rows }): SheetPlace => ({
            place,
            rows: rows.map((row) => asSheetRow(row, shop)),
          }))}
          customs={{ currency, locale }}
        />
      )}
      <Section title="Counted of late" id="counts">
        {counts.total === 0 ? (
          <Empty>Nobody has counted anything yet.</Empty>
        ) : (
          <Table
            caption="Counts, newest first"
            rows={counts.rows}
            rowKey={({ id }) => id}
            columns={columnsFor(shop)}
          />
        )}
        <Pager
          page={counts.page}
          pages={counts.pages}
          href={(number) => `/stock/count?page=${number}#counts`}
        />
      </Section>
    </Page>
  );
}

function asSheetRow({ lot, ...row }: CountRow, shop: ShopSettings): SheetRow {
  if (!lot) return { ...row, lotWords: "" };
  const came = `came ${formatDate(lot.receivedAt, shop)}`;
  const good = lot.expiresOn ? `, good until ${formatDay(lot.expiresOn, shop)}` : ", keeps";
  return { ...row, lotWords: `${came}${good}` };
}

type Line = Awaited<ReturnType<typeof stockCounts>>["rows"][number];

function columnsFor(shop: ShopSettings): readonly Column<Line>[] {
  return [
    {
      head: "When",
      cell: ({ at, enteredBy }) => (
        <>
          <span className="whitespace-nowrap">{formatWhen(at, shop)}</span>
          <span className="block text-sm text-zinc">{enteredBy}</span>
        </>
      ),
    },
    {
      head: "What",
      cell: ({ itemId, itemName, ofOneLot, note }) => (
        <>
          <TextLink href={`/stock/${itemId}`}>{itemName}</TextLink>
          <span className="block text-sm text-zinc">
            {[ofOneLot ? "one delivery" : "", note].filter(Boolean).join(": ")}
          </span>
        </>
      ),
    },
    {
      head: "Found",
      numeric: true,
      cell: ({ counted, expected, unit, costMinor }) => (
        <>
          <span className="font-medium whitespace-nowrap">
            {exactQuantity(counted, unit, shop.unitSystem)}
          </span>
          <span className="block text-sm text-zinc">
            {differenceWords(difference(counted, expected), unit, shop.unitSystem)}
            {costMinor === null || counted === expected
              ? null
              : `, ${signedMoneyText(costMinor, shop)}`}
          </span>
        </>
      ),
    },
  ];
}

/** To a thousandth, as both are counted. */
const difference = (counted: number, expected: number): number =>
  Math.round((counted - expected) * 1000) / 1000;
