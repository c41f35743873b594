import type { StockUnit } from "@/lib/stock";
import type { UnitSystem } from "@/lib/units";
import {
  Form,
  type FormAction,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextField,
} from "@/app/ui";
import { MASS_KINDS } from "./quantity";
import { QuantityField } from "./quantity-field";
import { kindChoice, KIND_OPTIONS, MASS_OF_ONE_HINT, SALT_OPTIONS, unitOptions } from "./words";

type ItemValues = {
  readonly name: string;
  readonly kind: string;
  readonly category: string;
  readonly saltGrade: string | null;
  readonly unit: StockUnit;
  readonly gramsPerUnit: number | null;
  readonly packName: string;
  readonly packQuantity: number | null;
  readonly reorderPoint: number;
  readonly reorderQuantity: number;
  readonly supplierName: string;
  readonly place: string;
};

const EMPTY: ItemValues = {
  name: "",
  kind: "CONSUMABLE",
  category: "",
  saltGrade: null,
  unit: "EACH",
  gramsPerUnit: null,
  packName: "",
  packQuantity: null,
  reorderPoint: 0,
  reorderQuantity: 0,
  supplierName: "",
  place: "",
};

type Props = {
  readonly action: FormAction;
  readonly submit: string;
  readonly units: UnitSystem;
  /** An item that is there already; its unit is settled. */
  readonly item?: (ItemValues & { readonly id: string }) | undefined;
};

/** What is said about a thing in stock. */
export function ItemForm({ action, submit, units, item }: Props) {
  const values = item ?? EMPTY;
  return (
    <Form action={action} label={submit}>
      {item ? <input type="hidden" name="itemId" value={item.id} /> : null}
      {item ? <input type="hidden" name="unit" value={item.unit} /> : null}
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField name="name" label="Name" defaultValue={values.name} required />
        <SelectField
          name="kind"
          label="What it is"
          options={KIND_OPTIONS}
          defaultValue={kindChoice(values)}
          required
        />
        {item ? null : (
          <SelectField
            name="unit"
            label="Counted in"
            options={unitOptions(units)}
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
        <MassOfOne item={item} units={units} />
        <TextField
          name="packName"
          label="Bought in"
          defaultValue={values.packName}
          hint="What one of them is called: sack, bar, box. Empty where it is bought by the unit."
        />
        <PackHolds item={item} />
        <Amount item={item} name="reorderPoint" label="Order when this is left" />
        <Amount item={item} name="reorderQuantity" label="Usual order" />
        <TextField name="supplierName" label="Bought from" defaultValue={values.supplierName} />
        <TextField name="place" label="Where it is kept" defaultValue={values.place} />
      </div>
      <Submit>{submit}</Submit>
    </Form>
  );
}

/** Of a length of steel, or of a piece. What a new item is counted in is still open. */
function MassOfOne({ item, units }: Pick<Props, "item" | "units">) {
  const kind = item ? MASS_KINDS[item.unit] : null;
  const field = {
    name: "gramsPerUnit",
    label: "Mass of one unit",
    hint: MASS_OF_ONE_HINT[units],
  };
  if (kind) return <MeasureField {...field} kind={kind} value={item?.gramsPerUnit} />;
  const unit = units === "METRIC" || item ? { unit: "g" } : {};
  return <NumberField {...field} {...unit} defaultValue={item?.gramsPerUnit ?? ""} />;
}

/** What one sack, bar or box is, in what the item is counted in. */
function PackHolds({ item }: Pick<Props, "item">) {
  const field = {
    name: "packQuantity",
    label: "One of them holds",
    hint: "Deliveries and counts can then be typed in them.",
  };
  const value = item?.packQuantity ?? null;
  if (!item) return <NumberField {...field} />;
  return <QuantityField {...field} unit={item.unit} {...(value === null ? {} : { value })} />;
}

type AmountProps = Pick<Props, "item"> & {
  readonly name: "reorderPoint" | "reorderQuantity";
  readonly label: string;
};

function Amount({ item, name, label }: AmountProps) {
  if (!item) return <NumberField name={name} label={label} defaultValue={0} required />;
  return <QuantityField name={name} label={label} unit={item.unit} value={item[name]} required />;
}
