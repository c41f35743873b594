"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { addCustomer, changeCustomer } from "@/lib/services";

const CustomerForm = z.object({
  name: input.text("a name"),
  email: input.optionalEmail,
  phone: input.optionalText(60),
  address: input.optionalText(400),
  notes: input.optionalText(4000),
  taxCode: input.optionalText(40),
});

export const addCustomerAction = formAction(CustomerForm, async (actor, customer) => {
  redirect(`/customers/${await addCustomer(actor, customer, new Date())}`);
});

export const changeCustomerAction = formAction(
  CustomerForm.extend({ id: input.id }),
  async (actor, { id, ...customer }) => {
    await changeCustomer(actor, id, customer, new Date());
    revalidatePath(`/customers/${id}`);
  },
);
