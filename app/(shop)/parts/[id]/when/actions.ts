"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, formatDay, input, shopSettings } from "@/lib/server";
import { joinRun, promiseJob } from "@/lib/services";

/** Promises the part's job for the day that was worked out. */
export const promiseAction = formAction(
  z.object({ jobId: input.id, partId: input.id, day: input.day }),
  async (actor, { jobId, partId, day }) => {
    const { promisedFor } = await promiseJob(actor, jobId, day, new Date());
    revalidatePath(`/parts/${partId}/when`);
    const place = await shopSettings();
    const stands = promisedFor.getTime() > day.getTime();
    return {
      message: stands
        ? `The job stays promised for ${formatDay(promisedFor, place)}: another part of it takes until then.`
        : `Promised for ${formatDay(promisedFor, place)}.`,
    };
  },
);

/** Puts the part into a load that is booked. */
export const joinAction = formAction(
  z.object({ runId: input.id, partId: input.id }),
  async (actor, { runId, partId }) => {
    await joinRun(actor, { runId, partIds: [partId] }, new Date());
    revalidatePath("/board");
    redirect(`/runs/${runId}`);
  },
);
