import type { UsePlace } from "@/lib/services";
import type { StockUnit } from "@/lib/stock";
import { Form, Notice, SelectField, Submit, TextField } from "@/app/ui";
import { QuantityField } from "../quantity-field";
import { takeAction } from "./actions";

type Props = {
  readonly itemId: string;
  readonly unit: StockUnit;
  readonly places: readonly UsePlace[];
  readonly expired: boolean;
  /** Soda, whose baths keep books of their own. */
  readonly salt: boolean;
  readonly keys: { readonly take: string };
};

/** Stock taken from the shelf, and what for. */
export function TakeForm({ itemId, unit, places, expired, salt, keys }: Props) {
  const options = [
    { value: "", label: "the shop itself" },
    ...places.map(({ kind, id, name }) => ({ value: `${kind} ${id}`, label: name })),
  ];
  return (
    <Form action={takeAction} label="Take from stock" clearWhenDone>
      {expired ? (
        <Notice tone="oxide" title="Some of it has expired">
          What expires first is drawn first. Write off what is bad before you take from the rest.
        </Notice>
      ) : null}
      <input type="hidden" name="itemId" value={itemId} />
      <input type="hidden" name="unit" value={unit} />
      <input type="hidden" name="idempotencyKey" value={keys.take} />
      <QuantityField name="quantity" label="How much" unit={unit} required />
      <SelectField
        name="usedFor"
        label="What for"
        options={options}
        hint={
          salt
            ? "The cost goes there. What goes into a bath is topped up on the tank's page, which keeps the books of the bath too."
            : "The cost goes there. For a load of several jobs it is shared by charge."
        }
        required
      />
      <TextField name="note" label="Note" hint="Needed where it was for the shop itself." />
      <Submit>Take it out</Submit>
    </Form>
  );
}
