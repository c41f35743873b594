"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input, shopSettings } from "@/lib/server";
import { addSupplier, changeSupplier } from "@/lib/services";
import { minorOrNull } from "../typed-delivery";

const SupplierForm = z.object({
  name: input.text("a name"),
  email: input.optionalEmail,
  phone: input.optionalText(60),
  note: input.optionalText(500),
  leadDays: input.optionalNumberFrom(0, 730, "days"),
  /** missing from the forms of people who may not see money */
  orderCost: z.string().trim().max(40).default(""),
});

async function supplierFrom({ orderCost, ...supplier }: z.output<typeof SupplierForm>) {
  const { currency } = await shopSettings();
  return { ...supplier, orderCostMinor: minorOrNull(orderCost, currency, "orderCost") };
}

export const addSupplierAction = formAction(SupplierForm, async (actor, form) => {
  const id = await addSupplier(actor, await supplierFrom(form), new Date());
  revalidatePath("/stock/suppliers");
  redirect(`/stock/suppliers/${id}`);
});

export const changeSupplierAction = formAction(
  SupplierForm.extend({ supplierId: input.id }),
  async (actor, { supplierId, ...form }) => {
    await changeSupplier(actor, supplierId, await supplierFrom(form), new Date());
    revalidatePath(`/stock/suppliers/${supplierId}`);
  },
);
