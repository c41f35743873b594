import type { EpoxyPage } from "@/lib/services";
import { Form, MeasureField, NumberField, Submit } from "@/app/ui";
import { describeEpoxyAction } from "./actions";

type Props = { readonly itemId: string; readonly sheet: EpoxyPage["sheet"] };

/** What the maker's sheet says, copied once. */
export function SheetForm({ itemId, sheet }: Props) {
  return (
    <Form action={describeEpoxyAction} label="Copy the maker's sheet">
      <input type="hidden" name="itemId" value={itemId} />
      <div className="grid gap-4 sm:grid-cols-2 lg:grid-cols-3">
        <NumberField
          name="hardenerPer100ByMass"
          label="Hardener to 100 g of resin"
          unit="g"
          defaultValue={sheet?.hardenerPer100ByMass ?? ""}
          hint="By mass."
        />
        <NumberField
          name="hardenerPer100ByVolume"
          label="Hardener to 100 mL of resin"
          unit="mL"
          defaultValue={sheet?.hardenerPer100ByVolume ?? ""}
          hint="By volume: another number where the parts differ in density."
        />
        <NumberField
          name="densityGPerMl"
          label="Density of the mix"
          unit="g/mL"
          defaultValue={sheet?.densityGPerMl ?? ""}
        />
        <NumberField
          name="potLifeMin"
          label="Pot life"
          unit="min"
          defaultValue={sheet?.potLifeMin ?? ""}
          required
        />
        <NumberField
          name="cureHours"
          label="Set and safe under water after"
          unit="h"
          defaultValue={sheet?.cureHours ?? ""}
          required
        />
        <MeasureField
          name="referenceC"
          label="Both at"
          kind="temperature"
          value={sheet?.referenceC ?? 20}
          required
        />
        <MeasureField
          name="leastCureC"
          label="Does not set below"
          kind="temperature"
          value={sheet?.leastCureC ?? 10}
          required
        />
        <NumberField
          name="shelfLifeDays"
          label="Keeps"
          unit="days"
          defaultValue={sheet?.shelfLifeDays ?? ""}
          hint="For deliveries that carry no day of their own."
        />
      </div>
      <Submit>Write it down</Submit>
    </Form>
  );
}
