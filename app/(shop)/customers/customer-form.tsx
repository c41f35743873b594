import { Form, type FormAction, SelectField, Submit, TextArea, TextField } from "@/app/ui";

export type CustomerValues = {
  readonly id?: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly notes: string;
  readonly taxCode: string;
};

type Props = {
  readonly action: FormAction;
  readonly customer?: CustomerValues;
  /** ways of taxing to choose from, the usual one first */
  readonly taxes: readonly { readonly code: string; readonly label: string }[];
};

export function CustomerForm({ action, customer, taxes }: Props) {
  const [usual, ...others] = taxes;
  return (
    <Form action={action} label="Customer">
      {customer?.id ? <input type="hidden" name="id" value={customer.id} /> : null}
      <CustomerFields {...(customer ? { customer } : {})} />
      {others.length > 0 ? (
        <SelectField
          name="taxCode"
          label="How this customer is taxed"
          options={[
            { value: "", label: `as usual: ${usual?.label ?? ""}` },
            ...others.map(({ code, label }) => ({ value: code, label })),
          ]}
          defaultValue={customer?.taxCode ?? ""}
          hint="New quotes start from it; each quote can still be taxed otherwise."
        />
      ) : null}
      <TextArea name="notes" label="Notes" defaultValue={customer?.notes ?? ""} />
      <Submit>{customer ? "Save" : "Add the customer"}</Submit>
    </Form>
  );
}

type FieldsProps = { readonly customer?: Partial<CustomerValues> };

/** Also part of taking a job in. */
export function CustomerFields({ customer }: FieldsProps) {
  return (
    <div className="grid gap-4 sm:grid-cols-2">
      <TextField name="name" label="Name" defaultValue={customer?.name ?? ""} required />
      <TextField name="phone" label="Telephone" type="tel" defaultValue={customer?.phone ?? ""} />
      <TextField name="email" label="E-mail" type="email" defaultValue={customer?.email ?? ""} />
      <TextField name="address" label="Address" defaultValue={customer?.address ?? ""} />
    </div>
  );
}
