import type { ShopSettings } from "@/lib/server";
import type { seePurchaseOrder } from "@/lib/services";
import { Form, NumberField, Section, SelectField, Submit, TextArea, TextField } from "@/app/ui";
import { itemChoiceText } from "../../item-choice";
import { QuantityField } from "../../quantity-field";
import {
  addLineAction,
  changeLineAction,
  noteAction,
  orderedAction,
  removeLineAction,
} from "../actions";
import { typedMoney } from "../words";
import type { OrderLine } from "./lines-table";
import { CancelForm } from "./step-forms";

type Order = Awaited<ReturnType<typeof seePurchaseOrder>>;
type Props = {
  readonly order: Order;
  readonly shop: ShopSettings;
  readonly money: boolean;
  /** the present, as a datetime-local field takes it */
  readonly now: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
};

/** Everything that can be done with a list that is not ordered yet. */
export function DraftForms(props: Props) {
  const { order, choices } = props;
  return (
    <>
      {order.lines.length > 0 ? (
        <Section title="Change what is on it" id="change">
          <ul className="space-y-3">
            {order.lines.map((line) => (
              <LineForms key={line.id} line={line} {...props} />
            ))}
          </ul>
        </Section>
      ) : null}
      {choices.length > 0 ? (
        <Section title="Put something else on it" id="add" plate>
          <AddForm {...props} />
        </Section>
      ) : null}
      <Section title="Ordered?" id="ordered" plate>
        <OrderedForm {...props} />
      </Section>
      <Section title="Note to the supplier" id="note" plate>
        <Form action={noteAction} label="Note to the supplier">
          <input type="hidden" name="orderId" value={order.id} />
          <TextArea name="note" label="Printed under the list" defaultValue={order.note} />
          <Submit kind="plain">Save the note</Submit>
        </Form>
      </Section>
      <CancelForm orderId={order.id} />
    </>
  );
}

function LineForms({ line, order, shop, money }: Props & { readonly line: OrderLine }) {
  return (
    <li className="plate grid items-end gap-x-6 gap-y-2 p-4 sm:grid-cols-[1fr_auto]">
      <Form action={changeLineAction} label={`Change ${line.itemName}`}>
        <input type="hidden" name="orderId" value={order.id} />
        <input type="hidden" name="lineId" value={line.id} />
        <input
          type="hidden"
          name="item"
          value={itemChoiceText({ itemId: line.itemId, unit: line.unit })}
        />
        <div className="grid items-end gap-4 sm:grid-cols-3">
          <QuantityField
            name="quantity"
            label={`How much ${line.itemName}`}
            unit={line.unit}
            value={line.quantity}
            required
          />
          {money ? (
            <NumberField
              name="price"
              label="Price expected for all of it"
              unit={shop.currency}
              defaultValue={typedMoney(line.expectedMinor, shop.currency)}
            />
          ) : null}
          <Submit kind="plain">Save {line.itemName}</Submit>
        </div>
      </Form>
      <Form action={removeLineAction} label={`Take ${line.itemName} off`}>
        <input type="hidden" name="orderId" value={order.id} />
        <input type="hidden" name="lineId" value={line.id} />
        <Submit kind="plain">Take {line.itemName} off</Submit>
      </Form>
    </li>
  );
}

function AddForm({ order, choices }: Props) {
  return (
    <Form action={addLineAction} label="Put something else on it" clearWhenDone>
      <input type="hidden" name="supplierName" value={order.supplierName} />
      <p className="text-sm text-zinc">
        A bare number counts in the unit of the item; one with a unit, such as 25 kg, as it says.
      </p>
      <div className="grid items-end gap-4 sm:grid-cols-3">
        <SelectField
          name="item"
          label="What"
          options={[{ value: "", label: "choose an item" }, ...choices]}
          required
        />
        <NumberField name="quantity" label="How much" keyboard="text" required />
        <Submit kind="plain">Put it on the list</Submit>
      </div>
    </Form>
  );
}

function OrderedForm({ order, now }: Props) {
  return (
    <Form action={orderedAction} label="Mark as ordered">
      <input type="hidden" name="orderId" value={order.id} />
      <p className="prose">
        Send the list in your own way: print it, or read it out. What is written here as ordered
        counts as on its way, and how long it takes is learned from it.
      </p>
      <div className="grid items-end gap-4 sm:grid-cols-3">
        <TextField
          name="orderedAt"
          label="Ordered when"
          type="datetime-local"
          defaultValue={now}
          required
        />
        <TextField name="expectedOn" label="Expected on" type="date" />
        <Submit>It is ordered</Submit>
      </div>
    </Form>
  );
}
