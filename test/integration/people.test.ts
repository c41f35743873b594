import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor, Role } from "@/lib/access";
import { findSessionPerson, insertSession, passwordMatches, reading } from "@/lib/data";
import { database } from "@/lib/data/client";
import { openSession } from "@/lib/server/auth";
import {
  acceptInvite,
  changeOwnPassword,
  changeRole,
  disablePerson,
  enablePerson,
  invitePerson,
  invitePersonAnew,
  openInvite,
  ownSessions,
  peopleOverview,
  signOutElsewhere,
  signOutEverywhere,
  withdrawInvite,
} from "@/lib/services/people";
import {
  addMember,
  DAY_MS,
  later,
  type Member,
  MINUTE_MS,
  MONDAY,
  openEmptyShop,
  outcomes,
  PASSWORD,
} from "../support/people";

const NEW_PASSWORD = "another five quiet words";
const SOON = later(MINUTE_MS);
const EXPIRED = { code: "expired" };
const CONFLICT = { code: "conflict" };

let owner: Actor;
beforeAll(async () => {
  owner = await openEmptyShop();
});

const personByEmail = (email: string) => database().person.findUnique({ where: { email } });
const personById = (id: string) => database().person.findUniqueOrThrow({ where: { id } });
const signIn = (email: string, password = PASSWORD) =>
  openSession({ email, password }, { address: "192.0.2.1", userAgent: "Firefox" }, MONDAY);
const isLive = async (sessionId: string, now = SOON) =>
  (await reading((db) => findSessionPerson(db, sessionId, now))) !== null;

let serial = 0;
const newcomer = (role: Role = "BENCH") => {
  serial += 1;
  return { email: `newcomer-${serial}@example.org`, name: `Newcomer ${serial}`, role };
};

