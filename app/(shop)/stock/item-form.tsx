import { type StockUnit, UNIT_SIGNS } from "@/lib/stock";
import { Form, type FormAction, NumberField, SelectField, Submit, TextField } from "@/app/ui";
import { KIND_OPTIONS, SALT_OPTIONS, UNIT_OPTIONS } from "./words";

type ItemValues = {
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

const EMPTY: ItemValues = {
  name: "",
  kind: "CONSUMABLE",
  saltGrade: null,
  unit: "EACH",
  gramsPerUnit: null,
  reorderPoint: 0,
  reorderQuantity: 0,
  supplierName: "",
  place: "",
};

type Props = {
  readonly action: FormAction;
  readonly submit: string;
  /** An item that is there already; its unit is settled. */
  readonly item?: ItemValues & { readonly id: string };
};

/** What is said about a thing in stock. */
export function ItemForm({ action, submit, item }: Props) {
  const values = item ?? EMPTY;
  const unit = item ? { unit: UNIT_SIGNS[item.unit] } : {};
  return (
    <Form action={action} label={submit}>
      {item ? <input type="hidden" name="itemId" value={item.id} /> : null}
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField name="name" label="Name" defaultValue={values.name} required />
        <SelectField
          name="kind"
          label="What it is"
          options={KIND_OPTIONS}
          defaultValue={values.kind}
          required
        />
        {item ? null : (
          <SelectField
            name="unit"
            label="Counted in"
            options={UNIT_OPTIONS}
            defaultValue={values.unit}
            hint="Cannot be changed later: the ledger is counted in it."
            required
          />
        )}
        <SelectField
          name="saltGrade"
          label="Which soda"
          options={SALT_OPTIONS}
          defaultValue={values.saltGrade ?? ""}
          hint="For soda only: baths are worked out from it."
        />
        <NumberField
          name="gramsPerUnit"
          label="Mass of one unit"
          unit="g"
          defaultValue={values.gramsPerUnit ?? ""}
          hint="For anode steel: grams in one millimetre or piece of it."
        />
        <NumberField
          name="reorderPoint"
          label="Order when this is left"
          {...unit}
          defaultValue={values.reorderPoint}
          required
        />
        <NumberField
          name="reorderQuantity"
          label="Usual order"
          {...unit}
          defaultValue={values.reorderQuantity}
          required
        />
        <TextField name="supplierName" label="Bought from" defaultValue={values.supplierName} />
        <TextField name="place" label="Where it is kept" defaultValue={values.place} />
      </div>
      <Submit>{submit}</Submit>
    </Form>
  );
}
