import {
  callerAddress,
  countTry,
  environment,
  hasVersion,
  respond,
  versionHeaders,
} from "@/lib/server";
import { readFeed } from "@/lib/services";

type Context = { readonly params: Promise<{ token: string }> };

/** A calendar for whoever holds its address, signed in or not. Sent again only when it changed. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { token } = await params;
  return respond(async () => {
    await countTry("private-link", await callerAddress());
    const feed = await readFeed(token, environment().publicUrl, new Date());
    const headers = {
      ...versionHeaders(feed),
      // Kept by nobody on the way, and asked for anew each time: a revoked address must open nothing at once.
      "cache-control": "private, no-cache",
      "x-robots-tag": "noindex, nofollow",
      "x-content-type-options": "nosniff",
    };
    if (hasVersion(request.headers, feed)) return new Response(null, { status: 304, headers });
    return new Response(feed.bytes, {
      headers: {
        ...headers,
        "content-type": "text/calendar; charset=utf-8",
        "content-disposition": `inline; filename="${feed.name}"`,
      },
    });
  });
}
