import { Form, type FormAction, Submit, TextArea, TextField } from "@/app/ui";

export type CustomerValues = {
  readonly id?: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly notes: string;
};

type Props = { readonly action: FormAction; readonly customer?: CustomerValues };

export function CustomerForm({ action, customer }: Props) {
  return (
    <Form action={action} label="Customer">
      {customer?.id ? <input type="hidden" name="id" value={customer.id} /> : null}
      <CustomerFields {...(customer ? { customer } : {})} />
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
