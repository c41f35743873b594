import type { ShopSettings } from "@/lib/server";
import type { seePurchaseOrder } from "@/lib/services";
import { roundQuantity } from "@/lib/stock";
import { Form, moneyText, Notice, NumberField, Section, Submit, TextField } from "@/app/ui";
import { itemChoiceText } from "../../item-choice";
import { exactQuantity } from "../../quantity";
import { QuantityField } from "../../quantity-field";
import { receiveAction } from "../actions";
import { slot, SLOTS } from "../slots";
import { countWords } from "../words";
import type { OrderLine } from "./lines-table";
import { CancelForm, CloseForm, TakeBackForm } from "./step-forms";

type Props = {
  readonly order: Awaited<ReturnType<typeof seePurchaseOrder>>;
  readonly shop: ShopSettings;
  readonly money: boolean;
  /** the present, as a datetime-local field takes it */
  readonly now: string;
  /** one a rendering: a repeated tap takes it in once */
  readonly idempotencyKey: string;
};

const missingOf = ({ quantity, received }: OrderLine): number =>
  roundQuantity(Math.max(0, quantity - received));

/** Everything that can be done with an order on its way: take in what came, or end it. */
export function OpenForms(props: Props) {
  const { order } = props;
  // What is still to come stands first; what has come may still have more to it.
  const lines = [...order.lines]
    .sort((a, b) => Number(missingOf(a) === 0) - Number(missingOf(b) === 0))
    .slice(0, SLOTS);
  const hasCome = order.lines.some(({ received }) => received > 0);
  const more = order.lines.length - lines.length;
  return (
    <>
      <Section title="What came?" id="came">
        <Form action={receiveAction} label="Take in what came" clearWhenDone>
          <input type="hidden" name="orderId" value={order.id} />
          <input type="hidden" name="idempotencyKey" value={props.idempotencyKey} />
          <TextField
            name="receivedAt"
            label="When it came"
            type="datetime-local"
            defaultValue={props.now}
            className="max-w-sm"
            required
          />
          <p className="text-sm text-zinc">Leave empty what did not come; the rest may follow.</p>
          <ul className="space-y-3">
            {lines.map((line, index) => (
              <LineFields key={line.id} line={line} index={index} {...props} />
            ))}
          </ul>
          {more > 0 ? (
            <Notice tone="brass" title={`${countWords(more, "item")} more`}>
              They stand here once these are taken in.
            </Notice>
          ) : null}
          <Submit>Put it in stock</Submit>
        </Form>
      </Section>
      <Section title="Or else" id="else">
        <div className="space-y-3">
          {hasCome ? (
            <CloseForm orderId={order.id} />
          ) : (
            <>
              <TakeBackForm orderId={order.id} />
              <CancelForm orderId={order.id} />
            </>
          )}
        </div>
      </Section>
    </>
  );
}

function LineFields({
  line,
  index,
  shop,
  money,
}: Props & { readonly line: OrderLine; readonly index: number }) {
  const missing = missingOf(line);
  const amount = (quantity: number): string => exactQuantity(quantity, line.unit, shop.unitSystem);
  return (
    <li>
      <fieldset className="plate p-4">
        <legend className="float-left mb-2 w-full font-semibold">
          {line.itemName}{" "}
          <span className="font-normal text-zinc">
            {missing > 0
              ? `${amount(missing)} of ${amount(line.quantity)} to come`
              : `all ${amount(line.quantity)} came`}
          </span>
        </legend>
        <input type="hidden" name={slot("line", index)} value={line.id} />
        <input type="hidden" name={slot("before", index)} value={line.received} />
        <input
          type="hidden"
          name={slot("item", index)}
          value={itemChoiceText({ itemId: line.itemId, unit: line.unit })}
        />
        <div className="clear-both grid gap-4 sm:grid-cols-2 lg:grid-cols-4">
          <QuantityField
            name={slot("came", index)}
            label="How much came"
            unit={line.unit}
            {...(missing > 0 ? { value: missing } : {})}
          />
          <NumberField
            name={slot("cost", index)}
            label="What it cost in all"
            unit={shop.currency}
            hint={costHint(line, shop, money)}
          />
          {line.perishable ? (
            <TextField name={slot("expiresOn", index)} label="Last good day" type="date" />
          ) : null}
          <TextField name={slot("place", index)} label="Put where" defaultValue={line.place} />
        </div>
      </fieldset>
    </li>
  );
}

/** What an empty cost means: the price expected, by the share that came. */
function costHint({ expectedMinor }: OrderLine, shop: ShopSettings, money: boolean): string {
  const tax = "Without tax that you get back.";
  if (!money) return `${tax} Left empty, the price expected is taken.`;
  if (expectedMinor === null) return `${tax} No price was expected.`;
  return `${tax} Left empty, its share of the ${moneyText(expectedMinor, shop)} expected is taken.`;
}
