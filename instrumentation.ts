import type { Instrumentation } from "next";

/** Writes down every fault that a request ran into, once, with the digest that the person sees on the error page. */
export const onRequestError: Instrumentation.onRequestError = async (error, request, context) => {
  // Loaded here, since this file is also read where there is no Node.
  if (process.env.NEXT_RUNTIME !== "nodejs") return;
  const { log } = await import("./lib/server/log");
  const digest = error instanceof Error && "digest" in error ? error.digest : undefined;
  // The route, never the address itself: a private link's address is its key.
  const { routePath: route, routeType: kind } = context;
  log.error({ err: error, digest, method: request.method, route, kind }, "a request failed");
};
