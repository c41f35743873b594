import NextAuth from "next-auth";
import { authOptions } from "@/lib/server";

type Context = { readonly params: Promise<{ nextauth: string[] }> };

// Made for each request: the options need the environment, which a build does not have.
async function handle(request: Request, context: Context): Promise<Response> {
  const answer = NextAuth(authOptions()) as (
    request: Request,
    context: Context,
  ) => Promise<Response>;
  return answer(request, context);
}

export { handle as GET, handle as POST };
