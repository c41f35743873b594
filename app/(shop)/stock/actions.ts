"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { SALT_GRADES } from "@/lib/electrolysis";
import { Refusal } from "@/lib/errors";
import { parseMoney } from "@/lib/money";
import { instantOf } from "@/lib/scheduling";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  addItem,
  bringBackItem,
  changeItem,
  countStock,
  receiveLot,
  retireItem,
  returnStock,
  spoilStock,
} from "@/lib/services";
import { STOCK_UNITS } from "@/lib/stock";

const KINDS = ["SALT", "ANODE_STEEL", "EPOXY", "CONSUMABLE", "PROTECTION"] as const;
/** The most that a ledger column of three decimals holds with room to spare. */
const MOST = 1_000_000_000;
const quantity = input.numberFrom(0, MOST, "");
const optionalId = z
  .union([z.literal(""), input.id])
  .transform((id) => (id === "" ? undefined : id));
const key = z.uuid().optional();

const ItemFields = {
  name: input.text("a name"),
  kind: z.enum(KINDS, { error: "Choose what it is." }),
  saltGrade: z.union([z.literal(""), z.enum(SALT_GRADES)]).transform((grade) => grade || null),
  gramsPerUnit: input.optionalNumberFrom(0, MOST, "g"),
  reorderPoint: quantity,
  reorderQuantity: quantity,
  supplierName: input.optionalText(200),
  place: input.optionalText(200),
};

const NewItemForm = z.object({
  ...ItemFields,
  unit: z.enum(STOCK_UNITS, { error: "Choose what it is counted in." }),
});

export const addItemAction = formAction(NewItemForm, async (actor, item) => {
  const id = await addItem(actor, item, new Date());
  revalidatePath("/stock");
  redirect(`/stock/${id}`);
});

export const changeItemAction = formAction(
  z.object({ ...ItemFields, itemId: input.id }),
  async (actor, { itemId, ...item }) => {
    await changeItem(actor, itemId, item, new Date());
    revalidatePath("/stock");
    redirect(`/stock/${itemId}`);
  },
);

export const retireItemAction = formAction(
  z.object({ itemId: input.id }),
  async (actor, { itemId }) => {
    await retireItem(actor, itemId, new Date());
    revalidatePath(`/stock/${itemId}`);
    return { message: "Taken off the list." };
  },
);

export const bringBackItemAction = formAction(
  z.object({ itemId: input.id }),
  async (actor, { itemId }) => {
    await bringBackItem(actor, itemId, new Date());
    revalidatePath(`/stock/${itemId}`);
    return { message: "Back on the list." };
  },
);

const DeliveryForm = z.object({
  itemId: input.id,
  quantity,
  cost: z.string().trim(),
  receivedAt: z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/, "Choose a day and a time."),
  supplierName: input.optionalText(200),
  expiresOn: input.optionalDay,
  place: input.optionalText(200),
  idempotencyKey: key,
});

export const receiveAction = formAction(DeliveryForm, async (actor, form) => {
  const { cost, receivedAt, ...delivery } = form;
  const { currency, timeZone } = await shopSettings();
  const costMinor = minorFrom(cost, currency);
  const at = new Date(instantOf(receivedAt, timeZone));
  await receiveLot(actor, { ...delivery, costMinor, receivedAt: at }, new Date());
  revalidatePath(`/stock/${form.itemId}`);
  return { message: "The delivery is in stock." };
});

const CountForm = z.object({
  itemId: input.id,
  lotId: optionalId,
  counted: quantity,
  note: input.optionalText(500),
});

export const countAction = formAction(CountForm, async (actor, count) => {
  const difference = await countStock(actor, count, new Date());
  revalidatePath(`/stock/${count.itemId}`);
  if (difference === 0) return { message: "It agrees with the ledger; nothing had to be written." };
  const words = difference > 0 ? "more than" : "less than";
  return { message: `Written: ${Math.abs(difference)} ${words} the ledger said.` };
});

const TakeForm = z.object({
  itemId: input.id,
  lotId: optionalId,
  quantity,
  note: input.text("what happened", 500),
  idempotencyKey: key,
});

export const spoilAction = formAction(TakeForm, async (actor, spoilage) => {
  await spoilStock(actor, spoilage, new Date());
  revalidatePath(`/stock/${spoilage.itemId}`);
  return { message: "Written off." };
});

const ReturnForm = z.object({
  itemId: input.id,
  lotId: input.id,
  quantity,
  note: input.optionalText(500),
});

export const returnAction = formAction(ReturnForm, async (actor, given) => {
  await returnStock(actor, given, new Date());
  revalidatePath(`/stock/${given.itemId}`);
  return { message: "Back on the shelf." };
});

function minorFrom(typed: string, currency: string): number {
  try {
    return parseMoney(typed, currency).minor;
  } catch {
    throw new Refusal("invalid", "Please look at the marked fields.", {
      cost: `Enter an amount in ${currency}, such as 12.50.`,
    });
  }
}
