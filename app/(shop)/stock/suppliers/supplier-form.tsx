import type { ShopSettings } from "@/lib/server";
import type { seeSupplier } from "@/lib/services";
import { Form, type FormAction, NumberField, Submit, TextArea, TextField } from "@/app/ui";
import { typedMoney } from "../orders/words";

type Supplier = Awaited<ReturnType<typeof seeSupplier>>["supplier"];

type Props = {
  readonly action: FormAction;
  readonly submit: string;
  readonly shop: ShopSettings;
  readonly money: boolean;
  readonly supplier?: Supplier;
  /** a name that items have already */
  readonly name?: string;
};

/** What the shop knows of a supplier. */
export function SupplierForm({ action, submit, shop, money, supplier, name = "" }: Props) {
  return (
    <Form action={action} label={submit}>
      {supplier ? <input type="hidden" name="supplierId" value={supplier.id} /> : null}
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField
          name="name"
          label="Name"
          hint="As items name it under “bought from”."
          defaultValue={supplier?.name ?? name}
          required
        />
        <NumberField
          name="leadDays"
          label="Says it takes"
          unit="days"
          hint="From ordering to having it. Deliveries move it."
          defaultValue={supplier?.leadDays ?? undefined}
        />
        <TextField name="email" label="E-mail" type="email" defaultValue={supplier?.email ?? ""} />
        <TextField name="phone" label="Telephone" type="tel" defaultValue={supplier?.phone ?? ""} />
        {money ? (
          <NumberField
            name="orderCost"
            label="Cost of one order"
            unit={shop.currency}
            hint="Besides the goods: carriage, the time at the desk."
            defaultValue={typedMoney(supplier?.orderCostMinor ?? null, shop.currency)}
          />
        ) : null}
      </div>
      <TextArea
        name="note"
        label="Customer number and terms"
        hint="Printed on lists, under its name."
        defaultValue={supplier?.note ?? ""}
      />
      <Submit>{submit}</Submit>
    </Form>
  );
}
