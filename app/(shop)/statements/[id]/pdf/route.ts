import { Refusal } from "@/lib/errors";
import { fileResponse, input, respondTo } from "@/lib/server";
import { billPdfFor } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** A statement or a credit note on paper. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { id } = await params;
  return respondTo(async (actor) => {
    if (!input.id.safeParse(id).success) {
      throw new Refusal("not-found", "There is no such document.");
    }
    const { bytes, name } = await billPdfFor(actor, id);
    return fileResponse(bytes, "application/pdf", name);
  });
}
