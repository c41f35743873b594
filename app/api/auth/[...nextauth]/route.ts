import NextAuth from "next-auth";
import { authOptions } from "@/lib/server";

type Context = { readonly params: Promise<{ nextauth: string[] }> };

/** What the sign-in form calls. next-auth's other addresses (its own pages, sign-out, session) are not part of the shop. */
const OPEN: ReadonlySet<string> = new Set(["GET csrf", "POST callback/credentials"]);

// Made for each request: the options need the environment, which a build does not have.
async function handle(request: Request, context: Context): Promise<Response> {
  const { nextauth } = await context.params;
  if (!OPEN.has(`${request.method} ${nextauth.join("/")}`)) {
    return new Response(null, { status: 404 });
  }
  const answer = NextAuth(authOptions()) as (
    request: Request,
    context: Context,
  ) => Promise<Response>;
  return answer(request, context);
}

export { handle as GET, handle as POST };
