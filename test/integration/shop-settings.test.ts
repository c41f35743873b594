import { beforeAll, describe, expect, it } from "vitest";
import type { Actor, Role } from "@/lib/access";
import { listRateCards, type OpeningSpan, type ShopRow } from "@/lib/data";
import { database } from "@/lib/data/client";
import {
  addRateCard,
  changeShop,
  closeDay,
  endSpecialOpening,
  openSpecially,
  reopenDay,
  setOpeningHours,
  shopSettingsFor,
} from "@/lib/services/shop";
import { RATES } from "../support/factories-money";
import { addMember, later, MINUTE_MS, openEmptyShop } from "../support/people";

const SOON = later(MINUTE_MS);
const day = (text: string): Date => new Date(`${text}T00:00:00Z`);
const span = (weekday: number, opensMinute: number, closesMinute: number): OpeningSpan => ({
  weekday,
  opensMinute,
  closesMinute,
});

let owner: Actor;
beforeAll(async () => {
  owner = await openEmptyShop();
});

const settings = () => shopSettingsFor(owner, SOON);
/** The shop's own row with a change, as the form sends it. */
async function shopWith(change: Partial<ShopRow>): Promise<Omit<ShopRow, "isExample">> {
  return { ...(await settings()).shop, ...change };
}

describe("changeShop", () => {
  it("changes what the owner wrote, and writes it down", async () => {
    const change = { name: "Rust & Sons", timeZone: "Europe/Berlin", unitSystem: "US" } as const;
    await changeShop(owner, await shopWith(change), SOON);
    expect((await settings()).shop).toMatchObject({ ...change, currency: "EUR", isExample: false });
    await changeShop(owner, await shopWith({ timeZone: "Europe/Dublin" }), SOON);
    expect(await database().auditEntry.count({ where: { action: "shop.changed" } })).toBe(2);
  });

  it("keeps the currency once amounts are stored in it", async () => {
    expect((await settings()).currencyLocked).toBe(true);
    await expect(
      changeShop(owner, await shopWith({ currency: "USD", name: "Dollars" }), SOON),
    ).rejects.toMatchObject({ code: "conflict", fields: { currency: "Stays EUR." } });
    expect((await settings()).shop).toMatchObject({ currency: "EUR" });
    expect((await settings()).shop.name).not.toBe("Dollars");
  });

  it("changes the currency while nothing is stored in it", async () => {
    const cards = await listRateCards(database());
    await database().rateCard.deleteMany();
    try {
      expect((await settings()).currencyLocked).toBe(false);
      await changeShop(owner, await shopWith({ currency: "JPY" }), SOON);
      expect((await settings()).shop.currency).toBe("JPY");
      await changeShop(owner, await shopWith({ currency: "EUR" }), SOON);
    } finally {
      await database().rateCard.createMany({ data: [...cards] });
    }
  });

  it.each([
    ["timeZone", "Europe/Atlantis"],
    ["currency", "ZZZ"],
    ["locale", "not a locale"],
  ])("refuses the %s %s at its field", async (field, value) => {
    await expect(changeShop(owner, await shopWith({ [field]: value }), SOON)).rejects.toMatchObject(
      { code: "invalid", fields: { [field]: expect.any(String) as string } },
    );
  });
});

describe("setOpeningHours", () => {
  it("replaces the week; two spans of a day may touch", async () => {
    const week = [span(1, 480, 720), span(1, 720, 1020), span(7, 0, 1440)];
    await setOpeningHours(owner, week, SOON);
    expect((await settings()).hours).toEqual(week);
    await setOpeningHours(owner, [], SOON);
    expect((await settings()).hours).toEqual([]);
  });

  const twice = span(3, 480, 1020);
  it.each([
    ["spans that overlap", [span(1, 480, 721), span(1, 720, 1020)]],
    ["a span within another", [span(1, 480, 1020), span(1, 600, 660)]],
    ["spans that overlap, far apart in the list", [span(1, 480, 720), twice, span(1, 700, 900)]],
    ["the same span twice", [twice, twice]],
    ["the same span written twice", [span(3, 480, 1020), span(3, 480, 1020)]],
    ["a day that closes before it opens", [span(1, 1020, 480)]],
    ["a day that closes as it opens", [span(1, 480, 480)]],
    ["a day without end", [span(1, 480, 1441)]],
    ["a day that opens before it begins", [span(1, -1, 480)]],
    ["an eighth weekday", [span(8, 480, 1020)]],
    ["a weekday zero", [span(0, 480, 1020)]],
    ["half a minute", [span(1, 480.5, 1020)]],
    ["no number", [span(1, Number.NaN, 1020)]],
  ])("refuses %s and keeps the week as it was", async (_what, spans) => {
    const before = [span(2, 540, 1080)];
    await setOpeningHours(owner, before, SOON);
    await expect(setOpeningHours(owner, spans, SOON)).rejects.toMatchObject({ code: "invalid" });
    expect((await settings()).hours).toEqual(before);
  });
});

