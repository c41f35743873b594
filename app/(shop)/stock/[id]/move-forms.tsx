import type { ReactNode } from "react";
import type { UsePlace } from "@/lib/services";
import type { Pack, StockUnit } from "@/lib/stock";
import { Form, SelectField, Submit, TextField } from "@/app/ui";
import { QuantityField } from "../quantity-field";
import { countAction, returnAction, spoilAction } from "../actions";
import { ReceiveForm } from "./receive-form";
import { TakeForm } from "./take-form";

export type LotOption = { readonly value: string; readonly label: string };

type Props = {
  readonly itemId: string;
  readonly unit: StockUnit;
  /** What it is bought in; null where it is bought by the unit. */
  readonly pack: Pack | null;
  /** Asks for a last good day. */
  readonly perishable: boolean;
  readonly currency: string;
  readonly supplierName: string;
  /** The present, as a datetime-local field takes it. */
  readonly now: string;
  /** One a form and rendering: a repeated tap writes once. */
  readonly keys: { readonly take: string; readonly receive: string; readonly spoil: string };
  /** What it can be taken for. */
  readonly places: readonly UsePlace[];
  /** Some of what is on hand is past its last good day. */
  readonly expired: boolean;
  /** Soda, whose baths keep books of their own. */
  readonly salt: boolean;
  readonly held: readonly LotOption[];
  readonly drawn: readonly LotOption[];
};

/** What happens to stock besides being used in the course of a run. */
export function MoveForms(props: Props) {
  return (
    <div className="grid items-start gap-3 lg:grid-cols-2">
      {props.held.length > 0 ? (
        <Move title="I took some">
          <TakeForm {...props} />
        </Move>
      ) : null}
      <Move title="A delivery came">
        <ReceiveForm {...props} />
      </Move>
      {props.held.length > 0 ? (
        <>
          <Move title="I counted it">
            <CountForm {...props} />
          </Move>
          <Move title="Some of it spoiled">
            <SpoilForm {...props} />
          </Move>
        </>
      ) : null}
      {props.drawn.length > 0 ? (
        <Move title="Some came back unused">
          <ReturnForm {...props} />
        </Move>
      ) : null}
    </div>
  );
}

function Move({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <details className="plate">
      <summary className="flex min-h-14 items-center px-4 font-semibold">{title}</summary>
      <div className="border-t border-line p-4">{children}</div>
    </details>
  );
}

const ALL_LOTS: LotOption = { value: "", label: "all of it, in turn" };

function CountForm({ itemId, unit, held }: Props) {
  return (
    <Form action={countAction} label="Enter a count" clearWhenDone>
      <input type="hidden" name="itemId" value={itemId} />
      <input type="hidden" name="unit" value={unit} />
      <SelectField name="lotId" label="What was counted" options={[ALL_LOTS, ...held]} required />
      <QuantityField name="counted" label="Found" unit={unit} required />
      <TextField name="note" label="Note" />
      <Submit>Write the count</Submit>
    </Form>
  );
}

function SpoilForm({ itemId, unit, held, keys }: Props) {
  return (
    <Form action={spoilAction} label="Write off what spoiled" clearWhenDone>
      <input type="hidden" name="itemId" value={itemId} />
      <input type="hidden" name="unit" value={unit} />
      <input type="hidden" name="idempotencyKey" value={keys.spoil} />
      <SelectField name="lotId" label="Of which delivery" options={[ALL_LOTS, ...held]} required />
      <QuantityField name="quantity" label="How much" unit={unit} required />
      <TextField name="note" label="What happened" required />
      <Submit kind="danger">Write it off</Submit>
    </Form>
  );
}

function ReturnForm({ itemId, unit, drawn }: Props) {
  return (
    <Form action={returnAction} label="Bring back unused stock" clearWhenDone>
      <input type="hidden" name="itemId" value={itemId} />
      <input type="hidden" name="unit" value={unit} />
      <SelectField name="lotId" label="From which delivery" options={drawn} required />
      <QuantityField name="quantity" label="How much" unit={unit} required />
      <TextField name="note" label="Note" />
      <Submit>Put it back</Submit>
    </Form>
  );
}
