import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { may } from "@/lib/access";
import {
  formatWhen,
  idFrom,
  load,
  localInputValue,
  pageWindow,
  requireActor,
  shopSettings,
} from "@/lib/server";
import { stockItemPage, placesInHand } from "@/lib/services";
import { packOf, packsText, STOCK_STATE_WORDS, type StockUnit } from "@/lib/stock";
import {
  Badge,
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
  TextLink,
} from "@/app/ui";
import { exactQuantity, shownQuantity } from "../quantity";
import { itemWords, STATE_TONE } from "../words";
import { LedgerTable } from "./ledger-table";
import { LotTable } from "./lot-table";
import { MoreAbout } from "./more-about";
import { type LotOption, MoveForms } from "./move-forms";

export const metadata: Metadata = { title: "Item" };

type Props = {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<{ page?: string | string[] }>;
};

export default async function ItemPage({ params, searchParams }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const itemId = idFrom((await params).id);
  const window = pageWindow((await searchParams).page);
  const now = new Date();
  const view = await load(() => stockItemPage(actor, itemId, window, now));
  const { item, onHand, advice, lots, ledger, valueMinor } = view;
  const keeps = may(actor, "keep-stock");
  const places = keeps ? await placesInHand(actor, now) : [];
  const pack = packOf(item);
  const held = lots.filter((lot) => lot.onHand > 0);
  return (
    <Page
      title={item.name}
      kicker={<TextLink href="/stock">Stock</TextLink>}
      actions={
        <>
          <LinkButton href={`/stock/${item.id}/ordering`}>Ordering</LinkButton>
          {keeps ? <LinkButton href={`/stock/${item.id}/edit`}>Change</LinkButton> : null}
        </>
      }
    >
      {item.retiredAt ? (
        <Notice tone="zinc" title="Off the list">
          It is kept for its ledger. A delivery puts it back.
        </Notice>
      ) : null}
      <p className="flex flex-wrap items-center gap-3">
        <span className="text-4xl font-bold">
          {shownQuantity(onHand, item.unit, shop.unitSystem)}
        </span>
        {pack && onHand > 0 ? <span className="text-zinc">{packsText(onHand, pack)}</span> : null}
        <Badge tone={STATE_TONE[advice.state]}>{STOCK_STATE_WORDS[advice.state]}</Badge>
        {advice.order > 0 ? (
          <span>Order {shownQuantity(advice.order, item.unit, shop.unitSystem)}.</span>
        ) : null}
      </p>
      <MoreAbout item={item} />
      <Figures>
        {advice.cover ? <Figure worked={advice.cover} label="Lasts at the use of late" /> : null}
        <Figure worked={advice.usage} />
      </Figures>
      <Facts
        facts={[
          { label: "What it is", value: itemWords(item) },
          { label: "Kept at", value: item.place },
          {
            label: "Bought in",
            value:
              pack && `${pack.name} of ${shownQuantity(pack.quantity, item.unit, shop.unitSystem)}`,
          },
          { label: "Bought from", value: item.supplierName },
          {
            label: "Last counted",
            value: view.lastCount && `${formatWhen(view.lastCount.at, shop)}, ${view.lastCount.by}`,
          },
          {
            label: "Order at",
            value: exactQuantity(item.reorderPoint, item.unit, shop.unitSystem),
          },
          {
            label: "Value at cost, first in first out",
            value: valueMinor === null ? null : moneyText(valueMinor, shop),
          },
          {
            label: "Value at average cost, to compare",
            value: view.averageMinor === null ? null : moneyText(view.averageMinor, shop),
          },
        ]}
      />
      {keeps ? (
        <Section title="What happened?" id="move">
          <MoveForms
            itemId={item.id}
            unit={item.unit}
            pack={pack}
            salt={item.kind === "SALT"}
            perishable={item.kind === "EPOXY"}
            currency={shop.currency}
            supplierName={item.supplierName}
            now={localInputValue(now, shop.timeZone)}
            keys={{ take: randomUUID(), receive: randomUUID(), spoil: randomUUID() }}
            places={places}
            expired={view.expiryDays !== null && view.expiryDays < 0}
            held={held.map((lot) => lotOption(lot, item.unit, shop))}
            drawn={lots
              .filter((lot) => lot.taken > 0)
              .map((lot) => lotOption(lot, item.unit, shop))}
          />
        </Section>
      ) : null}
      <Section title="Deliveries" id="lots">
        {lots.length === 0 ? (
          <Empty>None has come in yet.</Empty>
        ) : (
          <LotTable lots={lots} unit={item.unit} shop={shop} money={valueMinor !== null} />
        )}
      </Section>
      <Section title="Ledger" id="ledger">
        {ledger.total === 0 ? (
          <Empty>Nothing has come in or gone out yet.</Empty>
        ) : (
          <LedgerTable
            itemId={item.id}
            lines={ledger.lines}
            shop={shop}
            money={valueMinor !== null}
            keeps={keeps}
          />
        )}
        <Pager
          page={window.page}
          pages={Math.ceil(ledger.total / window.take)}
          href={(page) => `/stock/${item.id}?page=${page}#ledger`}
        />
      </Section>
    </Page>
  );
}

type Shop = Awaited<ReturnType<typeof shopSettings>>;
type Lot = Awaited<ReturnType<typeof stockItemPage>>["lots"][number];

function lotOption(lot: Lot, unit: StockUnit, shop: Shop): LotOption {
  const day = new Intl.DateTimeFormat(shop.locale, {
    timeZone: shop.timeZone,
    dateStyle: "medium",
  }).format(lot.receivedAt);
  return {
    value: lot.id,
    label: `${day}: ${exactQuantity(lot.onHand, unit, shop.unitSystem)} left`,
  };
}
