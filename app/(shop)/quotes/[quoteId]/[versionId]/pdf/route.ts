import { Refusal } from "@/lib/errors";
import { fileResponse, input, respondTo } from "@/lib/server";
import { quotePdfForShop } from "@/lib/services";

type Context = { readonly params: Promise<{ quoteId: string; versionId: string }> };

/** One version of a quote on paper, for the shop. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { quoteId, versionId } = await params;
  return respondTo(async (actor) => {
    if (!input.id.safeParse(quoteId).success || !input.id.safeParse(versionId).success) {
      throw new Refusal("not-found", "There is no such quote.");
    }
    const { bytes, name } = await quotePdfForShop(actor, versionId, quoteId);
    return fileResponse(bytes, "application/pdf", name);
  });
}
