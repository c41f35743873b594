import type { SupplyView } from "@/lib/services";
import { Form, type FormAction, NumberField, SelectField, Submit, TextField } from "@/app/ui";

type SupplyFormProps = {
  readonly action: FormAction;
  /** null for a new one */
  readonly supply: SupplyView | null;
  readonly submit: string;
};

/** A supply's nameplate and what a meter says of it. Starting figures are usual ones (common practice). */
export function SupplyForm({ action, supply, submit }: SupplyFormProps) {
  return (
    <Form action={action} label="Supply" className="space-y-5">
      {supply ? <input type="hidden" name="supplyId" value={supply.id} /> : null}
      <TextField name="name" label="Name" defaultValue={supply?.name ?? ""} required />
      <SelectField
        name="kind"
        label="Kind"
        options={[
          { value: "CHARGER", label: "battery charger, plain: its voltage sags with current" },
          { value: "BENCH", label: "bench supply: holds its voltage, then its current" },
          { value: "BATTERY", label: "battery, not on charge" },
        ]}
        defaultValue={supply?.kind}
        required
      />
      <SelectField
        name="overCurrent"
        label="A charger asked for more than its rating"
        options={[
          { value: "SAGS", label: "gives what it can, and overheats in time" },
          { value: "HOLDS", label: "holds its rated current" },
          { value: "TRIPS", label: "switches itself off" },
        ]}
        defaultValue={supply?.overCurrent ?? "SAGS"}
        hint="A bench supply always holds; a battery always gives."
        required
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <NumberField
          name="openVoltageV"
          label="Voltage without load"
          unit="V"
          hint="What a bench supply is set to."
          defaultValue={supply?.openVoltageV ?? 13.8}
          required
        />
        <NumberField
          name="innerResistanceOhm"
          label="Resistance inside"
          unit="Ω"
          hint="Volts it sags for each ampere; 0 for a bench supply."
          defaultValue={supply?.innerResistanceOhm ?? 0.15}
          required
        />
        <NumberField
          name="ratedCurrentA"
          label="Rated current"
          unit="A"
          hint="The current limit of a bench supply."
          defaultValue={supply?.ratedCurrentA ?? 10}
          required
        />
        <NumberField
          name="dutyPercent"
          label="Of it all day"
          unit="%"
          hint="80 % is usual (common practice): an old charger overheats at its nameplate."
          defaultValue={Math.round((supply?.dutyFactor ?? 0.8) * 100)}
          required
        />
        <NumberField
          name="capacityAh"
          label="Capacity"
          unit="A·h"
          hint="Batteries only."
          defaultValue={supply?.capacityAh ?? ""}
        />
        <NumberField
          name="efficiencyPercent"
          label="Efficiency"
          unit="%"
          hint="Watts out for watts from the wall."
          defaultValue={Math.round((supply?.efficiency ?? 0.75) * 100)}
          required
        />
      </div>
      <Submit>{submit}</Submit>
    </Form>
  );
}