describe("an invitation", () => {
  it("lets its receiver in once, with the role and e-mail that the owner wrote", async () => {
    const token = await invitePerson(
      owner,
      { name: "Piet", email: " Piet@Example.ORG ", role: "FRONT_DESK" },
      MONDAY,
    );
    expect(await openInvite(token, SOON)).toMatchObject({ email: "piet@example.org" });

    expect(await acceptInvite(token, NEW_PASSWORD, SOON)).toBe("piet@example.org");

    const piet = await personByEmail("piet@example.org");
    expect(piet).toMatchObject({ name: "Piet", role: "FRONT_DESK", disabledAt: null });
    await expect(signIn("piet@example.org", NEW_PASSWORD)).resolves.toEqual(expect.any(String));
    await expect(acceptInvite(token, NEW_PASSWORD, SOON)).rejects.toMatchObject(EXPIRED);
    await expect(openInvite(token, SOON)).rejects.toMatchObject(EXPIRED);
  });

  it("is kept as a hash of its token", async () => {
    const token = await invitePerson(owner, newcomer(), MONDAY);
    expect(token.length).toBeGreaterThanOrEqual(43);
    const rows = await database().invite.findMany();
    expect(JSON.stringify(rows)).not.toContain(token);
    for (const row of rows) {
      await expect(openInvite(row.tokenHash, SOON)).rejects.toMatchObject(EXPIRED);
    }
  });

  it("makes one person of two who accept it at the same moment", async () => {
    const invite = newcomer();
    const token = await invitePerson(owner, invite, MONDAY);

    const { done, refusals } = await outcomes([
      acceptInvite(token, NEW_PASSWORD, SOON),
      acceptInvite(token, PASSWORD, SOON),
    ]);

    expect(done).toBe(1);
    expect(refusals.map(({ code }) => code)).toEqual(["expired"]);
    expect(await database().person.count({ where: { email: invite.email } })).toBe(1);
  });

  it("holds for seven days to the millisecond", async () => {
    const invite = newcomer();
    const token = await invitePerson(owner, invite, MONDAY);
    await expect(openInvite(token, later(7 * DAY_MS - 1))).resolves.toMatchObject(invite);
    await expect(openInvite(token, later(7 * DAY_MS))).rejects.toMatchObject(EXPIRED);
    await expect(acceptInvite(token, NEW_PASSWORD, later(7 * DAY_MS))).rejects.toMatchObject(
      EXPIRED,
    );
    expect(await personByEmail(invite.email)).toBeNull();
  });

  it("can be withdrawn once, and then lets nobody in", async () => {
    const invite = newcomer();
    const token = await invitePerson(owner, invite, MONDAY);
    const { id } = await openInvite(token, MONDAY);

    await withdrawInvite(owner, id, MONDAY);

    await expect(acceptInvite(token, NEW_PASSWORD, SOON)).rejects.toMatchObject(EXPIRED);
    await expect(withdrawInvite(owner, id, SOON)).rejects.toMatchObject(CONFLICT);
    expect(await personByEmail(invite.email)).toBeNull();
  });

  it("is not made for an e-mail that is here already", async () => {
    const bench = await addMember("BENCH");
    const before = await database().invite.count();
    await expect(
      invitePerson(owner, { ...bench, email: bench.email.toUpperCase(), role: "OWNER" }, MONDAY),
    ).rejects.toMatchObject({ ...CONFLICT, fields: { email: "Already here." } });
    expect(await database().invite.count()).toBe(before);
  });

  it("changes nobody who came by another invitation meanwhile", async () => {
    const invite = newcomer("BENCH");
    const first = await invitePerson(owner, invite, MONDAY);
    const second = await invitePerson(owner, { ...invite, role: "OWNER" }, MONDAY);
    await acceptInvite(first, PASSWORD, SOON);

    await expect(acceptInvite(second, NEW_PASSWORD, SOON)).rejects.toMatchObject(CONFLICT);

    expect(await personByEmail(invite.email)).toMatchObject({ role: "BENCH" });
    await expect(signIn(invite.email, PASSWORD)).resolves.toEqual(expect.any(String));
  });

  it.each(["disabled", "demoted"])("of an owner who is then %s lets nobody in", async (fate) => {
    const other = await addMember("OWNER");
    const invite = newcomer("OWNER");
    const token = await invitePerson(other, invite, MONDAY);
    if (fate === "disabled") await disablePerson(owner, other.personId, MONDAY);
    else await changeRole(owner, other.personId, "BENCH", MONDAY);

    await expect(openInvite(token, SOON)).rejects.toMatchObject(EXPIRED);
    await expect(acceptInvite(token, NEW_PASSWORD, SOON)).rejects.toMatchObject(EXPIRED);
    expect(await personByEmail(invite.email)).toBeNull();
  });

  it.each([
    ["too short", () => "short"],
    ["the e-mail itself", (email: string) => email.toUpperCase()],
    ["one character over and over", () => "aaaaaaaaaaaaaaa"],
  ])("takes no password that is %s, and is not used up by it", async (_what, passwordFor) => {
    const invite = newcomer();
    const token = await invitePerson(owner, invite, MONDAY);
    await expect(acceptInvite(token, passwordFor(invite.email), SOON)).rejects.toMatchObject({
      code: "invalid",
      fields: { password: expect.any(String) as string },
    });
    await acceptInvite(token, NEW_PASSWORD, SOON);
  });

  it.each(["", "x", "a\0b", "../../etc"])("is not opened by %j", async (token) => {
    await expect(openInvite(token, SOON)).rejects.toMatchObject(EXPIRED);
  });
});

describe("a link for a new password", () => {
  it("replaces the password once, signs out every browser, and changes nothing else", async () => {
    const bench = await addMember("BENCH");
    const session = await signIn(bench.email);
    const token = await invitePersonAnew(owner, bench.personId, SOON);
    await changeRole(owner, bench.personId, "FRONT_DESK", SOON);
    expect(await isLive(session)).toBe(true);

    await acceptInvite(token, NEW_PASSWORD, later(2 * MINUTE_MS));

    expect(await isLive(session, later(2 * MINUTE_MS))).toBe(false);
    expect(await personById(bench.personId)).toMatchObject({ role: "FRONT_DESK" });
    await expect(signIn(bench.email)).rejects.toMatchObject({ code: "not-signed-in" });
    await expect(signIn(bench.email, NEW_PASSWORD)).resolves.toEqual(expect.any(String));
    await expect(acceptInvite(token, PASSWORD, later(3 * MINUTE_MS))).rejects.toMatchObject(
      EXPIRED,
    );
  });

  it("is not made for somebody who is kept out, and does not let them in", async () => {
    const bench = await addMember("BENCH");
    const token = await invitePersonAnew(owner, bench.personId, SOON);
    await disablePerson(owner, bench.personId, SOON);

    await expect(invitePersonAnew(owner, bench.personId, SOON)).rejects.toMatchObject(CONFLICT);
    await expect(acceptInvite(token, NEW_PASSWORD, later(2 * MINUTE_MS))).rejects.toMatchObject(
      EXPIRED,
    );
    const { passwordHash, disabledAt } = await personById(bench.personId);
    expect(disabledAt).toEqual(SOON);
    expect(await passwordMatches(passwordHash, NEW_PASSWORD)).toBe(false);
  });
});

