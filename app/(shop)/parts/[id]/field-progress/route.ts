import { idFrom, respondTo } from "@/lib/server";
import { fieldProgress } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** How far the field of a part's plan is; null where none was asked for. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const progress = await fieldProgress(actor, idFrom((await params).id));
    return Response.json(progress, { headers: { "cache-control": "no-store" } });
  });
}
