import { Form, NumberField, Submit } from "@/app/ui";
import { changeWorkAction } from "./actions";

type WorkFormProps = {
  readonly shop: { readonly hands: number; readonly bathLifeAhPerL: number };
};

/** What bookings are held to beside the opening hours. */
export function WorkForm({ shop }: WorkFormProps) {
  return (
    <Form action={changeWorkAction} label="Hands and baths">
      <div className="grid gap-4 sm:grid-cols-2">
        <NumberField
          name="hands"
          label="People at the bench at once"
          unit="people"
          defaultValue={shop.hands}
          hint="Each of them loads, pulls or finishes one load at a time."
          required
        />
        <NumberField
          name="bathLifeAhPerL"
          label="A bath is spent after"
          unit="A·h per litre"
          defaultValue={shop.bathLifeAhPerL}
          hint="No load is booked into a spent bath. 20 is an assumption: yours may last longer if you strain it."
          required
        />
      </div>
      <Submit>Save hands and baths</Submit>
    </Form>
  );
}
