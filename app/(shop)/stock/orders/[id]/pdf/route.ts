import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { purchaseListFile } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** The list on paper, for its supplier. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const { bytes, name } = await purchaseListFile(actor, id, new Date());
    return fileResponse(bytes, "application/pdf", name);
  });
}
