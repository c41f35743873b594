import type { Role } from "@/lib/access";
import type { Db } from "./client";

export type PersonRow = {
  readonly id: string;
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly createdAt: Date;
  readonly disabledAt: Date | null;
};
const PERSON = {
  id: true,
  email: true,
  name: true,
  role: true,
  createdAt: true,
  disabledAt: true,
} as const;

export type SessionRow = {
  readonly id: string;
  readonly createdAt: Date;
  readonly lastSeenAt: Date;
  readonly userAgent: string;
};

/** The person an e-mail belongs to, with the kept password; null when unknown. */
export async function findCredentials(
  db: Db,
  email: string,
): Promise<(PersonRow & { passwordHash: string }) | null> {
  return db.person.findUnique({ where: { email }, select: { ...PERSON, passwordHash: true } });
}

export async function findPasswordHash(db: Db, personId: string): Promise<string | null> {
  const row = await db.person.findUnique({
    where: { id: personId },
    select: { passwordHash: true },
  });
  return row?.passwordHash ?? null;
}

export async function listPeople(
  db: Db,
  now: Date,
): Promise<(PersonRow & { liveSessions: number })[]> {
  const live = { revokedAt: null, expiresAt: { gt: now } };
  const rows = await db.person.findMany({
    orderBy: [{ disabledAt: { sort: "asc", nulls: "first" } }, { name: "asc" }],
    select: { ...PERSON, _count: { select: { sessions: { where: live } } } },
  });
  return rows.map(({ _count, ...person }) => ({ ...person, liveSessions: _count.sessions }));
}

export async function findPerson(db: Db, id: string): Promise<PersonRow | null> {
  return db.person.findUnique({ where: { id }, select: PERSON });
}

export async function insertPerson(
  db: Db,
  person: Pick<PersonRow, "email" | "name" | "role" | "createdAt"> & { passwordHash: string },
): Promise<string> {
  const row = await db.person.create({ data: person, select: { id: true } });
  return row.id;
}

export async function updatePerson(
  db: Db,
  id: string,
  change: { role?: Role; disabledAt?: Date | null; passwordHash?: string },
): Promise<void> {
  await db.person.update({ where: { id }, data: change });
}

/**
 * Owners who can sign in, their rows locked: two owners who disable each other at the same moment line up
 * here, and the second sees that the first is gone.
 */
export async function lockActiveOwners(db: Db): Promise<readonly string[]> {
  const rows = await db.$queryRaw<{ id: string }[]>`
    SELECT id::text FROM person WHERE role = 'OWNER' AND disabled_at IS NULL ORDER BY id FOR UPDATE`;
  return rows.map((row) => row.id);
}

// ---------------------------------------------------------------- sessions

export async function insertSession(
  db: Db,
  session: { personId: string; createdAt: Date; expiresAt: Date; userAgent: string },
): Promise<string> {
  const row = await db.sessionRecord.create({
    data: { ...session, lastSeenAt: session.createdAt },
    select: { id: true },
  });
  return row.id;
}

/** The person behind a live session of an enabled person; null otherwise. */
export async function findSessionPerson(
  db: Db,
  sessionId: string,
  now: Date,
): Promise<{ person: PersonRow; lastSeenAt: Date } | null> {
  const row = await db.sessionRecord.findFirst({
    where: { id: sessionId, revokedAt: null, expiresAt: { gt: now }, person: { disabledAt: null } },
    select: { lastSeenAt: true, person: { select: PERSON } },
  });
  return row;
}

export async function touchSession(db: Db, sessionId: string, now: Date): Promise<void> {
  await db.sessionRecord.updateMany({ where: { id: sessionId }, data: { lastSeenAt: now } });
}

export async function listSessions(db: Db, personId: string, now: Date): Promise<SessionRow[]> {
  return db.sessionRecord.findMany({
    where: { personId, revokedAt: null, expiresAt: { gt: now } },
    orderBy: { lastSeenAt: "desc" },
    select: { id: true, createdAt: true, lastSeenAt: true, userAgent: true },
  });
}

/** Ends sessions of a person: one, or all but one. @returns how many */
export async function revokeSessions(
  db: Db,
  personId: string,
  now: Date,
  which: { only?: string; except?: string } = {},
): Promise<number> {
  const id = which.only ? { id: which.only } : which.except ? { id: { not: which.except } } : {};
  const { count } = await db.sessionRecord.updateMany({
    where: { personId, revokedAt: null, ...id },
    data: { revokedAt: now },
  });
  return count;
}