describe("closed days", () => {
  it("are marked, renamed and opened again; days that are over are not shown", async () => {
    await closeDay(owner, { day: day("2030-01-06"), reason: "over" }, SOON);
    await closeDay(owner, { day: day("2030-01-07"), reason: "today" }, SOON);
    await closeDay(owner, { day: day("2030-03-18"), reason: "parade" }, SOON);
    await closeDay(owner, { day: day("2030-03-18"), reason: "holiday" }, SOON);
    expect((await settings()).closedDays).toEqual([
      { day: day("2030-01-07"), reason: "today" },
      { day: day("2030-03-18"), reason: "holiday" },
    ]);
    await reopenDay(owner, day("2030-03-18"), SOON);
    expect((await settings()).closedDays).toHaveLength(1);
  });
});

describe("days with other hours", () => {
  const opening = (from: number, until: number, reason = "") => ({
    day: day("2030-01-12"),
    opensMinute: from,
    closesMinute: until,
    reason,
  });

  it("are set, changed and ended; two spans of a day stay apart", async () => {
    await openSpecially(owner, opening(480, 720, "much to do"), SOON);
    await openSpecially(owner, opening(480, 700), SOON);
    await openSpecially(owner, opening(780, 900), SOON);
    const ahead = (await settings()).specialOpenings;
    expect(ahead.map(({ opensMinute, closesMinute }) => [opensMinute, closesMinute])).toEqual([
      [480, 700],
      [780, 900],
    ]);
    await expect(openSpecially(owner, opening(690, 800), SOON)).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(openSpecially(owner, opening(720, 720), SOON)).rejects.toMatchObject({
      code: "invalid",
    });
    for (const { id } of ahead) await endSpecialOpening(owner, id, SOON);
    expect((await settings()).specialOpenings).toEqual([]);
  });
});

describe("hands and baths", () => {
  it("are set beside the rest, within what the database takes", async () => {
    await changeShop(owner, { hands: 3, bathLifeAhPerL: 35 }, SOON);
    expect((await settings()).shop).toMatchObject({ hands: 3, bathLifeAhPerL: 35 });
    await expect(changeShop(owner, { hands: 0 }, SOON)).rejects.toThrow(/shop_board/);
    await changeShop(owner, { hands: 1, bathLifeAhPerL: 20 }, SOON);
  });
});

describe("addRateCard", () => {
  it("adds a card from a day to come; the one in force stays", async () => {
    const before = (await settings()).rateCards;
    await addRateCard(owner, { ...RATES, validFrom: day("2030-02-01") }, SOON);
    const after = (await settings()).rateCards;
    expect(after).toHaveLength(before.length + 1);
    expect(after[0]).toMatchObject({ ...RATES, validFrom: day("2030-02-01") });
    expect(after.slice(1)).toEqual(before);
  });

  it("takes one card a day", async () => {
    const card = { ...RATES, validFrom: day("2030-05-01") };
    await addRateCard(owner, card, SOON);
    await expect(addRateCard(owner, card, SOON)).rejects.toMatchObject({ code: "conflict" });
  });

  it("refuses the past, by the shop's own day", async () => {
    const past = { ...RATES, validFrom: day("2030-01-06") };
    await expect(addRateCard(owner, past, SOON)).rejects.toMatchObject({
      code: "invalid",
      fields: { validFrom: expect.any(String) as string },
    });

    // 23:30 on 30 June in Greenwich is 00:30 on 1 July in Dublin, where it is summer.
    const lateEvening = new Date("2030-06-30T23:30:00Z");
    await expect(
      addRateCard(owner, { ...RATES, validFrom: day("2030-06-30") }, lateEvening),
    ).rejects.toMatchObject({ code: "invalid" });
    await addRateCard(owner, { ...RATES, validFrom: day("2030-07-01") }, lateEvening);
  });
});

describe.each(["FRONT_DESK", "BENCH", "STRANGER"])("somebody who is %s", (role) => {
  it.each<[string, (actor: Actor) => Promise<unknown>]>([
    ["see the settings", (actor) => shopSettingsFor(actor, SOON)],
    ["change the shop", async (actor) => changeShop(actor, await shopWith({ name: "Mine" }), SOON)],
    ["set the hours", (actor) => setOpeningHours(actor, [], SOON)],
    [
      "open on a day",
      (actor) =>
        openSpecially(
          actor,
          { day: day("2030-01-12"), opensMinute: 480, closesMinute: 720, reason: "" },
          SOON,
        ),
    ],
    ["close a day", (actor) => closeDay(actor, { day: day("2031-01-01"), reason: "" }, SOON)],
    ["open a day again", (actor) => reopenDay(actor, day("2030-01-07"), SOON)],
    ["add rates", (actor) => addRateCard(actor, { ...RATES, validFrom: day("2031-01-01") }, SOON)],
  ])("may not %s", async (_what, act) => {
    // A role that the table of permissions does not know is refused like the others.
    const actor: Actor = { ...(await addMember("BENCH")), role: role as Role };
    const before = await settings();

    await expect(act(actor)).rejects.toMatchObject({ code: "not-allowed" });

    expect(await settings()).toEqual(before);
  });
});
