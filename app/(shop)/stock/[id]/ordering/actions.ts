"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { minorDigits } from "@/lib/money";
import { formAction, input, shopSettings } from "@/lib/server";
import { setPolicy } from "@/lib/services";
import { plainNumber } from "@/lib/units";
import { minorOrNull } from "../../typed-delivery";

const PolicyForm = z.object({
  itemId: input.id,
  mode: z.enum(["BY_HAND", "WORKED_OUT"], { error: "Choose how the reorder point is found." }),
  servicePercent: input.numberFrom(50, 99.9, "%"),
  // Missing from the forms of people who may not see money.
  holdingPercent: input.optionalNumberFrom(0, 1000, "%"),
  holding: z.string().trim().max(40).default(""),
  orderCost: z.string().trim().max(40).default(""),
});

export const setPolicyAction = formAction(PolicyForm, async (actor, form) => {
  const { currency } = await shopSettings();
  const { itemId, mode, holdingPercent } = form;
  const policy = {
    itemId,
    mode,
    serviceLevel: form.servicePercent / 100,
    holdingPercent,
    holdingMinor: form.holding === "" ? null : fineMinor(form.holding, currency),
    orderCostMinor: minorOrNull(form.orderCost, currency, "orderCost"),
  };
  await setPolicy(actor, policy, new Date());
  revalidatePath(`/stock/${itemId}/ordering`);
});

/** Keeping one gram costs less than the smallest coin: any fraction of the currency does. */
function fineMinor(typed: string, currency: string): number {
  const amount = plainNumber(typed);
  if (Number.isFinite(amount) && amount >= 0) return amount * 10 ** minorDigits(currency);
  const why = `Enter an amount in ${currency}, such as 0.002, or nothing.`;
  throw new Refusal("invalid", why, { holding: why });
}
