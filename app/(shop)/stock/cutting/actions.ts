"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { formAction, input } from "@/lib/server";
import { checkWish, cutSteel, undoCut } from "@/lib/services";
import { ANODE_WAYS } from "@/lib/stock";
import { WishSchema, wishHref } from "./wish";

/** Looked at before the page is turned, so that a refusal stays beside what was typed. */
export const planCutAction = formAction(
  (units) => {
    const long = input.measureFrom("length", 0, 20_000, units);
    return z.object({
      tankId: input.id,
      itemId: input.id,
      way: z.enum(ANODE_WAYS, { error: "Choose how it hangs." }),
      heightMm: long,
      offsetMm: long,
      cornerMm: long,
      gapMm: long,
      overhangMm: long,
      count: input.numberFrom(1, 99, "pieces"),
    });
  },
  async (actor, wish) => {
    if (!Number.isInteger(wish.count)) {
      throw new Refusal("invalid", "Pieces are whole.", { count: "A whole number." });
    }
    await checkWish(actor, wish);
    redirect(wishHref(wish));
  },
);

const plain = <T extends z.ZodType>(schema: T) =>
  z
    .string()
    .max(20_000)
    .transform((text, context): unknown => {
      try {
        return JSON.parse(text);
      } catch {
        context.addIssue({ code: "custom", message: "This page is out of date. Open it again." });
        return z.NEVER;
      }
    })
    .pipe(schema);

const Bars = z
  .array(
    z.object({
      barId: z.uuid(),
      pieces: z.array(z.number().positive()).min(1).max(500),
    }),
  )
  .max(500);

export const cutSteelAction = formAction(
  z.object({
    wish: plain(WishSchema),
    bars: plain(Bars),
    proof: input.optionalText(400),
    cutId: input.id,
  }),
  async (actor, cut) => {
    await cutSteel(actor, cut, new Date());
    revalidatePath("/stock");
    redirect(`/stock/cutting?cut=${cut.cutId}`);
  },
);

export const undoCutAction = formAction(z.object({ cutId: input.id }), async (actor, { cutId }) => {
  await undoCut(actor, cutId, new Date());
  revalidatePath("/stock");
  return { message: "Taken back. The steel is in stock again." };
});
