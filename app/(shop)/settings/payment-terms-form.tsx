import { Form, NumberField, Submit, TextArea, TextField } from "@/app/ui";
import { changePaymentTermsAction } from "./payment-terms-actions";

type Props = {
  readonly shop: {
    readonly taxNumber: string;
    readonly paymentDays: number;
    readonly paymentTerms: string;
    readonly bankDetails: string;
  };
};

/** What stands on statements beside what was done. */
export function PaymentTermsForm({ shop }: Props) {
  return (
    <Form action={changePaymentTermsAction} label="Being paid">
      <p className="max-w-prose">
        Rules of tax and of statements differ from place to place: check with your adviser what must
        stand on yours, and how it is to be kept.
      </p>
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField
          name="taxNumber"
          label="Tax number"
          defaultValue={shop.taxNumber}
          hint="As it must stand on statements."
        />
        <NumberField
          name="paymentDays"
          label="A statement is due after"
          unit="days"
          defaultValue={shop.paymentDays}
          required
        />
        <TextArea
          name="paymentTerms"
          label="Terms printed on statements"
          defaultValue={shop.paymentTerms}
        />
        <TextArea name="bankDetails" label="Where to pay" defaultValue={shop.bankDetails} />
      </div>
      <Submit>Save how you are paid</Submit>
    </Form>
  );
}
