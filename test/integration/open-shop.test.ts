import { beforeEach, describe, expect, it } from "vitest";
import { createSetupCode, openShop } from "@/lib/services/shop";
import { hashSetupCode } from "@/lib/services/shop/setup-code";
import { findCredentials, keepSetupCode, passwordMatches, rateCardOn, reading } from "@/lib/data";
import { database } from "@/lib/data/client";
import { later, MINUTE_MS, MONDAY, newShop, outcomes, PASSWORD } from "../support/people";

async function makeCode(now = MONDAY): Promise<string> {
  const code = await createSetupCode(now);
  if (code === undefined) throw new Error("the shop is open already");
  return code;
}

async function counts() {
  const [shops, people, codes, cards, hours] = await Promise.all([
    database().shop.count(),
    database().person.count(),
    database().setupCode.count(),
    database().rateCard.count(),
    database().openingHours.count(),
  ]);
  return { shops, people, codes, cards, hours };
}

const NOTHING_BUT_A_CODE = { shops: 0, people: 0, codes: 1, cards: 0, hours: 0 };

/** Back to before the first visit. The audit trail refuses to be emptied, so the triggers are off meanwhile. */
beforeEach(async () => {
  await database().$transaction([
    database().$executeRaw`SET LOCAL session_replication_role = replica`,
    database().$executeRaw`TRUNCATE shop, setup_code, person, rate_card, opening_hours CASCADE`,
  ]);
});

describe("createSetupCode", () => {
  it("makes another code each time, of letters and digits that are not mistaken for each other", async () => {
    const codes = [await makeCode(), await makeCode(), await makeCode()];
    expect(new Set(codes).size).toBe(3);
    for (const code of codes) expect(code).toMatch(/^([A-HJKMNP-Z2-9]{4}-){2}[A-HJKMNP-Z2-9]{4}$/);
  });

  it("keeps no code, only its hash", async () => {
    const code = await makeCode();
    const [row] = await database().setupCode.findMany();
    expect(row?.codeHash).toMatch(/^[0-9a-f]{64}$/);
    expect(JSON.stringify(row)).not.toContain(code);
  });

  it("lets the newest code alone open the shop", async () => {
    const old = await makeCode();
    const newest = await makeCode(later(MINUTE_MS));

    await expect(openShop(newShop(old), later(2 * MINUTE_MS))).rejects.toMatchObject({
      code: "invalid",
    });
    await openShop(newShop(newest), later(3 * MINUTE_MS));
    expect(await counts()).toMatchObject({ shops: 1, people: 1 });
  });

  it("makes none once the shop is open", async () => {
    await openShop(newShop(await makeCode()), MONDAY);
    expect(await createSetupCode(later(MINUTE_MS))).toBeUndefined();
    expect(await counts()).toMatchObject({ codes: 0 });
  });

  it("leaves one code when several servers start at the same moment", async () => {
    const codes = await Promise.all([1, 2, 3, 4].map(() => makeCode()));
    const { done } = await outcomes(codes.map((code) => openShop(newShop(code), MONDAY)));
    expect(done).toBe(1);
  });
});

