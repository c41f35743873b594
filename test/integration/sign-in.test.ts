import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { findSessionPerson, reading, revokeSessions } from "@/lib/data";
import { database } from "@/lib/data/client";
import { type Caller, openSession } from "@/lib/server/auth";
import { countTry, forgetTries } from "@/lib/server/limits";
import { disablePerson, enablePerson, signOutEverywhere } from "@/lib/services/people";
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

const HOME: Caller = { address: "192.0.2.1", userAgent: "Firefox on Linux" };
const NOT_SIGNED_IN = { code: "not-signed-in" };
const TOO_MANY = { code: "too-many-tries" };

const signIn = (email: string, password = PASSWORD, caller = HOME, now = MONDAY) =>
  openSession({ email, password }, caller, now);
const personOf = (sessionId: string, now = MONDAY) =>
  reading((db) => findSessionPerson(db, sessionId, now));

let owner: Actor;
beforeAll(async () => {
  owner = await openEmptyShop();
});

describe("openSession", () => {
  it("opens a session for the right password", async () => {
    const bench = await addMember("BENCH");
    const sessionId = await signIn(` ${bench.email.toUpperCase()} `);

    const found = await personOf(sessionId);
    expect(found?.person).toMatchObject({ id: bench.personId, role: "BENCH", email: bench.email });
    expect(await database().sessionRecord.findUnique({ where: { id: sessionId } })).toMatchObject({
      createdAt: MONDAY,
      expiresAt: later(30 * DAY_MS),
      userAgent: HOME.userAgent,
      revokedAt: null,
    });
    expect(
      await database().auditEntry.count({
        where: { action: "person.signed-in", personId: bench.personId },
      }),
    ).toBe(1);
  });

  it("opens another session each time", async () => {
    const { email } = await addMember("BENCH");
    expect(await signIn(email)).not.toBe(await signIn(email));
  });

  it("answers the same to a wrong password, an unknown e-mail and a disabled person", async () => {
    const here = await addMember("BENCH");
    const gone = await addMember("BENCH");
    await disablePerson(owner, gone.personId, MONDAY);
    const before = await database().sessionRecord.count();

    const { refusals } = await outcomes([
      signIn(here.email, `${PASSWORD} `),
      signIn(here.email, PASSWORD.toUpperCase()),
      signIn("nobody@example.org"),
      signIn(gone.email),
    ]);

    expect(refusals.map(({ code }) => code)).toEqual(Array(4).fill("not-signed-in"));
    expect(new Set(refusals.map(({ message }) => message)).size).toBe(1);
    expect(await database().sessionRecord.count()).toBe(before);
  });

  it.each([
    ["no e-mail", "", PASSWORD],
    ["no password", "ada@example.org", ""],
    ["an e-mail that no database can keep", "a\0da@example.org", PASSWORD],
    ["an e-mail without end", `${"a".repeat(100_000)}@example.org`, PASSWORD],
    ["a password without end", "ada@example.org", "a".repeat(100_000)],
  ])("answers %s as it answers a wrong password", async (_what, email, password) => {
    await expect(signIn(email, password)).rejects.toMatchObject(NOT_SIGNED_IN);
  });

  it("never takes a stored password that is no hash for a match", async () => {
    const { personId, email } = await addMember("BENCH");
    for (const passwordHash of ["!", "", PASSWORD]) {
      await database().person.update({ where: { id: personId }, data: { passwordHash } });
      await expect(signIn(email, PASSWORD)).rejects.toMatchObject(NOT_SIGNED_IN);
      await expect(signIn(email, passwordHash)).rejects.toMatchObject(NOT_SIGNED_IN);
    }
  });

  it("keeps a long description of a browser short", async () => {
    const { email } = await addMember("BENCH");
    const id = await signIn(email, PASSWORD, { ...HOME, userAgent: "x".repeat(5000) });
    const row = await database().sessionRecord.findUniqueOrThrow({ where: { id } });
    expect(row.userAgent).toHaveLength(300);
  });
});

