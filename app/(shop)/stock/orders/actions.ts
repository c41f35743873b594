"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { instantOf } from "@/lib/scheduling";
import { formAction, input, shopSettings } from "@/lib/server";
import {
  cancelOrder,
  changeLine,
  closeOrder,
  listBySupplier,
  listToBuy,
  markOrdered,
  noteOnList,
  receiveOrder,
  reopenCancelled,
  takeBackOrdered,
} from "@/lib/services";
import { UNIT_SYSTEMS } from "@/lib/units";
import { optionalItemChoice } from "../item-choice";
import { minorOrNull } from "../typed-delivery";
import { quantityFrom } from "../typed-quantity";
import { slot, slotFields, SLOTS, typedAt } from "./slots";

const units = z.enum(UNIT_SYSTEMS);
const indices = Array.from({ length: SLOTS }, (_, index) => index);

const BuyForm = z.object({
  units,
  ...slotFields("item", "chosen", "quantity"),
});

/** What is ticked goes on a list for each supplier. */
export const listNeedsAction = formAction(BuyForm, async (actor, form) => {
  const wanted = indices.flatMap((index) => {
    const item = itemAt(form, index);
    if (!item || typedAt(form, "chosen", index) === "") return [];
    const typed = typedAt(form, "quantity", index);
    const quantity = quantityFrom(typed, item.unit, form.units, slot("quantity", index));
    return [{ itemId: item.itemId, quantity }];
  });
  const lists = await listBySupplier(actor, wanted, new Date());
  revalidatePath("/stock/orders");
  const [only, ...more] = lists;
  if (only && more.length === 0) redirect(`/stock/orders/${only.orderId}`);
  return { message: `Written on ${lists.length} lists, one for each supplier.` };
});

const AddForm = z.object({
  units,
  supplierName: input.optionalText(200),
  item: optionalItemChoice,
  quantity: input.text("how much", 40),
});

/** One more item on the list of a supplier. */
export const addLineAction = formAction(AddForm, async (actor, form) => {
  if (!form.item) throw new Refusal("invalid", "Choose an item.", { item: "Choose an item." });
  const { itemId, unit } = form.item;
  const quantity = quantityFrom(form.quantity, unit, form.units, "quantity");
  const listed = await listToBuy(actor, form.supplierName, [{ itemId, quantity }], new Date());
  revalidatePath(`/stock/orders/${listed.orderId}`);
  return { message: listed.already > 0 ? "It was on the list already." : "It is on the list." };
});

/** The same from an item's own page: it goes on the list of its supplier. */
export const listItemAction = formAction(
  AddForm.omit({ supplierName: true }),
  async (actor, form) => {
    if (!form.item) throw new Refusal("invalid", "Choose an item.", { item: "Choose an item." });
    const { itemId, unit } = form.item;
    const quantity = quantityFrom(form.quantity, unit, form.units, "quantity");
    const [listed] = await listBySupplier(actor, [{ itemId, quantity }], new Date());
    revalidatePath(`/stock/${itemId}/ordering`);
    if (listed) redirect(`/stock/orders/${listed.orderId}`);
  },
);

const orderId = { orderId: input.id };

const LineForm = z.object({
  ...orderId,
  units,
  lineId: input.id,
  item: optionalItemChoice,
  quantity: input.text("how much, or 0 to take it off", 40),
  /** missing from the forms of people who may not see money */
  price: z.string().trim().max(40).optional(),
});

export const changeLineAction = formAction(LineForm, async (actor, form) => {
  if (!form.item) throw new Refusal("invalid", "This page is out of date. Open it again.");
  const { currency } = await shopSettings();
  const quantity = quantityFrom(form.quantity, form.item.unit, form.units, "quantity");
  const expectedMinor =
    form.price === undefined ? undefined : minorOrNull(form.price, currency, "price");
  const { lineId } = form;
  await changeLine(actor, { orderId: form.orderId, lineId, quantity, expectedMinor }, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: quantity === 0 ? "Taken off the list." : "Saved." };
});

