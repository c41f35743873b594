import { type Actor, requirePermission, type Role } from "@/lib/access";
import {
  type Db,
  findCredentials,
  findOpenInvite,
  findPerson,
  hashPassword,
  inTransaction,
  insertInvite,
  insertPerson,
  type InviteRow,
  reading,
  recordAudit,
  revokeInvite,
  revokeSessions,
  takeInvite,
  updatePerson,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { hashSecretToken, newSecretToken } from "../secret-token";
import { checkNewPassword } from "./password";

const INVITE_DAYS = 7;
const DAY_MS = 86_400_000;

export type NewInvite = { readonly email: string; readonly name: string; readonly role: Role };

/**
 * Invites somebody. The link's token is given once and only its hash is kept.
 *
 * @returns the token
 * @throws Refusal not-allowed | conflict
 */
export async function invitePerson(actor: Actor, invite: NewInvite, now: Date): Promise<string> {
  requirePermission(actor, "manage-people");
  const email = invite.email.trim().toLowerCase();
  return inTransaction(async (db) => {
    if (await findCredentials(db, email)) {
      throw new Refusal("conflict", "Somebody with this e-mail address is already here.", {
        email: "Already here.",
      });
    }
    return writeInvite(db, actor, { ...invite, email }, now);
  });
}

/**
 * Invites somebody who is here already and has forgotten the password: the link lets them choose a new one, and
 * changes nothing else.
 *
 * @returns the token
 * @throws Refusal not-allowed | not-found | conflict when the person is kept out
 */
export async function invitePersonAnew(actor: Actor, personId: string, now: Date): Promise<string> {
  requirePermission(actor, "manage-people");
  return inTransaction(async (db) => {
    const person = await findPerson(db, personId);
    if (!person) throw new Refusal("not-found", "There is no such person.");
    if (person.disabledAt) throw new Refusal("conflict", "Let this person in again first.");
    const { email, name, role } = person;
    return writeInvite(db, actor, { email, name, role }, now);
  });
}

async function writeInvite(db: Db, actor: Actor, invite: NewInvite, now: Date): Promise<string> {
  const { token, tokenHash } = newSecretToken();
  const { email, name, role } = invite;
  const id = await insertInvite(db, {
    email,
    name,
    role,
    tokenHash,
    createdAt: now,
    expiresAt: new Date(now.getTime() + INVITE_DAYS * DAY_MS),
    invitedById: actor.personId,
  });
  await recordAudit(db, {
    actor,
    at: now,
    action: "person.invited",
    subjectType: "invite",
    subjectId: id,
    detail: { role },
  });
  return token;
}

/** The invitation behind a link. @throws Refusal expired */
export async function openInvite(token: string, now: Date): Promise<InviteRow> {
  const invite = await reading((db) => findOpenInvite(db, hashSecretToken(token), now));
  if (!invite) {
    throw new Refusal(
      "expired",
      "This invitation was used, withdrawn or is too old. Ask for a new one.",
    );
  }
  return invite;
}

/**
 * Joins the shop with an invitation, or takes a new password with it. It is used up in the same transaction: of
 * two who try it at once one wins.
 *
 * @throws Refusal expired | invalid | conflict
 */
export async function acceptInvite(token: string, password: string, now: Date): Promise<string> {
  const invite = await openInvite(token, now);
  checkNewPassword(password, invite.email);
  const passwordHash = await hashPassword(password);
  await inTransaction(async (db) => {
    if (!(await takeInvite(db, invite.id, now))) {
      throw new Refusal("expired", "This invitation was used a moment ago.");
    }
    const joined = await replacePassword(db, invite, passwordHash, now);
    const { email, name, role } = invite;
    const personId =
      joined ?? (await insertPerson(db, { email, name, role, createdAt: now, passwordHash }));
    await recordAudit(db, {
      actor: { personId },
      at: now,
      action: joined ? "person.password-replaced" : "person.joined",
      subjectType: "person",
      subjectId: personId,
    });
  });
  return invite.email;
}

/**
 * Gives the person who was invited anew the new password, and signs out every browser. Only an invitation that is
 * younger than the person does so: an older one was meant for joining, and its e-mail is taken by now.
 *
 * @returns the person, or null where nobody was invited anew
 */
async function replacePassword(
  db: Db,
  invite: InviteRow,
  passwordHash: string,
  now: Date,
): Promise<string | null> {
  const person = await findCredentials(db, invite.email);
  if (!person || person.createdAt >= invite.createdAt) return null;
  if (person.disabledAt) throw new Refusal("expired", "This invitation no longer holds.");
  await updatePerson(db, person.id, { passwordHash });
  await revokeSessions(db, person.id, now);
  return person.id;
}

/** @throws Refusal not-allowed | conflict */
export async function withdrawInvite(actor: Actor, inviteId: string, now: Date): Promise<void> {
  requirePermission(actor, "manage-people");
  await inTransaction(async (db) => {
    if (!(await revokeInvite(db, inviteId, now))) {
      throw new Refusal("conflict", "This invitation is no longer open.");
    }
    await recordAudit(db, {
      actor,
      at: now,
      action: "person.invite-withdrawn",
      subjectType: "invite",
      subjectId: inviteId,
    });
  });
}
