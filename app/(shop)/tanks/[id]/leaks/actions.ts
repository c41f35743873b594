"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { closeLeak, patchLeak, reopenLeak, reportLeak } from "@/lib/services";
import { UNIT_SYSTEMS } from "@/lib/units";
import { optionalItemChoice } from "../../../stock/item-choice";
import { quantityFrom } from "../../../stock/typed-quantity";
import { Refusal } from "@/lib/errors";

function refresh(tankId: string): void {
  revalidatePath(`/tanks/${tankId}`);
  revalidatePath(`/tanks/${tankId}/leaks`);
}

export const reportLeakAction = formAction(
  (units) =>
    z.object({
      tankId: input.id,
      leakId: input.id,
      place: input.text("where it leaks", 120),
      heightMm: input.optionalMeasureFrom("length", 0, 5000, units),
      severity: z.enum(["WEEPING", "DRIPPING", "RUNNING"], { error: "Choose how much." }),
      note: input.optionalText(500),
    }),
  async (actor, leak) => {
    await reportLeak(actor, leak, new Date());
    refresh(leak.tankId);
    return { message: "Written down." };
  },
);

const LeakForm = z.object({ tankId: input.id, leakId: input.id });

export const closeLeakAction = formAction(LeakForm, async (actor, { tankId, leakId }) => {
  await closeLeak(actor, leakId, new Date());
  refresh(tankId);
});

export const reopenLeakAction = formAction(LeakForm, async (actor, { tankId, leakId }) => {
  await reopenLeak(actor, leakId, new Date());
  refresh(tankId);
});

export const patchLeakAction = formAction(
  (units) =>
    LeakForm.extend({
      patchId: input.id,
      units: z.enum(UNIT_SYSTEMS),
      epoxy: optionalItemChoice,
      lotId: z.union([z.literal(""), input.id]).transform((id) => id || null),
      quantity: input.text("how much", 40),
      temperatureC: input.measureFrom("temperature", -20, 60, units),
      expiredReason: input.optionalText(200),
      note: input.optionalText(500),
    }),
  async (actor, { tankId, epoxy, units, quantity, ...patch }) => {
    if (!epoxy) throw new Refusal("invalid", "With what?", { epoxy: "Choose an epoxy." });
    const { itemId, unit } = epoxy;
    const amount = quantityFrom(quantity, unit, units, "quantity");
    await patchLeak(actor, { ...patch, itemId, quantity: amount }, new Date());
    refresh(tankId);
    return { message: "Patched. The tank is held until it has set." };
  },
);