export const removeLineAction = formAction(
  z.object({ ...orderId, lineId: input.id }),
  async (actor, form) => {
    await changeLine(actor, { ...form, quantity: 0 }, new Date());
    revalidatePath(`/stock/orders/${form.orderId}`);
    return { message: "Taken off the list." };
  },
);

export const noteAction = formAction(
  z.object({ ...orderId, note: input.optionalText(1000) }),
  async (actor, form) => {
    await noteOnList(actor, form.orderId, form.note, new Date());
    revalidatePath(`/stock/orders/${form.orderId}`);
  },
);

const localTime = z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/, "Choose a day and a time.");

export const orderedAction = formAction(
  z.object({ ...orderId, orderedAt: localTime, expectedOn: input.optionalDay }),
  async (actor, form) => {
    const { timeZone } = await shopSettings();
    const orderedAt = new Date(instantOf(form.orderedAt, timeZone));
    const { expectedOn } = form;
    await markOrdered(actor, form.orderId, { orderedAt, expectedOn }, new Date());
    revalidatePath(`/stock/orders/${form.orderId}`);
    return { message: "Ordered. It counts as on its way." };
  },
);

const OrderForm = z.object(orderId);

export const takeBackAction = formAction(OrderForm, async (actor, form) => {
  await takeBackOrdered(actor, form.orderId, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: "It is a draft again." };
});

export const cancelAction = formAction(OrderForm, async (actor, form) => {
  await cancelOrder(actor, form.orderId, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: "Cancelled." };
});

export const reopenAction = formAction(OrderForm, async (actor, form) => {
  await reopenCancelled(actor, form.orderId, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: "It is a draft again." };
});

export const closeAction = formAction(OrderForm, async (actor, form) => {
  await closeOrder(actor, form.orderId, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: "Closed. The rest is not expected any more." };
});

const ReceiveForm = z.object({
  ...orderId,
  units,
  receivedAt: localTime,
  idempotencyKey: z.uuid(),
  ...slotFields("line", "item", "before", "came", "cost", "expiresOn", "place"),
});
type Received = z.output<typeof ReceiveForm>;

/** What came; rows left empty did not. */
export const receiveAction = formAction(ReceiveForm, async (actor, form) => {
  const { currency, timeZone } = await shopSettings();
  const arrivals = indices.flatMap((index) => arrivalAt(form, index, currency) ?? []);
  const given = {
    orderId: form.orderId,
    receivedAt: new Date(instantOf(form.receivedAt, timeZone)),
    arrivals,
    idempotencyKey: form.idempotencyKey,
  };
  const closed = await receiveOrder(actor, given, new Date());
  revalidatePath(`/stock/orders/${form.orderId}`);
  return { message: closed ? "All of it is in stock." : "In stock. The rest is still on its way." };
});

function arrivalAt(form: Received, index: number, currency: string) {
  const item = itemAt(form, index);
  const came = typedAt(form, "came", index);
  if (!item || came === "") return null;
  const quantity = quantityFrom(came, item.unit, form.units, slot("came", index));
  if (quantity === 0) return null;
  return {
    lineId: typedAt(form, "line", index),
    quantity,
    costMinor: minorOrNull(typedAt(form, "cost", index), currency, slot("cost", index)),
    expiresOn: dayFrom(typedAt(form, "expiresOn", index), slot("expiresOn", index)),
    place: typedAt(form, "place", index),
    receivedBefore: Number(typedAt(form, "before", index)),
  };
}

function itemAt(form: object, index: number) {
  const chosen = optionalItemChoice.safeParse(typedAt(form, "item", index));
  return chosen.success ? chosen.data : null;
}

function dayFrom(typed: string, field: string): Date | null {
  const day = input.optionalDay.safeParse(typed);
  if (day.success) return day.data;
  throw new Refusal("invalid", "Choose a day that exists.", { [field]: "Choose a day." });
}
