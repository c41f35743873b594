import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { respondTo } from "@/lib/server";
import { takeReading } from "@/lib/services";

const SentReading = z.object({
  idempotencyKey: z.uuid(),
  at: z.iso.datetime().transform((text) => new Date(text)),
  voltsV: z.number(),
  currentA: z.number(),
  temperatureC: z.number().nullable(),
  levelMm: z.number().nullable(),
  note: z.string().max(500),
});

type Context = { readonly params: Promise<{ id: string }> };

/** Takes one reading from a phone, perhaps late, perhaps twice. Only JSON: no foreign page's form can send that. */
export function POST(request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const runId = z.uuid().safeParse((await params).id);
    const isJson = request.headers.get("content-type")?.startsWith("application/json") ?? false;
    const body: unknown = isJson ? await request.json().catch(() => null) : null;
    const sent = SentReading.safeParse(body);
    if (!runId.success || !sent.success) {
      throw new Refusal("invalid", "This is not a reading that the shop can take.");
    }
    const id = await takeReading(actor, { ...sent.data, runId: runId.data }, new Date());
    return Response.json({ id });
  });
}
