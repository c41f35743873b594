import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { photoImage } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

export async function GET(request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const id = idFrom((await params).id);
    const thumb = new URL(request.url).searchParams.get("size") === "thumb";
    const bytes = await photoImage(actor, id, thumb ? "thumb" : "full");
    // A photo never changes under its id; only signed-in people may keep it.
    return fileResponse(bytes, "image/jpeg", `${id}.jpg`, "private, max-age=86400, immutable");
  });
}