describe("the owners", () => {
  let second: Member;
  /** Exactly two: the first, and `second`. */
  beforeEach(async () => {
    await database().person.updateMany({
      where: { role: "OWNER", id: { not: owner.personId } },
      data: { disabledAt: MONDAY },
    });
    await database().person.update({
      where: { id: owner.personId },
      data: { role: "OWNER", disabledAt: null },
    });
    second = await addMember("OWNER");
  });
  const activeOwners = () =>
    database().person.count({ where: { role: "OWNER", disabledAt: null } });

  it("cannot all be disabled", async () => {
    await disablePerson(owner, second.personId, SOON);
    await expect(disablePerson(owner, owner.personId, SOON)).rejects.toMatchObject(CONFLICT);
    expect(await activeOwners()).toBe(1);
  });

  it.each(["FRONT_DESK", "BENCH"] as const)("cannot all become %s", async (role) => {
    await changeRole(owner, second.personId, role, SOON);
    await expect(changeRole(owner, owner.personId, role, SOON)).rejects.toMatchObject(CONFLICT);
    await changeRole(owner, owner.personId, "OWNER", SOON);
    expect(await activeOwners()).toBe(1);
  });

  it("do not count while they are disabled", async () => {
    await disablePerson(owner, second.personId, SOON);
    await changeRole(owner, second.personId, "BENCH", SOON);
    await expect(changeRole(owner, owner.personId, "BENCH", SOON)).rejects.toMatchObject(CONFLICT);
  });

  it.each<[string, (by: Actor, whom: Actor) => Promise<void>]>([
    ["disable", (by, whom) => disablePerson(by, whom.personId, SOON)],
    ["demote", (by, whom) => changeRole(by, whom.personId, "BENCH", SOON)],
  ])("keep one when two %s each other at the same moment", async (_what, act) => {
    const { done, refusals } = await outcomes([act(owner, second), act(second, owner)]);
    expect(done).toBe(1);
    expect(refusals.map(({ code }) => code)).toEqual(["conflict"]);
    expect(await activeOwners()).toBe(1);
  });
});

describe("a person", () => {
  it("takes on another role at once, and it is written down", async () => {
    const bench = await addMember("BENCH");
    await changeRole(owner, bench.personId, "FRONT_DESK", SOON);
    expect(await personById(bench.personId)).toMatchObject({ role: "FRONT_DESK" });
    expect(
      await database().auditEntry.findMany({ where: { subjectId: bench.personId } }),
    ).toMatchObject([
      { action: "person.role-changed", personId: owner.personId, detail: { role: "FRONT_DESK" } },
    ]);
  });

  it("is kept out, signed out, and let in again", async () => {
    const bench = await addMember("BENCH");
    const session = await signIn(bench.email);
    await disablePerson(owner, bench.personId, SOON);
    expect(await isLive(session)).toBe(false);
    await enablePerson(owner, bench.personId, SOON);
    expect(await personById(bench.personId)).toMatchObject({ disabledAt: null });
    expect(await isLive(session)).toBe(false);
  });

  it("who does not exist is not found", async () => {
    const nobody = crypto.randomUUID();
    const tries = [
      changeRole(owner, nobody, "BENCH", SOON),
      disablePerson(owner, nobody, SOON),
      enablePerson(owner, nobody, SOON),
      signOutEverywhere(owner, nobody, SOON),
      invitePersonAnew(owner, nobody, SOON),
    ];
    const { refusals } = await outcomes(tries);
    expect(refusals.map(({ code }) => code)).toEqual(Array(5).fill("not-found"));
  });

  it("is listed with the sessions that still run", async () => {
    const bench = await addMember("BENCH");
    await signIn(bench.email);
    const liveAt = async (now: Date) => {
      const { people } = await peopleOverview(owner, now);
      return people.find(({ id }) => id === bench.personId)?.liveSessions;
    };
    expect(await liveAt(SOON)).toBe(1);
    expect(await liveAt(later(31 * DAY_MS))).toBe(0);
  });
});

