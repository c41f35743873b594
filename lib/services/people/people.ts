import { type Actor, requirePermission, type Role } from "@/lib/access";
import {
  type Db,
  findPerson,
  inTransaction,
  type InviteRow,
  listOpenInvites,
  listPeople,
  lockActiveOwners,
  type PersonRow,
  reading,
  recordAudit,
  revokeSessions,
  updatePerson,
} from "@/lib/data";
import { Refusal } from "@/lib/errors";

export type PeopleOverview = {
  readonly people: readonly (PersonRow & { readonly liveSessions: number })[];
  readonly invites: readonly InviteRow[];
};

/** Everybody who can or could sign in, and who is invited. @throws Refusal not-allowed */
export async function peopleOverview(actor: Actor, now: Date): Promise<PeopleOverview> {
  requirePermission(actor, "manage-people");
  return reading(async (db) => ({
    people: await listPeople(db, now),
    invites: await listOpenInvites(db, now),
  }));
}

/** @throws Refusal not-allowed | not-found | conflict when it would leave no owner */
export async function changeRole(
  actor: Actor,
  personId: string,
  role: Role,
  now: Date,
): Promise<void> {
  requirePermission(actor, "manage-people");
  await inTransaction(async (db) => {
    if (role !== "OWNER") await keepAnOwner(db, personId);
    await requirePerson(db, personId);
    await updatePerson(db, personId, { role });
    await audit(db, actor, now, "person.role-changed", personId, { role });
  });
}

/** Keeps somebody out from now on, and ends their sessions. @throws Refusal not-allowed | not-found | conflict */
export async function disablePerson(actor: Actor, personId: string, now: Date): Promise<void> {
  requirePermission(actor, "manage-people");
  await inTransaction(async (db) => {
    await keepAnOwner(db, personId);
    await requirePerson(db, personId);
    await updatePerson(db, personId, { disabledAt: now });
    await revokeSessions(db, personId, now);
    await audit(db, actor, now, "person.disabled", personId);
  });
}

/** @throws Refusal not-allowed | not-found */
export async function enablePerson(actor: Actor, personId: string, now: Date): Promise<void> {
  requirePermission(actor, "manage-people");
  await inTransaction(async (db) => {
    await requirePerson(db, personId);
    await updatePerson(db, personId, { disabledAt: null });
    await audit(db, actor, now, "person.enabled", personId);
  });
}

/** Signs somebody out of every browser. @throws Refusal not-allowed | not-found */
export async function signOutEverywhere(
  actor: Actor,
  personId: string,
  now: Date,
): Promise<number> {
  requirePermission(actor, "manage-people");
  return inTransaction(async (db) => {
    await requirePerson(db, personId);
    const ended = await revokeSessions(db, personId, now);
    await audit(db, actor, now, "person.signed-out-everywhere", personId);
    return ended;
  });
}

/** Refuses what would leave the shop without an owner who can sign in; locks the owners' rows (see lib/data). */
async function keepAnOwner(db: Db, personId: string): Promise<void> {
  const owners = await lockActiveOwners(db);
  if (owners.length === 1 && owners[0] === personId) {
    throw new Refusal("conflict", "This is the only owner. Make somebody else an owner first.");
  }
}

async function requirePerson(db: Db, personId: string): Promise<void> {
  if (!(await findPerson(db, personId))) throw new Refusal("not-found", "There is no such person.");
}

async function audit(
  db: Db,
  actor: Actor,
  at: Date,
  action: string,
  subjectId: string,
  detail: Readonly<Record<string, string>> = {},
): Promise<void> {
  await recordAudit(db, { actor, at, action, subjectType: "person", subjectId, detail });
}
