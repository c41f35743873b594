import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { jobTags } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

export async function GET(_request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const { bytes, jobNumber } = await jobTags(actor, id, new Date());
    return fileResponse(bytes, "application/pdf", `tags-${jobNumber}.pdf`);
  });
}
