import type { OptionWish } from "@/lib/services";
import { CheckField, NumberField, SelectField, TextField } from "@/app/ui";

/** One option in the form: what was asked for, or what could be. */
export type OptionRow = OptionWish & { readonly offered: boolean };

const GOALS = [
  { value: "AS_PLANNED", label: "As each part is planned" },
  { value: "RUST_ONLY", label: "Rust only" },
  { value: "STRIP_TO_METAL", label: "Stripped to metal" },
] as const;

type Props = { readonly number: string; readonly row: OptionRow };

/** One way of doing the job: whether it is offered, its name, what is done, rush and discount. */
export function OptionFields({ number, row }: Props) {
  const label = row.name === "" ? "One more way" : row.name;
  return (
    <fieldset className="plate min-w-0 p-4">
      <legend className="px-1 font-medium">Option {Number(number) + 1}</legend>
      <CheckField
        name={`offer${number}`}
        label={
          <>
            Offer it: <strong>{label}</strong>
          </>
        }
        defaultChecked={row.offered}
      />
      <div className="mt-2 grid gap-3 sm:grid-cols-2">
        <TextField name={`name${number}`} label="Name" defaultValue={row.name} />
        <SelectField
          name={`goal${number}`}
          label="What is done"
          options={GOALS}
          defaultValue={row.goal ?? "AS_PLANNED"}
          required
        />
        <NumberField
          name={`discount${number}`}
          label="Discount"
          unit="%"
          defaultValue={row.discountPercent}
          hint="Empty: what the size of the job earns."
        />
        <CheckField
          name={`rush${number}`}
          label="Rush: goes first, at the rush rate"
          defaultChecked={row.rush}
          className="self-center"
        />
      </div>
    </fieldset>
  );
}
