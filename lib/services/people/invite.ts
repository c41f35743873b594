import { createHash, randomBytes } from "node:crypto";
import { type Actor, requirePermission, type Role } from "@/lib/access";
import {
  findCredentials,
  findOpenInvite,
  hashPassword,
  inTransaction,
  insertInvite,
  insertPerson,
  type InviteRow,
  reading,
  recordAudit,
  revokeInvite,
  takeInvite,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";
import { checkNewPassword } from "./password";

const INVITE_DAYS = 7;
const DAY_MS = 86_400_000;
const hashToken = (token: string): string => createHash("sha256").update(token).digest("hex");

export type NewInvite = { readonly email: string; readonly name: string; readonly role: Role };

/**
 * Invites somebody. The link's token is given once and only its hash is kept.
 *
 * @returns the token
 * @throws Refusal not-allowed | conflict
 */
export async function invitePerson(actor: Actor, invite: NewInvite, now: Date): Promise<string> {
  requirePermission(actor, "manage-people");
  const token = randomBytes(32).toString("base64url");
  const email = invite.email.trim().toLowerCase();
  await inTransaction(async (db) => {
    if (await findCredentials(db, email)) {
      throw new Refusal("conflict", "Somebody with this e-mail address is already here.", {
        email: "Already here.",
      });
    }
    const id = await insertInvite(db, {
      ...invite,
      email,
      tokenHash: hashToken(token),
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
      detail: { role: invite.role },
    });
  });
  return token;
}

/** The invitation behind a link. @throws Refusal expired */
export async function openInvite(token: string, now: Date): Promise<InviteRow> {
  const invite = await reading((db) => findOpenInvite(db, hashToken(token), now));
  if (!invite) {
    throw new Refusal(
      "expired",
      "This invitation was used, withdrawn or is too old. Ask for a new one.",
    );
  }
  return invite;
}

/**
 * Joins the shop with an invitation, which is used up in the same transaction: of two who try it once wins.
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
    const { email, name, role } = invite;
    const personId = await insertPerson(db, { email, name, role, createdAt: now, passwordHash });
    await recordAudit(db, {
      actor: { personId },
      at: now,
      action: "person.joined",
      subjectType: "person",
      subjectId: personId,
    });
  });
  return invite.email;
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
