import { callerAddress, countTry, fileResponse, respond } from "@/lib/server";
import { quotePdfByLink } from "@/lib/services";

type Context = { readonly params: Promise<{ token: string }> };

/** The offered quote on paper, for whoever holds its link. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { token } = await params;
  return respond(async () => {
    await countTry("private-link", await callerAddress());
    const { bytes, name } = await quotePdfByLink(token, new Date());
    return fileResponse(bytes, "application/pdf", name);
  });
}
