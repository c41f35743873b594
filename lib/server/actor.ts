import { getServerSession } from "next-auth";
import { cookies } from "next/headers";
import { redirect } from "next/navigation";
import { cache } from "react";
import { type Actor, may, type Permission } from "@/lib/access";
import { findSessionPerson, reading, revokeSessions, touchSession } from "@/lib/data";
import { authOptions } from "./auth";
import { environment } from "./environment";

/** A person's last visit is written down no more often than this, ms. */
const SEEN_EVERY_MS = 5 * 60_000;

export type SignedIn = Actor & { readonly sessionId: string; readonly email: string };

/** The signed-in person of this request, or null. Read from the database once a request. */
export const currentActor = cache(async (): Promise<SignedIn | null> => {
  const session = await getServerSession(authOptions());
  const sessionId = session?.user?.name;
  if (!sessionId) return null;
  const now = new Date();
  const found = await reading((db) => findSessionPerson(db, sessionId, now));
  if (!found) return null;
  if (now.getTime() - found.lastSeenAt.getTime() > SEEN_EVERY_MS) {
    await reading((db) => touchSession(db, sessionId, now));
  }
  const { id, name, role, email } = found.person;
  return { personId: id, name, role, email, sessionId };
});

/** The signed-in person; everybody else is sent to the sign-in page. */
export async function requireActor(): Promise<SignedIn> {
  const actor = await currentActor();
  if (!actor) redirect("/sign-in");
  return actor;
}

/** The signed-in person, who must be allowed to see this screen; others are told that their role may not. */
export async function requireActorWith(permission: Permission): Promise<SignedIn> {
  const actor = await requireActor();
  if (!may(actor, permission)) redirect("/not-allowed");
  return actor;
}

/** Ends this browser's session: in the database, and in its cookies. */
export async function endSession(): Promise<void> {
  const actor = await currentActor();
  if (actor) {
    const { personId, sessionId } = actor;
    await reading((db) => revokeSessions(db, personId, new Date(), { only: sessionId }));
  }
  const secure = environment().publicUrl.startsWith("https:");
  const name = `${secure ? "__Secure-" : ""}next-auth.session-token`;
  // A browser leaves a __Secure- cookie alone unless the answer that ends it is marked secure too.
  (await cookies()).delete({ name, path: "/", secure, httpOnly: true, sameSite: "lax" });
}
