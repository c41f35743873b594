import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { partTag } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const { bytes, jobNumber, mark } = await partTag(actor, id, new Date());
    return fileResponse(bytes, "application/pdf", `tag-${jobNumber}-${mark}.pdf`);
  });
}
