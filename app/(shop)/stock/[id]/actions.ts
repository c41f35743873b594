"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input, shopSettings } from "@/lib/server";
import { correctEntry, USE_KINDS, takeByHand } from "@/lib/services";
import { STOCK_UNITS } from "@/lib/stock";
import { UNIT_SYSTEMS } from "@/lib/units";
import { minorFrom } from "../typed-delivery";
import { quantityFrom } from "../typed-quantity";
import { expiredWords } from "../words";

const counted = { unit: z.enum(STOCK_UNITS), units: z.enum(UNIT_SYSTEMS) };

/** "run 6f9c…", or nothing for the shop itself. */
const usedFor = z.string().transform((chosen, context) => {
  if (chosen === "") return null;
  const [kind, id = ""] = chosen.split(" ");
  const known = USE_KINDS.find((each) => each === kind);
  if (known && input.id.safeParse(id).success) return { kind: known, id };
  context.addIssue({ code: "custom", message: "Choose what it was for." });
  return z.NEVER;
});

const TakeForm = z.object({
  itemId: input.id,
  ...counted,
  quantity: input.text("how much", 40),
  usedFor,
  note: input.optionalText(500),
  idempotencyKey: z.uuid().optional(),
});

export const takeAction = formAction(TakeForm, async (actor, { unit, units, ...use }) => {
  const quantity = quantityFrom(use.quantity, unit, units, "quantity");
  const { expiredDays } = await takeByHand(actor, { ...use, quantity }, new Date());
  revalidatePath(`/stock/${use.itemId}`);
  return { message: `Taken out.${expiredDays === null ? "" : ` ${expiredWords(expiredDays)}`}` };
});

const CorrectForm = z.object({
  entryId: input.id,
  ...counted,
  reason: input.text("what was wrong", 500),
  quantity: input.optionalText(40),
  cost: input.optionalText(40),
});

/** Nothing typed as the right amount means that the line should not be there at all. */
export const correctAction = formAction(CorrectForm, async (actor, { unit, units, ...form }) => {
  const { currency } = await shopSettings();
  const right =
    form.quantity === ""
      ? null
      : {
          quantity: quantityFrom(form.quantity, unit, units, "quantity"),
          costMinor: form.cost === "" ? null : minorFrom(form.cost, currency, "cost"),
        };
  const { entryId, reason } = form;
  const { itemId } = await correctEntry(actor, { entryId, reason, right }, new Date());
  revalidatePath(`/stock/${itemId}`);
  redirect(`/stock/${itemId}#ledger`);
});
