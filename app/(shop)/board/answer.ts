import type { z } from "zod";
import type { Actor } from "@/lib/access";
import { isRefusal } from "@/lib/errors";
import { requireActor } from "@/lib/server";

/** What an action that is no form's says: what came of it, or in words why not. */
export type Answer<Value> =
  { readonly ok: true; readonly value: Value } | { readonly ok: false; readonly message: string };

/** Finds the signed-in person, reads what was sent, and turns a refusal into words. Faults stay faults. */
export async function answerTo<Schema extends z.ZodType, Value>(
  schema: Schema,
  sent: unknown,
  run: (actor: Actor, input: z.output<Schema>) => Promise<Value>,
): Promise<Answer<Value>> {
  const actor = await requireActor();
  const read = schema.safeParse(sent);
  if (!read.success) return { ok: false, message: "This page is out of date. Open it again." };
  try {
    return { ok: true, value: await run(actor, read.data) };
  } catch (error) {
    if (!isRefusal(error)) throw error;
    const why = Object.values(error.fields ?? {});
    return { ok: false, message: [error.message, ...why].join(" ") };
  }
}
