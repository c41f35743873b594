"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
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
import { UNIT_SYSTEMS, type UnitSystem } from "@/lib/units";
import { optionalItemChoice } from "../stock/item-choice";
import { quantityFrom } from "../stock/typed-quantity";
import { saltFields, saltOf, tankForm, tankOf } from "./form-values";

const key = z.uuid("This page is out of date. Open it again.");
const level = (units: UnitSystem) => input.measureFrom("length", 0, 5000, units);

function refresh(tankId: string): void {
  revalidatePath("/tanks");
  revalidatePath(`/tanks/${tankId}`);
}

export const addTankAction = formAction(tankForm, async (actor, form) => {
  const id = await addTank(actor, tankOf(form), new Date());
  revalidatePath("/tanks");
  redirect(`/tanks/${id}`);
});

export const changeTankAction = formAction(
  (units) => tankForm(units).extend({ tankId: input.id }),
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
  (units) =>
    z.object({
      tankId: input.id,
      levelMm: level(units),
      temperatureC: input.optionalMeasureFrom("temperature", 0, 60, units),
      idempotencyKey: key,
      ...saltFields(units),
    }),
  async (actor, { saltItemId, saltG, ...mix }) => {
    await mixBath(actor, { ...mix, salt: saltOf(saltItemId, saltG) }, new Date());
    refresh(mix.tankId);
    return { message: "Mixed. The soda is out of stock." };
  },
);

export const topUpAction = formAction(
  (units) =>
    z.object({
      tankId: input.id,
      levelBeforeMm: level(units),
      levelAfterMm: level(units),
      note: input.optionalText(200),
      idempotencyKey: key,
      ...saltFields(units),
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
  (units) =>
    z.object({
      tankId: input.id,
      units: z.enum(UNIT_SYSTEMS),
      place: z.enum(["WALL", "INNER"]),
      name: input.text("where it hangs or what it is", 80),
      massG: input.measureFrom("steelMass", 1, 200_000, units),
      wettedAreaM2: input.measureFrom("area", 0.001, 20, units),
      replaceAtPercent: input.numberFrom(5, 100, "%"),
      thicknessMm: input.optionalMeasureFrom("thickness", 0.1, 100, units),
      leastThicknessMm: input.optionalMeasureFrom("thickness", 0, 100, units),
      steelItemId: optionalItemChoice,
      steelQuantity: input.optionalText(40),
      cutId: z.union([z.literal(""), input.id]).default(""),
      idempotencyKey: key,
    }),
  async (
    actor,
    {
      replaceAtPercent,
      thicknessMm,
      leastThicknessMm,
      steelItemId,
      steelQuantity,
      cutId,
      units,
      ...anode
    },
  ) => {
    const steel =
      steelItemId && steelQuantity
        ? {
            itemId: steelItemId.itemId,
            quantity: quantityFrom(steelQuantity, steelItemId.unit, units, "steelQuantity"),
          }
        : null;
    const replaceAtShare = replaceAtPercent / 100;
    const thickness = sheetOf(thicknessMm, leastThicknessMm);
    const cut = { cutId: cutId || null };
    await installAnode(actor, { ...anode, ...cut, steel, replaceAtShare, thickness }, new Date());
    refresh(anode.tankId);
    if (cutId) redirect(`/tanks/${anode.tankId}#anodes`);
    return { message: "The anode is in." };
  },
);

/** Both measures of a sheet, or neither. */
function sheetOf(newMm: number | null, leastMm: number | null) {
  if (newMm === null && leastMm === null) return null;
  if (newMm !== null && leastMm !== null) return { newMm, leastMm };
  throw new Refusal("invalid", "A sheet is judged by both thicknesses, or by its mass alone.", {
    [newMm === null ? "thicknessMm" : "leastThicknessMm"]: "Enter this one too, or neither.",
  });
}

export const removeAnodeAction = formAction(
  z.object({ tankId: input.id, anodeId: input.id }),
  async (actor, { tankId, anodeId }) => {
    await removeAnode(actor, anodeId, new Date());
    refresh(tankId);
  },
);

export const weighAnodeAction = formAction(
  (units) =>
    z.object({
      tankId: input.id,
      anodeId: input.id,
      massG: input.measureFrom("steelMass", 0.1, 200_000, units),
      errorG: input.measureFrom("salt", 0.1, 1000, units),
    }),
  async (actor, { tankId, ...weighing }) => {
    await weighAnode(actor, weighing, new Date());
    refresh(tankId);
    return { message: "Weighed. Its loss factor has learnt from it." };
  },
);
