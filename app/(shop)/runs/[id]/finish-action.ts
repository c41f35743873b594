"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { formAction, input } from "@/lib/server";
import { finishRun } from "@/lib/services";
import { UNIT_SYSTEMS, type UnitSystem } from "@/lib/units";
import { type ItemChoice, optionalItemChoice } from "../../stock/item-choice";
import { quantityFrom } from "../../stock/typed-quantity";

const minutes = input.numberFrom(0, 1440, "min");
const RESULTS = ["CLEAN", "PARTLY", "AGAIN", "DAMAGED"] as const;
const TIMINGS = ["JUST_CLEAN", "LONG_CLEAN"] as const;

/** Lists run side by side: the same place in each belongs to one dip, or one item used. */
const FinishForm = z.object({
  runId: input.id,
  idempotencyKey: z.uuid(),
  dipIds: z.array(input.id),
  results: z.array(z.union([z.enum(RESULTS), z.literal("")])),
  timings: z.array(z.union([z.enum(TIMINGS), z.literal("")])),
  resultNotes: z.array(z.string().trim().max(500)),
  loadMinutes: minutes,
  pullMinutes: minutes,
  finishMinutes: minutes,
  units: z.enum(UNIT_SYSTEMS),
  itemIds: z.array(optionalItemChoice),
  quantities: z.array(z.string().trim()),
});

export const finishAction = formAction(FinishForm, async (actor, form) => {
  const { runId, idempotencyKey } = form;
  const results = form.dipIds.map((dipId, index) => {
    const result = form.results[index];
    if (!result) throw new Refusal("invalid", "Say how each part came out.");
    const timing = form.timings[index] || null;
    return { dipId, result, timing, note: form.resultNotes[index] ?? "" };
  });
  const finishing = {
    runId,
    idempotencyKey,
    results,
    minutes: { load: form.loadMinutes, pull: form.pullMinutes, finish: form.finishMinutes },
    used: usedOf(form.itemIds, form.quantities, form.units),
  };
  await finishRun(actor, finishing, new Date());
  revalidatePath("/", "layout");
  redirect(`/runs/${runId}`);
});

function usedOf(
  items: readonly (ItemChoice | null)[],
  typed: readonly string[],
  units: UnitSystem,
) {
  return items.flatMap((item, index) => {
    if (!item) return [];
    const quantity = quantityFrom(typed[index] ?? "", item.unit, units, "quantities");
    if (!(quantity > 0)) {
      throw new Refusal("invalid", "How much of it was used?", { quantities: "Above 0." });
    }
    return [{ itemId: item.itemId, quantity }];
  });
}
