import { type Actor } from "@/lib/access";
import { isRefusal, type RefusalCode } from "@/lib/errors";
import { currentActor } from "./actor";

const STATUS: Readonly<Record<RefusalCode, number>> = {
  "not-signed-in": 401,
  "not-allowed": 403,
  "not-found": 404,
  invalid: 400,
  conflict: 409,
  "tank-busy": 409,
  "supply-full": 409,
  "not-enough-stock": 409,
  expired: 410,
  "too-many-tries": 429,
};

/** Runs a route handler's work and turns a refusal into its HTTP status; faults stay faults. */
export async function respond(work: () => Promise<Response>): Promise<Response> {
  try {
    return await work();
  } catch (error) {
    if (!isRefusal(error)) throw error;
    return Response.json(
      { code: error.code, message: error.message, fields: error.fields ?? {} },
      { status: STATUS[error.code] },
    );
  }
}

/** The same for a signed-in person; 401 otherwise. */
export async function respondTo(work: (actor: Actor) => Promise<Response>): Promise<Response> {
  return respond(async () => {
    const actor = await currentActor();
    if (!actor) {
      return Response.json({ code: "not-signed-in", message: "Sign in first." }, { status: 401 });
    }
    return work(actor);
  });
}

/** Bytes with their type, to be shown in the browser or saved under a name. */
export function fileResponse(
  bytes: Uint8Array,
  type: string,
  name: string,
  caching = "private, no-store",
): Response {
  return new Response(new Uint8Array(bytes), {
    headers: {
      "content-type": type,
      "content-disposition": `inline; filename="${name.replace(/[^\w.-]/g, "-")}"`,
      "cache-control": caching,
      "x-content-type-options": "nosniff",
    },
  });
}
