"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { environment, formAction, input } from "@/lib/server";
import { type FeedChoice, makeFeed, revokeFeed } from "@/lib/services";

const MakeForm = z.object({
  shows: z.union([z.enum(["shop", "mine", "mine-and-free"]), z.uuid()], "Choose what it shows."),
  name: input.optionalText(60),
});

/** What the one choice of the form means; anything but its words is a tank. */
function choiceOf(shows: string): FeedChoice {
  if (shows === "shop") return { kind: "SHOP" };
  if (shows === "mine") return { kind: "PERSON", includesUnassigned: false };
  if (shows === "mine-and-free") return { kind: "PERSON", includesUnassigned: true };
  return { kind: "TANK", tankId: shows };
}

export const makeFeedAction = formAction(MakeForm, async (actor, { shows, name }) => {
  const token = await makeFeed(actor, choiceOf(shows), name, new Date());
  revalidatePath("/account");
  return {
    message: "The address is made.",
    // Some calendar programs only take an address that ends like a calendar file.
    link: `${environment().publicUrl}/calendar/${token}.ics`,
  };
});

export const revokeFeedAction = formAction(z.object({ id: input.id }), async (actor, { id }) => {
  await revokeFeed(actor, id, new Date());
  revalidatePath("/account");
  return { message: "The address no longer opens anything." };
});
