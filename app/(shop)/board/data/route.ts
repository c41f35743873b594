import { z } from "zod";
import { Refusal } from "@/lib/errors";
import { input, respondTo } from "@/lib/server";
import { seeTimeBoard } from "@/lib/services";

const Asked = z.object({ from: input.day, days: z.coerce.number().int() });

/** The board as plain data: a page that stands open on the wall reads it anew without being made anew. */
export function GET(request: Request): Promise<Response> {
  return respondTo(async (actor) => {
    const query = Object.fromEntries(new URL(request.url).searchParams);
    const asked = Asked.safeParse(query);
    if (!asked.success) throw new Refusal("invalid", "Say from which day, and how many.");
    const { from: firstDay, days } = asked.data;
    const board = await seeTimeBoard(actor, { firstDay, days }, new Date());
    return Response.json(board, { headers: { "cache-control": "no-store" } });
  });
}
