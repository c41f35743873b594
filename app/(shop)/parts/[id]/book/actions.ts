"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { instantOf } from "@/lib/scheduling";
import { formAction, input, shopSettings } from "@/lib/server";
import { bookRun } from "@/lib/services";
import { Refusal } from "@/lib/errors";

const localTime = z.union([z.literal(""), z.string().regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/)]);

/** Books the slot that was chosen, or the start that was typed, in the shop's zone. */
export const bookAction = formAction(
  z.object({
    tankId: input.id,
    partIds: z.array(input.id).min(1, "Choose a part to put in."),
    slot: z.union([z.literal("own"), z.iso.datetime()], "Choose one."),
    startsAt: localTime.default(""),
    notes: input.optionalText(500),
    laidOut: input.ticked,
    idempotencyKey: z.uuid(),
  }),
  async (actor, { slot, startsAt, ...booking }) => {
    const { timeZone } = await shopSettings();
    if (slot === "own" && startsAt === "") {
      throw new Refusal("invalid", "Type when loading begins.", { startsAt: "Choose a time." });
    }
    const start = slot === "own" ? new Date(instantOf(startsAt, timeZone)) : new Date(slot);
    const { runId } = await bookRun(actor, { ...booking, startsAt: start }, new Date());
    revalidatePath("/tanks");
    redirect(`/runs/${runId}`);
  },
);
