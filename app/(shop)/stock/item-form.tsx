import { Form, NumberField, SelectField, Submit, TextField } from "@/app/ui";
import type { FormAction } from "@/app/ui";
import { UNIT_SIGNS, type StockUnit } from "@/lib/stock";
import { KIND_OPTIONS, SALT_OPTIONS, UNIT_OPTIONS } from "./words";

type ItemValues = {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly saltGrade: string | null;
  readonly unit: StockUnit;
  readonly gramsPerUnit: number | null;
  readonly reorderPoint: number;
  readonly reorderQuantity: number;
  readonly supplierName: string;
  readonly place: string;
};

type Props = {
  readonly action: FormAction;
  readonly submit: string;
  /** An item that is there already; its unit is settled. */
  readonly item?: ItemValues;
};

/** What is said about a thing in stock. */
export function ItemForm({ action, submit, item }: Props) {
  const unit = item ? UNIT_SIGNS[item.unit] : "";
  return (
    <Form action={action} label={submit}>
      {item ? <input type="hidden" name="itemId" value={item.id} /> : null}
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField name="name" label="Name" defaultValue={item?.name ?? ""} required />
        <SelectField
          name="kind"
          label="What it is"
          options={KIND_OPTIONS}
          defaultValue={item?.kind ?? "CONSUMABLE"}
          required
        />
        {item ? null : (
          <SelectField
            name="unit"
            label="Counted in"
            options={UNIT_OPTIONS}
            defaultValue="EACH"
            hint="Cannot be changed later: the ledger is counted in it."
            required
          />
        )}
        <SelectField
          name="saltGrade"
          label="Which soda"
          options={SALT_OPTIONS}
          defaultValue={item?.saltGrade ?? ""}
          hint="For soda only: baths are worked out from it."
        />
        <NumberField
          name="gramsPerUnit"
          label="Mass of one unit"
          unit="g"
          defaultValue={item?.gramsPerUnit ?? ""}
          hint="For anode steel: grams in one millimetre or piece of it."
        />
        <NumberField
          name="reorderPoint"
          label="Order when this is left"
          {...(unit && { unit })}
          defaultValue={item?.reorderPoint ?? 0}
          required
        />
        <NumberField
          name="reorderQuantity"
          label="Usual order"
          {...(unit && { unit })}
          defaultValue={item?.reorderQuantity ?? 0}
          required
        />
        <TextField
          name="supplierName"
          label="Bought from"
          defaultValue={item?.supplierName ?? ""}
        />
        <TextField name="place" label="Where it is kept" defaultValue={item?.place ?? ""} />
      </div>
      <Submit>{submit}</Submit>
    </Form>
  );
}