describe("openShop", () => {
  it("refuses a wrong code, writes nothing, and lets the right one in afterwards", async () => {
    const code = await makeCode();

    await expect(openShop(newShop("AAAA-AAAA-AAAA"), MONDAY)).rejects.toMatchObject({
      code: "invalid",
      fields: { setupCode: expect.any(String) as string },
    });
    expect(await counts()).toEqual(NOTHING_BUT_A_CODE);
    await openShop(newShop(code), MONDAY);
  });

  it.each(["", "-", "----"])("refuses the code %j, also where none was made", async (code) => {
    await expect(openShop(newShop(code), MONDAY)).rejects.toMatchObject({ code: "invalid" });
    expect(await counts()).toMatchObject({ shops: 0, people: 0 });
  });

  it("does not mind case or separators", async () => {
    const code = await makeCode();
    await openShop(newShop(` ${code.toLowerCase().replaceAll("-", " ")} `), MONDAY);
    expect(await counts()).toMatchObject({ shops: 1 });
  });

  it("makes the visitor the owner, with a password that is kept as a hash", async () => {
    await openShop(newShop(await makeCode(), { ownerEmail: " Ada@Example.ORG " }), MONDAY);

    const owner = await reading((db) => findCredentials(db, "ada@example.org"));
    expect(owner).toMatchObject({ role: "OWNER", name: "Ada Owner", disabledAt: null });
    expect(owner?.passwordHash).toMatch(/^\$argon2id\$/);
    expect(await passwordMatches(owner?.passwordHash ?? null, PASSWORD)).toBe(true);
    const notes = await database().auditEntry.findMany();
    expect(notes).toMatchObject([{ action: "shop.opened", personId: owner?.id }]);
  });

  it("gives an empty shop hours, and rates that the owner can replace on the same day, and nothing else", async () => {
    // Monday evening in Greenwich is Tuesday in Auckland.
    await openShop(
      newShop(await makeCode(), { timeZone: "Pacific/Auckland" }),
      new Date("2030-01-07T20:00:00Z"),
    );

    const hours = await database().openingHours.findMany({ orderBy: { weekday: "asc" } });
    expect(hours.map((span) => [span.weekday, span.opensMinute, span.closesMinute])).toEqual(
      [1, 2, 3, 4, 5].map((weekday) => [weekday, 480, 1020]),
    );
    const tuesday = new Date("2030-01-08T00:00:00Z");
    const card = await reading((db) => rateCardOn(db, tuesday));
    expect(card?.validFrom).toEqual(new Date("2030-01-07T00:00:00Z"));
    expect(await database().rateCard.count({ where: { validFrom: tuesday } })).toBe(0);
    expect(await database().shop.findFirst()).toMatchObject({ isExample: false, currency: "EUR" });
    expect(await database().tank.count()).toBe(0);
    expect(await database().customer.count()).toBe(0);
  });

  it("lets one of twenty callers with the right code in", async () => {
    const code = await makeCode();
    const callers = Array.from({ length: 20 }, (_, at) =>
      openShop(newShop(code, { ownerEmail: `caller-${at}@example.org` }), MONDAY),
    );

    const { done, refusals } = await outcomes(callers);

    expect(done).toBe(1);
    expect(refusals).toHaveLength(19);
    expect(await counts()).toEqual({ shops: 1, people: 1, codes: 0, cards: 1, hours: 5 });
  });

  it("cannot be opened a second time, even with a code that is still lying about", async () => {
    const code = await makeCode();
    await openShop(newShop(code), MONDAY);
    await reading((db) => keepSetupCode(db, hashSetupCode(code), MONDAY));

    await expect(
      openShop(newShop(code, { ownerEmail: "eve@example.org" }), later(MINUTE_MS)),
    ).rejects.toMatchObject({ code: "conflict" });
    expect(await counts()).toMatchObject({ shops: 1, people: 1 });
  });

  it.each([
    ["time zone", { timeZone: "Europe/Atlantis" }, "timeZone"],
    ["currency", { currency: "ZZZ" }, "currency"],
    ["currency in small letters", { currency: "eur" }, "currency"],
    ["language", { locale: "not a locale" }, "locale"],
    ["short password", { password: "short" }, "password"],
    ["password that is the e-mail", { password: "Ada@Example.org" }, "password"],
    ["password of one character", { password: "aaaaaaaaaaaa" }, "password"],
  ])("refuses a wrong %s at its field and keeps the code", async (_what, change, field) => {
    const code = await makeCode();
    await expect(openShop(newShop(code, change), MONDAY)).rejects.toMatchObject({
      code: "invalid",
      fields: { [field]: expect.any(String) as string },
    });
    expect(await counts()).toEqual(NOTHING_BUT_A_CODE);
  });
});
