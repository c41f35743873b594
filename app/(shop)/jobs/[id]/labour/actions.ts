"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { LABOUR_TASKS } from "@/lib/pricing";
import { recordExtraLabour } from "@/lib/services";

const LabourForm = z.object({
  jobId: input.id,
  partId: z.union([z.literal(""), input.id]).transform((id) => (id === "" ? undefined : id)),
  task: z.enum(LABOUR_TASKS, { error: "Choose what was done." }),
  minutes: input.numberFrom(1, 1440, "min"),
  idempotencyKey: z.uuid().optional(),
});

export const labourAction = formAction(LabourForm, async (actor, labour) => {
  await recordExtraLabour(actor, labour, new Date());
  revalidatePath(`/jobs/${labour.jobId}/cost`);
  revalidatePath(`/jobs/${labour.jobId}/labour`);
  return { message: "Written down." };
});
