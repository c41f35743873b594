import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { planSheet } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** The plan of a part on paper, for the bench. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const { bytes, jobNumber, mark } = await planSheet(actor, id, new Date());
    return fileResponse(bytes, "application/pdf", `plan-${jobNumber}-${mark}.pdf`);
  });
}
