import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { purchaseListCsv } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** The list as a table for other programs. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const { bytes, name } = await purchaseListCsv(actor, id);
    return fileResponse(bytes, "text/csv; charset=utf-8", name);
  });
}
