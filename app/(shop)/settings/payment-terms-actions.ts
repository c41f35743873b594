"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { changeShop } from "@/lib/services";

const PaymentTermsForm = z.object({
  taxNumber: input.optionalText(60),
  paymentDays: input.numberFrom(0, 365, "days").transform(Math.round),
  paymentTerms: input.optionalText(2000),
  bankDetails: input.optionalText(1000),
});

/** When and how statements are to be paid, from the next one on: those that were written stay as they are. */
export const changePaymentTermsAction = formAction(PaymentTermsForm, async (actor, terms) => {
  await changeShop(actor, terms, new Date());
  revalidatePath("/", "layout");
});
