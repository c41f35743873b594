import type { Actor } from "@/lib/access";
import {
  findPasswordHash,
  findPerson,
  hashPassword,
  inTransaction,
  listSessions,
  passwordMatches,
  reading,
  recordAudit,
  revokeSessions,
  type SessionRow,
  updatePerson,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkNewPassword } from "./password";

/** The browsers in which this person is signed in. Everybody may see their own. */
export async function ownSessions(actor: Actor, now: Date): Promise<readonly SessionRow[]> {
  return reading((db) => listSessions(db, actor.personId, now));
}

/** Signs this person out of every other browser. @returns how many */
export async function signOutElsewhere(
  actor: Actor,
  thisSessionId: string,
  now: Date,
): Promise<number> {
  return inTransaction((db) => revokeSessions(db, actor.personId, now, { except: thisSessionId }));
}

/**
 * Changes one's own password and signs out every other browser.
 *
 * @throws Refusal invalid when the current password is wrong or the new one too weak
 */
export async function changeOwnPassword(
  actor: Actor,
  change: { readonly current: string; readonly password: string; readonly sessionId: string },
  now: Date,
): Promise<void> {
  const kept = await reading((db) => findPasswordHash(db, actor.personId));
  if (!(await passwordMatches(kept, change.current))) {
    throw new Refusal("invalid", "The current password is not right.", {
      current: "Not the current password.",
    });
  }
  const person = await reading((db) => findPerson(db, actor.personId));
  checkNewPassword(change.password, person?.email ?? "");
  const passwordHash = await hashPassword(change.password);
  await inTransaction(async (db) => {
    await updatePerson(db, actor.personId, { passwordHash });
    await revokeSessions(db, actor.personId, now, { except: change.sessionId });
    await recordAudit(db, {
      actor,
      at: now,
      action: "person.password-changed",
      subjectType: "person",
      subjectId: actor.personId,
    });
  });
}
