"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { SALT_GRADES } from "@/lib/electrolysis";
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
import { UNIT_SYSTEMS } from "@/lib/units";
import { exactQuantity } from "./quantity";
import { deliveryFrom, typedDelivery } from "./typed-delivery";
import { massOfOne, quantityFrom } from "./typed-quantity";

const KINDS = ["SALT", "ANODE_STEEL", "EPOXY", "CONSUMABLE", "PROTECTION"] as const;
const isKind = (code: string | undefined): code is (typeof KINDS)[number] =>
  KINDS.some((kind) => kind === code);
/** A kind with what it is more exactly after a stroke: "CONSUMABLE/WOOL". */
const kindAndCategory = z.string().transform((chosen, context) => {
  const [kind, category = ""] = chosen.split("/");
  if (isKind(kind)) return { kind, category };
  context.addIssue({ code: "custom", message: "Choose what it is." });
  return z.NEVER;
});
/** An amount as typed: what it is in the item's unit follows in the action (see `quantityFrom`). */
const quantity = input.text("how much", 40);
/** What the item is counted in, and the units of the form. */
const counted = {
  unit: z.enum(STOCK_UNITS, { error: "Choose what it is counted in." }),
  units: z.enum(UNIT_SYSTEMS),
};
const optionalId = z
  .union([z.literal(""), input.id])
  .transform((id) => (id === "" ? undefined : id));
const key = z.uuid().optional();

const ItemFields = {
  name: input.text("a name"),
  kind: kindAndCategory,
  saltGrade: z.union([z.literal(""), z.enum(SALT_GRADES)]).transform((grade) => grade || null),
  gramsPerUnit: input.optionalText(40),
  packName: input.optionalText(40),
  packQuantity: input.optionalText(40),
  reorderPoint: quantity,
  reorderQuantity: quantity,
  supplierName: input.optionalText(200),
  place: input.optionalText(200),
  ...counted,
};
const ItemForm = z.object(ItemFields);

/** An item as typed, its amounts in the unit that it is counted in. */
function itemFrom({ units, ...item }: z.output<typeof ItemForm>) {
  const { unit, gramsPerUnit, packQuantity, reorderPoint, reorderQuantity } = item;
  return {
    ...item,
    ...item.kind,
    packQuantity:
      packQuantity === "" ? null : quantityFrom(packQuantity, unit, units, "packQuantity"),
    gramsPerUnit: gramsPerUnit === "" ? null : massOfOne(gramsPerUnit, unit, units),
    reorderPoint: quantityFrom(reorderPoint, unit, units, "reorderPoint"),
    reorderQuantity: quantityFrom(reorderQuantity, unit, units, "reorderQuantity"),
  };
}

export const addItemAction = formAction(ItemForm, async (actor, typed) => {
  const id = await addItem(actor, itemFrom(typed), new Date());
  revalidatePath("/stock");
  redirect(`/stock/${id}`);
});

export const changeItemAction = formAction(
  ItemForm.extend({ itemId: input.id }),
  async (actor, { itemId, ...typed }) => {
    const { unit: _unit, ...item } = itemFrom(typed);
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
  ...counted,
  ...typedDelivery,
  receivedAt: z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/, "Choose a day and a time."),
  supplierName: input.optionalText(200),
  expiresOn: input.optionalDay,
  place: input.optionalText(200),
  idempotencyKey: key,
});

export const receiveAction = formAction(DeliveryForm, async (actor, form) => {
  const { itemId, receivedAt, supplierName, expiresOn, place, idempotencyKey } = form;
  const { currency, timeZone } = await shopSettings();
  const lot = {
    ...{ itemId, supplierName, expiresOn, place, idempotencyKey },
    ...deliveryFrom(form, currency),
    receivedAt: new Date(instantOf(receivedAt, timeZone)),
  };
  await receiveLot(actor, lot, new Date());
  revalidatePath(`/stock/${itemId}`);
  return { message: "The delivery is in stock." };
});

const CountForm = z.object({
  itemId: input.id,
  ...counted,
  lotId: optionalId,
  counted: quantity,
  note: input.optionalText(500),
});

export const countAction = formAction(CountForm, async (actor, { unit, units, ...count }) => {
  const found = quantityFrom(count.counted, unit, units, "counted");
  const { difference } = await countStock(actor, { ...count, counted: found }, new Date());
  revalidatePath(`/stock/${count.itemId}`);
  if (difference === 0) return { message: "It agrees with the ledger; nothing had to be written." };
  const words = difference > 0 ? "more than" : "less than";
  const amount = exactQuantity(Math.abs(difference), unit, units);
  return { message: `Written: ${amount} ${words} the ledger said.` };
});

const TakeForm = z.object({
  itemId: input.id,
  ...counted,
  lotId: optionalId,
  quantity,
  note: input.text("what happened", 500),
  idempotencyKey: key,
});

export const spoilAction = formAction(TakeForm, async (actor, { unit, units, ...spoilage }) => {
  const spoiled = quantityFrom(spoilage.quantity, unit, units, "quantity");
  await spoilStock(actor, { ...spoilage, quantity: spoiled }, new Date());
  revalidatePath(`/stock/${spoilage.itemId}`);
  return { message: "Written off." };
});

const ReturnForm = z.object({
  itemId: input.id,
  ...counted,
  lotId: input.id,
  quantity,
  note: input.optionalText(500),
});

export const returnAction = formAction(ReturnForm, async (actor, { unit, units, ...given }) => {
  const back = quantityFrom(given.quantity, unit, units, "quantity");
  await returnStock(actor, { ...given, quantity: back }, new Date());
  revalidatePath(`/stock/${given.itemId}`);
  return { message: "Back on the shelf." };
});