describe("too many tries", () => {
  /** Wrong passwords, one after another. @returns the answers' codes */
  async function guess(email: string, times: number, callerOf: (at: number) => Caller) {
    const codes: string[] = [];
    for (let at = 0; at < times; at += 1) {
      const { refusals } = await outcomes([signIn(email, "a wrong password", callerOf(at))]);
      codes.push(refusals[0]?.code ?? "let in");
    }
    return codes;
  }
  const elsewhere = (at: number): Caller => ({ ...HOME, address: `203.0.113.${at}` });

  it("from one address are refused after eight, even with the right password", async () => {
    const { email } = await addMember("BENCH");
    expect(await guess(email, 10, () => HOME)).toEqual([
      ...Array<string>(8).fill("not-signed-in"),
      "too-many-tries",
      "too-many-tries",
    ]);
    await expect(signIn(email)).rejects.toMatchObject(TOO_MANY);
    await expect(signIn(email)).rejects.toThrow(/Wait 1\d minutes/);
  });

  it("from one address leave other addresses and other people alone", async () => {
    const { email } = await addMember("BENCH");
    const neighbour = await addMember("BENCH");
    await guess(email, 9, () => HOME);

    await expect(signIn(neighbour.email)).resolves.toEqual(expect.any(String));
    await expect(signIn(email, PASSWORD, elsewhere(1))).resolves.toEqual(expect.any(String));
  });

  it("at one e-mail are refused after thirty, however often the address changes", async () => {
    const { email } = await addMember("BENCH");
    const codes = await guess(email, 32, elsewhere);

    expect(codes.slice(0, 30)).toEqual(Array(30).fill("not-signed-in"));
    expect(codes.slice(30)).toEqual(["too-many-tries", "too-many-tries"]);
    await expect(signIn(email, PASSWORD, elsewhere(99))).rejects.toMatchObject(TOO_MANY);
  });

  it("are counted whatever the case and space of the e-mail", async () => {
    const { email } = await addMember("BENCH");
    await guess(email, 4, () => HOME);
    await guess(` ${email.toUpperCase()} `, 4, () => HOME);
    await expect(signIn(email)).rejects.toMatchObject(TOO_MANY);
  });

  it("are counted for an e-mail that nobody has, so that the limit tells nothing", async () => {
    const codes = await guess("nobody-at-all@example.org", 9, () => HOME);
    expect(codes.at(-1)).toBe("too-many-tries");
  });

  it("are counted one by one when they come at the same moment", async () => {
    const { email } = await addMember("BENCH");
    const { refusals } = await outcomes(
      Array.from({ length: 12 }, () => signIn(email, "a wrong password")),
    );
    const codes = refusals.map(({ code }) => code);
    expect(codes.filter((code) => code === "not-signed-in")).toHaveLength(8);
    expect(codes.filter((code) => code === "too-many-tries")).toHaveLength(4);
  });

  it("are forgotten after a success", async () => {
    const { email } = await addMember("BENCH");
    await guess(email, 7, () => HOME);
    await signIn(email);
    expect(await guess(email, 8, () => HOME)).toEqual(Array(8).fill("not-signed-in"));
  });

  it("are kept without saying whose they are", async () => {
    const { email } = await addMember("BENCH");
    await guess(email, 1, () => HOME);
    const rows = await database().rateLimit.findMany();
    expect(rows.length).toBeGreaterThan(1);
    expect(JSON.stringify(rows.map(({ key }) => key))).not.toContain("@");
  });
});

describe("countTry", () => {
  it("counts each thing and each caller apart, and takes a caller of any length", async () => {
    const who = "x".repeat(100_000);
    for (let at = 0; at < 8; at += 1) await countTry("own-password", who);
    await expect(countTry("own-password", who)).rejects.toMatchObject(TOO_MANY);
    await countTry("own-password", `${who}y`);
    await countTry("setup-code", who);

    await forgetTries("own-password", who);
    await countTry("own-password", who);
  });
});

describe("findSessionPerson", () => {
  let bench: Member;
  let sessionId: string;
  async function fresh(): Promise<void> {
    bench = await addMember("BENCH");
    sessionId = await signIn(bench.email);
    expect((await personOf(sessionId))?.person.id).toBe(bench.personId);
  }

  it("no longer finds a session that was ended", async () => {
    await fresh();
    const other = await signIn(bench.email);
    await reading((db) => revokeSessions(db, bench.personId, MONDAY, { only: sessionId }));
    expect(await personOf(sessionId)).toBeNull();
    expect(await personOf(other)).not.toBeNull();
  });

  it("no longer finds any session of somebody signed out everywhere", async () => {
    await fresh();
    const other = await signIn(bench.email);
    expect(await signOutEverywhere(owner, bench.personId, MONDAY)).toBe(2);
    expect(await personOf(sessionId)).toBeNull();
    expect(await personOf(other)).toBeNull();
  });

  it("finds a session until the moment it runs out", async () => {
    await fresh();
    expect(await personOf(sessionId, later(30 * DAY_MS - 1))).not.toBeNull();
    expect(await personOf(sessionId, later(30 * DAY_MS))).toBeNull();
  });

  it("finds nothing of a disabled person, and no old session once they may come back", async () => {
    await fresh();
    await disablePerson(owner, bench.personId, MONDAY);
    expect(await personOf(sessionId)).toBeNull();
    await enablePerson(owner, bench.personId, later(MINUTE_MS));
    expect(await personOf(sessionId)).toBeNull();
    await expect(signIn(bench.email)).resolves.toEqual(expect.any(String));
  });

  it("finds nothing of a disabled person even where a session was left open", async () => {
    await fresh();
    const disabledAt = MONDAY;
    await database().person.update({ where: { id: bench.personId }, data: { disabledAt } });
    expect(await personOf(sessionId)).toBeNull();
  });

  it("tells of the role as it is now, not as it was at sign-in", async () => {
    await fresh();
    await database().person.update({ where: { id: bench.personId }, data: { role: "FRONT_DESK" } });
    expect((await personOf(sessionId))?.person.role).toBe("FRONT_DESK");
  });

  it("does not know a session that never was", async () => {
    expect(await personOf(crypto.randomUUID())).toBeNull();
  });
});
