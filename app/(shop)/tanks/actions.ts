"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import {
  addTank,
  bringBackTank,
  changeTank,
  disposeBath,
  installAnode,
  mixBath,
  removeAnode,
  retireTank,
  topUpBath,
  weighAnode,
} from "@/lib/services";
import { saltOf, TankForm, tankOf } from "./form-values";

const key = z.uuid("This page is out of date. Open it again.");
const level = input.numberFrom(0, 5000, "mm");
const saltFields = {
  saltItemId: z.union([z.literal(""), input.id]).default(""),
  saltG: input.optionalNumberFrom(0, 100_000, "g"),
};

function refresh(tankId: string): void {
  revalidatePath("/tanks");
  revalidatePath(`/tanks/${tankId}`);
}

export const addTankAction = formAction(TankForm, async (actor, form) => {
  const id = await addTank(actor, tankOf(form), new Date());
  revalidatePath("/tanks");
  redirect(`/tanks/${id}`);
});

export const changeTankAction = formAction(
  TankForm.extend({ tankId: input.id }),
  async (actor, { tankId, ...form }) => {
    await changeTank(actor, tankId, tankOf(form), new Date());
    refresh(tankId);
    redirect(`/tanks/${tankId}`);
  },
);

export const retireTankAction = formAction(
  z.object({ tankId: input.id }),
  async (actor, { tankId }) => {
    await retireTank(actor, tankId, new Date());
    refresh(tankId);
  },
);

export const bringBackTankAction = formAction(
  z.object({ tankId: input.id }),
  async (actor, { tankId }) => {
    await bringBackTank(actor, tankId, new Date());
    refresh(tankId);
  },
);

export const mixBathAction = formAction(
  z.object({
    tankId: input.id,
    levelMm: level,
    temperatureC: input.optionalNumberFrom(0, 60, "°C"),
    idempotencyKey: key,
    ...saltFields,
  }),
  async (actor, { saltItemId, saltG, ...mix }) => {
    await mixBath(actor, { ...mix, salt: saltOf(saltItemId, saltG) }, new Date());
    refresh(mix.tankId);
    return { message: "Mixed. The soda is out of stock." };
  },
);

export const topUpAction = formAction(
  z.object({
    tankId: input.id,
    levelBeforeMm: level,
    levelAfterMm: level,
    note: input.optionalText(200),
    idempotencyKey: key,
    ...saltFields,
  }),
  async (actor, { saltItemId, saltG, ...topUp }) => {
    await topUpBath(actor, { ...topUp, salt: saltOf(saltItemId, saltG) }, new Date());
    refresh(topUp.tankId);
    return { message: "Topped up." };
  },
);

export const disposeBathAction = formAction(
  z.object({ tankId: input.id, note: input.text("where it went", 500) }),
  async (actor, disposal) => {
    await disposeBath(actor, disposal, new Date());
    refresh(disposal.tankId);
  },
);

export const installAnodeAction = formAction(
  z.object({
    tankId: input.id,
    place: z.enum(["WALL", "INNER"]),
    name: input.text("where it hangs or what it is", 80),
    massG: input.numberFrom(1, 200_000, "g"),
    wettedAreaM2: input.numberFrom(0.001, 20, "m²"),
    replaceAtPercent: input.numberFrom(5, 100, "%"),
    steelItemId: z.union([z.literal(""), input.id]).default(""),
    steelQuantity: input.optionalNumberFrom(0, 1_000_000, "of the item's unit"),
    idempotencyKey: key,
  }),
  async (actor, { replaceAtPercent, steelItemId, steelQuantity, ...anode }) => {
    const steel =
      steelItemId && steelQuantity ? { itemId: steelItemId, quantity: steelQuantity } : null;
    const replaceAtShare = replaceAtPercent / 100;
    await installAnode(actor, { ...anode, steel, replaceAtShare }, new Date());
    refresh(anode.tankId);
    return { message: "The anode is in." };
  },
);

export const removeAnodeAction = formAction(
  z.object({ tankId: input.id, anodeId: input.id }),
  async (actor, { tankId, anodeId }) => {
    await removeAnode(actor, anodeId, new Date());
    refresh(tankId);
  },
);

export const weighAnodeAction = formAction(
  z.object({
    tankId: input.id,
    anodeId: input.id,
    massG: input.numberFrom(0.1, 200_000, "g"),
    errorG: input.numberFrom(0.1, 1000, "g"),
  }),
  async (actor, { tankId, ...weighing }) => {
    await weighAnode(actor, weighing, new Date());
    refresh(tankId);
    return { message: "Weighed. Its loss factor has learnt from it." };
  },
);
