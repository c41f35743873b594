"use client";

import { enteredUnit, fieldText, kindFacts, type MeasureKind, roughFieldText } from "@/lib/units";
import { type FieldProps, NumberField } from "./fields";
import { useFormUnits } from "./form";

type MeasureFieldProps = FieldProps & {
  readonly kind: MeasureKind;
  /** What the field starts from, in the kind's stored unit. */
  readonly value?: number | null | undefined;
  /** `value` is worked out and only rounded into the field; a stored one stays exactly itself. */
  readonly rough?: boolean;
  /** Bench fields are larger. */
  readonly large?: boolean;
};

/** Kinds whose amounts are told in fractions or in two units at once, for which a keyboard of digits is too small. */
const IN_FRACTIONS: readonly MeasureKind[] = [
  "length",
  "thickness",
  "distance",
  "section",
  "volume",
  "steelMass",
  "partMass",
];

/**
 * An amount in the shop's units, though either system's may be typed beside the number: "12.5 cm", "1 1/2 in".
 * The form sends along which system it was shown in.
 */
export function MeasureField({ kind, value, rough, ...field }: MeasureFieldProps) {
  const units = useFormUnits();
  const other = kindFacts(kind)[units].examples.split(", ").at(-1);
  const text =
    rough && typeof value === "number"
      ? roughFieldText(kind, value, units)
      : fieldText(kind, value, units);
  return (
    <NumberField
      {...field}
      unit={enteredUnit(kind, units).sign}
      defaultValue={text}
      placeholder={other ? `or ${other}` : undefined}
      keyboard={units === "US" && IN_FRACTIONS.includes(kind) ? "text" : "decimal"}
    />
  );
}

/** Says once above several fields what may be typed in them. */
export function UnitsHint({ kind }: { readonly kind: MeasureKind }) {
  const units = useFormUnits();
  const { entered, examples } = kindFacts(kind)[units];
  return (
    <p className="text-sm text-zinc">
      Numbers count as {entered}; {examples} do as well.
    </p>
  );
}
