"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { formAction, input } from "@/lib/server";
import { finishRun } from "@/lib/services";

const minutes = input.numberFrom(0, 1440, "min");
const RESULTS = ["CLEAN", "PARTLY", "AGAIN", "DAMAGED"] as const;

/** Lists run side by side: the same place in each belongs to one dip, or one item used. */
const FinishForm = z.object({
  runId: input.id,
  idempotencyKey: z.uuid(),
  dipIds: z.array(input.id),
  results: z.array(z.union([z.enum(RESULTS), z.literal("")])),
  resultNotes: z.array(z.string().trim().max(500)),
  loadMinutes: minutes,
  pullMinutes: minutes,
  finishMinutes: minutes,
  itemIds: z.array(z.union([z.literal(""), input.id])),
  quantities: z.array(z.string().trim()),
});

export const finishAction = formAction(FinishForm, async (actor, form) => {
  const { runId, idempotencyKey } = form;
  const results = form.dipIds.map((dipId, index) => {
    const result = form.results[index];
    if (!result) throw new Refusal("invalid", "Say how each part came out.");
    return { dipId, result, note: form.resultNotes[index] ?? "" };
  });
  const finishing = {
    runId,
    idempotencyKey,
    results,
    minutes: { load: form.loadMinutes, pull: form.pullMinutes, finish: form.finishMinutes },
    used: usedOf(form.itemIds, form.quantities),
  };
  await finishRun(actor, finishing, new Date());
  revalidatePath("/", "layout");
  redirect(`/runs/${runId}`);
});

function usedOf(itemIds: readonly string[], typed: readonly string[]) {
  return itemIds.flatMap((itemId, index) => {
    if (!itemId) return [];
    const quantity = Number((typed[index] ?? "").replace(",", "."));
    if (!(quantity > 0)) {
      throw new Refusal("invalid", "How much of it was used?", { quantities: "Above 0." });
    }
    return [{ itemId, quantity }];
  });
}
