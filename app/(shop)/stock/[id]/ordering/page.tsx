import type { Metadata } from "next";
import { may } from "@/lib/access";
import { formatDate, idFrom, load, requireActor, shopSettings } from "@/lib/server";
import { type ItemOrderingView, seeOrdering } from "@/lib/services";
import { type DemandPattern, ORDER_REASON_WORDS } from "@/lib/stock";
import {
  Badge,
  Facts,
  Figure,
  Figures,
  Form,
  formatNumber,
  moneyText,
  Notice,
  Page,
  Section,
  Submit,
  TextLink,
} from "@/app/ui";
import { itemChoiceText } from "../../item-choice";
import { listItemAction } from "../../orders/actions";
import { REASON_TONE } from "../../orders/words";
import { exactQuantity, shownQuantity } from "../../quantity";
import { QuantityField } from "../../quantity-field";
import { DemandChart } from "./demand-chart";
import { PolicyForm } from "./policy-form";

export const metadata: Metadata = { title: "Ordering" };

type Props = { readonly params: Promise<{ id: string }> };

const PATTERN_WORDS: Readonly<Record<DemandPattern, string>> = {
  NONE: "not at all",
  SMOOTH: "on most days, about as much",
  INTERMITTENT: "seldom, about as much each time",
  ERRATIC: "on most days, very unevenly",
  LUMPY: "seldom, and very unevenly",
};

const DAY_MS = 86_400_000;

export default async function OrderingPage({ params }: Props) {
  const actor = await requireActor();
  const shop = await shopSettings();
  const itemId = idFrom((await params).id);
  const now = new Date();
  const view = await load(() => seeOrdering(actor, itemId, now));
  const { item, advice, demand } = view;
  const amount = (quantity: number): string => shownQuantity(quantity, item.unit, shop.unitSystem);
  return (
    <Page
      title={`Ordering of ${item.name}`}
      kicker={<TextLink href={`/stock/${item.id}`}>{item.name}</TextLink>}
    >
      <p className="flex flex-wrap items-center gap-3 text-lg">
        <span>
          Order at <b>{amount(view.reorderPoint)}</b>, {howFound(view)}.
        </span>
        {advice.reason ? (
          <Badge tone={REASON_TONE[advice.reason]}>{ORDER_REASON_WORDS[advice.reason]}</Badge>
        ) : null}
        <span>{nextOrderWords(view, now, shop)}</span>
      </p>
      <Wasted view={view} shop={shop} />
      <Facts
        facts={[
          { label: "On hand", value: amount(view.onHand) },
          { label: "On its way", value: view.onOrder > 0 ? amount(view.onOrder) : "nothing" },
          { label: "Used", value: PATTERN_WORDS[demand.pattern] },
          { label: "The most in a day", value: amount(demand.mostADay) },
          { label: "Days known", value: formatNumber(demand.days) },
          { label: "Bought from", value: item.supplierName },
          {
            label: "Bought in packs of",
            value:
              item.packQuantity === null
                ? null
                : exactQuantity(item.packQuantity, item.unit, shop.unitSystem),
          },
          {
            label: "On lists",
            value:
              view.open.length === 0
                ? null
                : view.open.map(({ orderId, number }, index) => (
                    <span key={orderId}>
                      {index > 0 ? ", " : ""}
                      <TextLink href={`/stock/orders/${orderId}`}>{`order ${number}`}</TextLink>
                    </span>
                  )),
          },
        ]}
      />
      {may(actor, "keep-stock") ? (
        <Form action={listItemAction} label="Put it on the list of its supplier">
          <input
            type="hidden"
            name="item"
            value={itemChoiceText({ itemId: item.id, unit: item.unit })}
          />
          <div className="flex flex-wrap items-end gap-4">
            <QuantityField
              name="quantity"
              label="How much to buy"
              unit={item.unit}
              {...(usualOf(view) > 0 ? { value: usualOf(view) } : {})}
              required
            />
            <Submit kind="plain">Put it on the list</Submit>
          </div>
        </Form>
      ) : null}
      <Section title="Use" id="use">
        <DemandChart view={view} shop={shop} />
      </Section>
      <Section title="How it is worked out" id="working">
        <Figures>
          <Figure worked={advice.position} />
          <Figure worked={view.lead.worked} />
          {view.workedPoint ? <Figure worked={view.workedPoint} /> : null}
          {view.economic ? <Figure worked={view.economic.worked} /> : null}
        </Figures>
        <p className="mt-3 text-zinc">{workingWords(view, shop)}</p>
      </Section>
      {may(actor, "keep-stock") ? (
        <Section title="How it is ordered" id="policy" plate>
          <PolicyForm view={view} shop={shop} />
        </Section>
      ) : null}
    </Page>
  );
}

type Shop = Awaited<ReturnType<typeof shopSettings>>;

const usualOf = ({ advice, economic, policy, item }: ItemOrderingView): number => {
  if (advice.quantity > 0) return advice.quantity;
  return (policy.mode === "WORKED_OUT" ? economic?.quantity : undefined) ?? item.reorderQuantity;
};

function howFound({ policy, workedPoint }: ItemOrderingView): string {
  if (policy.mode === "BY_HAND") return "set by hand";
  return workedPoint === null
    ? "set by hand: too little is known to work it out"
    : "worked out from use and deliveries";
}

function nextOrderWords({ advice }: ItemOrderingView, now: Date, shop: Shop): string {
  if (advice.reason !== null) return "Due now.";
  if (advice.daysToOrder === null) return "Not used of late: no next order is in sight.";
  const at = new Date(now.getTime() + advice.daysToOrder * DAY_MS);
  if (advice.daysToOrder > 730) return "The next order is more than two years off.";
  return `At the mean use the next order is due about ${formatDate(at, shop)}.`;
}

function Wasted({ view, shop }: { readonly view: ItemOrderingView; readonly shop: Shop }) {
  const { wasted } = view.advice;
  if (wasted.length === 0) return null;
  return (
    <Notice tone="brass" title="Some of it goes off before it is used">
      <ul>
        {wasted.map(({ id, quantity, daysLeft }) => (
          <li key={id}>
            {exactQuantity(quantity, view.item.unit, shop.unitSystem)}{" "}
            {daysLeft < 0 ? "is past its last good day" : `within ${daysLeft + 1} days`}
          </li>
        ))}
      </ul>
      At the mean use, with what goes off first used first.
    </Notice>
  );
}

function workingWords(view: ItemOrderingView, shop: Shop): string {
  const point = view.workedPoint
    ? ""
    : "A reorder point is worked out once four weeks of use are known. ";
  const { economic, item } = view;
  if (!view.seesMoney) return point;
  if (!economic) {
    return `${point}The order that costs least is worked out once what an order costs, what keeping it costs, and its use are known.`;
  }
  const amount = shownQuantity(economic.quantity, item.unit, shop.unitSystem);
  const limit = economic.limitedByShelfLife ? ", no more than is used while it is good" : "";
  return `${point}To buy: ${amount} at a time${limit}; ${formatNumber(Number(economic.ordersPerYear.toFixed(1)))} orders a year, ${moneyText(economic.yearlyMinor, shop)} a year for ordering and keeping.`;
}
