import type { Metadata } from "next";
import { may } from "@/lib/access";
import { load, pageWindow, requireActor, shopSettings } from "@/lib/server";
import { pastOrders, type SupplierNeeds, whatToBuy } from "@/lib/services";
import { Empty, LinkButton, Notice, Page, Pager, Section, TextLink } from "@/app/ui";
import { OrdersTable } from "./orders-table";
import { SLOTS } from "./slots";
import { ToBuyForm } from "./to-buy-form";
import { countWords } from "./words";

export const metadata: Metadata = { title: "To buy" };

type Props = { readonly searchParams: Promise<{ page?: string | string[] }> };

export default async function OrdersPage({ searchParams }: Props) {
  const actor = await requireActor();
  const [shop, { page: asked }] = await Promise.all([shopSettings(), searchParams]);
  const window = pageWindow(asked);
  const now = new Date();
  const [view, past] = await load(() =>
    Promise.all([whatToBuy(actor, now), pastOrders(actor, window)]),
  );
  const due = view.toBuy.reduce((sum, { needs }) => sum + needs.length, 0);
  const live = [...view.drafts, ...view.open];
  return (
    <Page
      title="To buy"
      kicker={<TextLink href="/stock">Stock</TextLink>}
      actions={<LinkButton href="/stock/suppliers">Suppliers</LinkButton>}
    >
      <Section title="What to buy now" id="now">
        {due === 0 ? (
          <Empty>
            Nothing is due that is not on a list. What comes to its reorder point stands here.
          </Empty>
        ) : (
          <ToBuyForm
            groups={firstOf(view.toBuy)}
            units={shop.unitSystem}
            changes={may(actor, "keep-stock")}
          />
        )}
        {due > SLOTS ? (
          <Notice tone="brass" title={`${countWords(due - SLOTS, "item")} more`}>
            They stand here once these are on their lists.
          </Notice>
        ) : null}
      </Section>
      <Section title="Lists and open orders" id="open">
        {live.length === 0 ? (
          <Empty>No list is begun, and nothing is on its way.</Empty>
        ) : (
          <OrdersTable
            caption="Drafts and open orders"
            orders={live}
            shop={shop}
            money={view.seesMoney}
          />
        )}
      </Section>
      <Section title="Done and cancelled" id="past">
        {past.total === 0 ? (
          <Empty>No order has been taken in yet.</Empty>
        ) : (
          <OrdersTable
            caption="Orders that are done or cancelled, the newest first"
            orders={past.orders}
            shop={shop}
            money={view.seesMoney}
          />
        )}
        <Pager
          page={window.page}
          pages={Math.ceil(past.total / window.take)}
          href={(page) => `/stock/orders?page=${page}#past`}
        />
      </Section>
    </Page>
  );
}

/** As many as the form has rows, whole suppliers or parts of them. */
function firstOf(groups: readonly SupplierNeeds[]): readonly SupplierNeeds[] {
  let left = SLOTS;
  return groups.flatMap((group) => {
    const needs = group.needs.slice(0, left);
    left -= needs.length;
    return needs.length === 0 ? [] : [{ ...group, needs }];
  });
}
