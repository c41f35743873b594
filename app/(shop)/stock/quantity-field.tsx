import { type StockUnit, UNIT_SIGNS } from "@/lib/stock";
import { type FieldProps, MeasureField, NumberField } from "@/app/ui";
import { QUANTITY_KINDS } from "./quantity";

type Props = FieldProps & {
  readonly unit: StockUnit;
  /** in the item's unit */
  readonly value?: number;
};

/** An amount of one item, by weight, volume, length or number. */
export function QuantityField({ unit, value, ...field }: Props) {
  const kind = QUANTITY_KINDS[unit];
  if (kind) return <MeasureField {...field} kind={kind} value={value} />;
  return <NumberField {...field} unit={UNIT_SIGNS[unit]} defaultValue={value} />;
}
