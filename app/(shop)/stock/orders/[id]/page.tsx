import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { may } from "@/lib/access";
import {
  formatDate,
  formatDay,
  idFrom,
  load,
  localInputValue,
  requireActor,
  shopSettings,
} from "@/lib/server";
import { seePurchaseOrder, stockOverview } from "@/lib/services";
import { Badge, Empty, Facts, LinkButton, moneyText, Page, Section, TextLink } from "@/app/ui";
import { itemChoiceText } from "../../item-choice";
import { ORDER_STATE_TONE, ORDER_STATE_WORDS, supplierWords } from "../words";
import { DraftForms } from "./draft-forms";
import { LinesTable } from "./lines-table";
import { OpenForms } from "./open-forms";
import { ReopenForm } from "./step-forms";

export const metadata: Metadata = { title: "Order" };

type Props = { readonly params: Promise<{ id: string }> };

export default async function OrderPage({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const id = idFrom((await params).id);
  const now = new Date();
  const order = await load(() => seePurchaseOrder(actor, id));
  const changes = may(actor, "keep-stock");
  const money = may(actor, "see-money");
  const total = order.lines.reduce((sum, line) => sum + (line.expectedMinor ?? 0), 0);
  return (
    <Page
      title={`Order ${order.number}`}
      kicker={<TextLink href="/stock/orders">To buy</TextLink>}
      actions={
        <>
          <LinkButton href={`/stock/orders/${id}/pdf`} download>
            Print (PDF)
          </LinkButton>
          <LinkButton href={`/stock/orders/${id}/csv`} download>
            Table (CSV)
          </LinkButton>
        </>
      }
    >
      <p className="flex flex-wrap items-center gap-3">
        <span className="text-2xl font-semibold first-letter:uppercase">
          {supplierWords(order.supplierName)}
        </span>
        <Badge tone={ORDER_STATE_TONE[order.state]}>{ORDER_STATE_WORDS[order.state]}</Badge>
      </p>
      <Facts
        facts={[
          { label: "Begun", value: `${formatDate(order.createdAt, shop)}, ${order.createdBy}` },
          { label: "Ordered", value: order.orderedAt && formatDate(order.orderedAt, shop) },
          { label: "Expected", value: order.expectedOn && formatDay(order.expectedOn, shop) },
          { label: "Closed", value: order.closedAt && formatDate(order.closedAt, shop) },
          { label: "Expected price", value: money && total > 0 ? moneyText(total, shop) : null },
          { label: "Note to the supplier", value: order.note },
        ]}
      />
      <Section title="What is on it" id="lines">
        {order.lines.length === 0 ? (
          <Empty>Nothing is on this list.</Empty>
        ) : (
          <LinesTable lines={order.lines} shop={shop} money={money} />
        )}
      </Section>
      {changes && order.state === "DRAFT" ? (
        <DraftForms
          order={order}
          shop={shop}
          money={money}
          now={localInputValue(now, shop.timeZone)}
          choices={await load(() => choicesFor(actor, order, now))}
        />
      ) : null}
      {changes && order.state === "ORDERED" ? (
        <OpenForms
          order={order}
          shop={shop}
          money={money}
          now={localInputValue(now, shop.timeZone)}
          idempotencyKey={randomUUID()}
        />
      ) : null}
      {changes && order.state === "CANCELLED" ? <ReopenForm orderId={id} /> : null}
    </Page>
  );
}

type Actor = Awaited<ReturnType<typeof requireActor>>;
type Order = Awaited<ReturnType<typeof seePurchaseOrder>>;

/** Items that may be added: those of this supplier first. */
async function choicesFor(actor: Actor, order: Order, now: Date) {
  const listed = new Set(order.lines.map(({ itemId }) => itemId));
  const own = order.supplierName.trim().toLowerCase();
  const { items } = await stockOverview(actor, now);
  return items
    .map(({ item }) => item)
    .filter(({ id }) => !listed.has(id))
    .map((item) => ({ item, isOwn: item.supplierName.trim().toLowerCase() === own }))
    .sort((a, b) => Number(b.isOwn) - Number(a.isOwn) || a.item.name.localeCompare(b.item.name))
    .map(({ item }) => ({
      value: itemChoiceText({ itemId: item.id, unit: item.unit }),
      label: item.name,
    }));
}
