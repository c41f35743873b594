import { fileResponse, idFrom, respondTo } from "@/lib/server";
import { ownShape } from "@/lib/services";

type Context = { readonly params: Promise<{ id: string }> };

/** The triangles of a part's own shape; see `ownShape` for how they stand in the bytes. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  return respondTo(async (actor) => {
    const { bytes, hash } = await ownShape(actor, idFrom((await params).id));
    // Under an address that names its content it never changes; only signed-in people may keep it.
    const named = new URL(request.url).searchParams.get("of") === hash;
    const caching = named ? "private, max-age=86400, immutable" : "private, no-store";
    return fileResponse(bytes, "application/octet-stream", "own-shape.bin", caching);
  });
}
