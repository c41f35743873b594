import type { Role } from "@/lib/access";
import type { Db } from "./client";

export type InviteRow = {
  readonly id: string;
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly createdAt: Date;
  readonly expiresAt: Date;
};
const INVITE = {
  id: true,
  email: true,
  name: true,
  role: true,
  createdAt: true,
  expiresAt: true,
} as const;

export async function insertInvite(
  db: Db,
  invite: Omit<InviteRow, "id"> & { tokenHash: string; invitedById: string },
): Promise<string> {
  const row = await db.invite.create({ data: invite, select: { id: true } });
  return row.id;
}

/** An invitation holds no longer than its inviter could still invite: nobody leaves a door open behind them. */
const open = (now: Date) =>
  ({
    acceptedAt: null,
    revokedAt: null,
    expiresAt: { gt: now },
    invitedBy: { role: "OWNER", disabledAt: null },
  }) as const;

export async function listOpenInvites(db: Db, now: Date): Promise<InviteRow[]> {
  return db.invite.findMany({ where: open(now), orderBy: { createdAt: "desc" }, select: INVITE });
}

export async function findOpenInvite(
  db: Db,
  tokenHash: string,
  now: Date,
): Promise<InviteRow | null> {
  return db.invite.findFirst({ where: { tokenHash, ...open(now) }, select: INVITE });
}

/** Uses an invitation up: a conditional update, so that of two who use it at once one wins. */
export async function takeInvite(db: Db, id: string, now: Date): Promise<boolean> {
  const { count } = await db.invite.updateMany({
    where: { id, ...open(now) },
    data: { acceptedAt: now },
  });
  return count === 1;
}

export async function revokeInvite(db: Db, id: string, now: Date): Promise<boolean> {
  const { count } = await db.invite.updateMany({
    where: { id, ...open(now) },
    data: { revokedAt: now },
  });
  return count === 1;
}
