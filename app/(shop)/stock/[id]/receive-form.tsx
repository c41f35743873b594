import type { Pack, StockUnit } from "@/lib/stock";
import { Form, NumberField, Submit, TextField } from "@/app/ui";
import { QuantityField } from "../quantity-field";
import { receiveAction } from "../actions";

type Props = {
  readonly itemId: string;
  readonly unit: StockUnit;
  readonly pack: Pack | null;
  readonly perishable: boolean;
  readonly currency: string;
  readonly supplierName: string;
  /** The present, as a datetime-local field takes it. */
  readonly now: string;
  readonly keys: { readonly receive: string };
};

/** A delivery, in packs or in what the item is counted in. */
export function ReceiveForm(props: Props) {
  const { itemId, unit, pack, perishable, currency, supplierName, now, keys } = props;
  return (
    <Form action={receiveAction} label="Receive a delivery" clearWhenDone>
      <input type="hidden" name="itemId" value={itemId} />
      <input type="hidden" name="unit" value={unit} />
      <input type="hidden" name="idempotencyKey" value={keys.receive} />
      <div className="grid gap-4 sm:grid-cols-2">
        {pack ? <PackFields pack={pack} currency={currency} /> : null}
        <QuantityField
          name="quantity"
          label={pack ? "Or how much in all" : "How much came"}
          unit={unit}
          required={!pack}
        />
        <NumberField
          name="cost"
          label={pack ? "Or what it cost in all" : "What it cost in all"}
          unit={currency}
          hint="Without tax that you get back."
          required={!pack}
        />
        <TextField
          name="receivedAt"
          label="When"
          type="datetime-local"
          defaultValue={now}
          required
        />
        {perishable ? <TextField name="expiresOn" label="Last good day" type="date" /> : null}
        <TextField name="supplierName" label="From" defaultValue={supplierName} />
        <TextField name="place" label="Put where" />
      </div>
      <Submit>Put it in stock</Submit>
    </Form>
  );
}

function PackFields({ pack, currency }: { readonly pack: Pack; readonly currency: string }) {
  return (
    <>
      {/* What a pack held when this form was shown: a change of the item meanwhile misreads nothing. */}
      <input type="hidden" name="packHolds" value={pack.quantity} />
      <NumberField
        name="packs"
        label={`How many came: ${pack.name}`}
        hint="A broken one counts as a part, such as 2.5."
      />
      <NumberField name="packPrice" label={`Price of one ${pack.name}`} unit={currency} />
    </>
  );
}