describe("one's own account", () => {
  let member: Member;
  let here: string;
  let there: string;
  beforeEach(async () => {
    member = await addMember("BENCH");
    here = await signIn(member.email);
    there = await signIn(member.email);
  });

  it("gets a new password, which signs out every other browser", async () => {
    await changeOwnPassword(
      member,
      { current: PASSWORD, password: NEW_PASSWORD, sessionId: here },
      SOON,
    );
    expect([await isLive(here), await isLive(there)]).toEqual([true, false]);
    await expect(signIn(member.email, PASSWORD)).rejects.toMatchObject({ code: "not-signed-in" });
    await expect(signIn(member.email, NEW_PASSWORD)).resolves.toEqual(expect.any(String));
  });

  it.each([
    ["a wrong current password", { current: "not this one" }, "current"],
    ["a short new one", { password: "short" }, "password"],
    ["one character over and over", { password: "aaaaaaaaaaaa" }, "password"],
  ])("keeps the password at %s", async (_what, change, field) => {
    const asked = { current: PASSWORD, password: NEW_PASSWORD, sessionId: here, ...change };
    await expect(changeOwnPassword(member, asked, SOON)).rejects.toMatchObject({
      code: "invalid",
      fields: { [field]: expect.any(String) as string },
    });
    expect(await isLive(there)).toBe(true);
    await expect(signIn(member.email, PASSWORD)).resolves.toEqual(expect.any(String));
  });

  it("signs out elsewhere, and nobody else", async () => {
    const other = await addMember("BENCH");
    const others = await signIn(other.email);
    expect(await signOutElsewhere(member, here, SOON)).toBe(1);
    expect([await isLive(here), await isLive(there), await isLive(others)]).toEqual([
      true,
      false,
      true,
    ]);
  });

  it("cannot keep the session of somebody else by naming it", async () => {
    const other = await addMember("BENCH");
    const others = await signIn(other.email);
    await signOutElsewhere(member, others, SOON);
    expect([await isLive(here), await isLive(there), await isLive(others)]).toEqual([
      false,
      false,
      true,
    ]);
  });

  it("shows only its own sessions, only those that run", async () => {
    await reading((db) =>
      insertSession(db, {
        personId: member.personId,
        createdAt: MONDAY,
        expiresAt: SOON,
        userAgent: "",
      }),
    );
    const sessions = await ownSessions(member, SOON);
    expect(new Set(sessions.map(({ id }) => id))).toEqual(new Set([here, there]));
  });
});

describe.each(["FRONT_DESK", "BENCH", "STRANGER"])("somebody who is %s", (role) => {
  // A role that the table of permissions does not know is refused like the others.
  const asRole = (person: Actor): Actor => ({ ...person, role: role as Role });

  it.each<[string, (actor: Actor, whom: Member) => Promise<unknown>]>([
    ["see the people", (actor) => peopleOverview(actor, SOON)],
    ["invite", (actor) => invitePerson(actor, newcomer("OWNER"), SOON)],
    ["make a link for a password", (actor, whom) => invitePersonAnew(actor, whom.personId, SOON)],
    ["withdraw an invitation", (actor) => withdrawInvite(actor, crypto.randomUUID(), SOON)],
    ["change a role", (actor, whom) => changeRole(actor, whom.personId, "BENCH", SOON)],
    ["become an owner", (actor) => changeRole(actor, actor.personId, "OWNER", SOON)],
    ["disable", (actor, whom) => disablePerson(actor, whom.personId, SOON)],
    ["enable", (actor, whom) => enablePerson(actor, whom.personId, SOON)],
    ["sign somebody out", (actor, whom) => signOutEverywhere(actor, whom.personId, SOON)],
  ])("may not %s", async (_what, act) => {
    const whom = await addMember("FRONT_DESK");
    const actor = asRole(await addMember("BENCH"));
    const before = await database().auditEntry.count();

    await expect(act(actor, whom)).rejects.toMatchObject({ code: "not-allowed" });

    expect(await personById(whom.personId)).toMatchObject({ role: "FRONT_DESK", disabledAt: null });
    expect(await personById(actor.personId)).toMatchObject({ role: "BENCH" });
    expect(await database().auditEntry.count()).toBe(before);
  });
});
