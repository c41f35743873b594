"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { formAction, input } from "@/lib/server";
import { applyBoard, takeBackBoard } from "@/lib/services";
import { Refusal } from "@/lib/errors";

const startsAt = z.iso.datetime().transform((text) => new Date(text));
const partIds = z.array(input.id).min(1);
const key = z.string().min(1).max(2000);

/** What `proposeBoard` proposed, as this page's own form sends it back. */
const Changes = z.array(
  z.discriminatedUnion("kind", [
    z.object({
      kind: z.literal("move"),
      runId: input.id,
      tankId: input.id,
      startsAt,
      sequence: z.int(),
    }),
    z.object({
      kind: z.literal("book"),
      partIds,
      tankId: input.id,
      startsAt,
      idempotencyKey: key,
    }),
    z.object({ kind: z.literal("join"), runId: input.id, partIds }),
  ]),
);

/** Changes the board as it was proposed, all of it or nothing. */
export const applyAction = formAction(
  z.object({ changes: z.string() }),
  async (actor, { changes }) => {
    const parsed = Changes.safeParse(readJson(changes));
    if (!parsed.success) {
      throw new Refusal("invalid", "This proposal cannot be read. Look for a better board again.");
    }
    await applyBoard(actor, parsed.data, new Date());
    revalidatePath("/board");
    redirect("/board/improve");
  },
);

/** Takes the newest change of the board back, all of it or nothing. */
export const takeBackAction = formAction(z.object({}), async (actor) => {
  await takeBackBoard(actor, new Date());
  revalidatePath("/board");
  redirect("/board/improve");
});

function readJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
