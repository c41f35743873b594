import { z } from "zod";
import { may } from "@/lib/access";
import { Refusal } from "@/lib/errors";
import { respondTo } from "@/lib/server";
import { countStock } from "@/lib/services";

const SentCount = z.object({
  idempotencyKey: z.uuid(),
  itemId: z.uuid(),
  lotId: z.uuid().nullable(),
  counted: z.number().min(0).max(1_000_000_000),
  note: z.string().max(500),
  /** How long ago it was counted, by the phone's own clock, ms: phones' clocks differ from the shop's, spans do not. */
  agoMs: z
    .number()
    .min(0)
    .max(100 * 86_400_000),
});

/** Takes one count from a phone, perhaps late, perhaps twice. Only JSON: no foreign page's form can send that. */
export function POST(request: Request): Promise<Response> {
  return respondTo(async (actor) => {
    const isJson = request.headers.get("content-type")?.startsWith("application/json") ?? false;
    const body: unknown = isJson ? await request.json().catch(() => null) : null;
    const sent = SentCount.safeParse(body);
    if (!sent.success) throw new Refusal("invalid", "This is not a count that the shop can take.");
    const { agoMs, lotId, ...count } = sent.data;
    const now = new Date();
    const outcome = await countStock(
      actor,
      { ...count, lotId: lotId ?? undefined, countedAt: new Date(now.getTime() - agoMs) },
      now,
    );
    const costMinor = may(actor, "see-money") ? outcome.costMinor : null;
    return Response.json({ difference: outcome.difference, costMinor });
  });
}
