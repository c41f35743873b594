/** Who gets what when many draw on the same stock at once, and that nothing else ever moves it. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { inTransaction } from "@/lib/data";
import { database } from "@/lib/data/client";
import { isRefusal } from "@/lib/errors";
import { consumeStock } from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
  NOW,
} from "../support/factories-money";

let owner: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
});

const take = (itemId: string, quantity: number, idempotencyKey?: string) =>
  inTransaction((db) =>
    consumeStock(db, {
      itemId,
      quantity,
      at: NOW,
      note: "test",
      enteredById: owner.personId,
      idempotencyKey,
    }),
  );

async function onHand(itemId: string): Promise<number> {
  const { _sum } = await database().lot.aggregate({ where: { itemId }, _sum: { onHand: true } });
  return _sum.onHand?.toNumber() ?? 0;
}

async function ledgerValue(itemId: string): Promise<number> {
  const { _sum } = await database().ledgerEntry.aggregate({
    where: { itemId },
    _sum: { costMinor: true },
  });
  return _sum.costMinor ?? 0;
}

describe("consumeStock", () => {
  it("lets exactly as many of thirty simultaneous callers have stock as there is for", async () => {
    const item = await createItem();
    await createLot(item.id, owner.personId, { quantity: 1000, costMinor: 1000 });

    const answers = await Promise.allSettled(Array.from({ length: 30 }, () => take(item.id, 60)));

    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(16);
    for (const answer of answers) {
      if (answer.status === "fulfilled") continue;
      expect(isRefusal(answer.reason)).toBe(true);
      expect(answer.reason).toMatchObject({ code: "not-enough-stock" });
    }
    expect(await onHand(item.id)).toBe(40);
    expect(await ledgerValue(item.id)).toBe(40);
  });

  it("does the same over several lots, without deadlock", async () => {
    const item = await createItem();
    for (const day of [1, 2, 3]) {
      await createLot(item.id, owner.personId, {
        quantity: 100,
        costMinor: 100 * day,
        receivedAt: new Date(Date.UTC(2029, 8, day)),
      });
    }
    const answers = await Promise.allSettled(Array.from({ length: 30 }, () => take(item.id, 70)));

    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(4);
    for (const answer of answers) {
      if (answer.status === "rejected")
        expect(answer.reason).toMatchObject({ code: "not-enough-stock" });
    }
    expect(await onHand(item.id)).toBe(20);
    expect(await ledgerValue(item.id)).toBe(60);
  });

  it("draws the oldest lot first, at its cost, and the last of a lot carries the rest", async () => {
    const item = await createItem();
    const older = await createLot(item.id, owner.personId, {
      quantity: 3,
      costMinor: 100,
      receivedAt: new Date("2029-07-01T08:00:00Z"),
    });
    const newer = await createLot(item.id, owner.personId, {
      quantity: 10,
      costMinor: 1000,
      receivedAt: new Date("2029-08-01T08:00:00Z"),
    });

    expect(await take(item.id, 1)).toEqual({
      costMinor: 33,
      lots: [{ lotId: older.id, quantity: 1 }],
    });
    expect(await take(item.id, 3)).toEqual({
      costMinor: 67 + 100,
      lots: [
        { lotId: older.id, quantity: 2 },
        { lotId: newer.id, quantity: 1 },
      ],
    });
    expect(await ledgerValue(item.id)).toBe(900);
  });

  it("takes once for a repeated key, also when the repeats come together", async () => {
    const item = await createItem();
    await createLot(item.id, owner.personId, { quantity: 50, costMinor: 50 });
    await createLot(item.id, owner.personId, {
      quantity: 50,
      costMinor: 100,
      receivedAt: new Date("2029-09-01T08:00:00Z"),
    });

    const answers = await Promise.all(
      Array.from({ length: 5 }, () => take(item.id, 60, "same-key")),
    );

    for (const answer of answers) expect(answer).toEqual(answers[0]);
    expect(answers[0]).toMatchObject({ costMinor: 70 });
    expect(await onHand(item.id)).toBe(40);
  });

  it("says what is missing, and writes nothing", async () => {
    const item = await createItem({ name: "Washing soda" });
    await createLot(item.id, owner.personId, { quantity: 200 });

    await expect(take(item.id, 250)).rejects.toMatchObject({
      code: "not-enough-stock",
      message: expect.stringMatching(/Washing soda: 250 g wanted, 200 g on hand/) as string,
    });
    expect(await onHand(item.id)).toBe(200);
    await expect(take(item.id, 0)).rejects.toMatchObject({ code: "invalid" });
    await expect(take("00000000-0000-4000-8000-000000000000", 1)).rejects.toMatchObject({
      code: "not-found",
    });
  });
});

describe("the ledger in the database", () => {
  it("refuses to be changed or deleted, and lots to be moved beside it", async () => {
    const item = await createItem();
    const lot = await createLot(item.id, owner.personId);
    const entry = await database().ledgerEntry.findFirstOrThrow({ where: { lotId: lot.id } });

    await expect(
      database().ledgerEntry.update({ where: { id: entry.id }, data: { quantity: 9999 } }),
    ).rejects.toThrow(/append-only/);
    await expect(database().ledgerEntry.delete({ where: { id: entry.id } })).rejects.toThrow(
      /append-only/,
    );
    await expect(
      database().lot.update({ where: { id: lot.id }, data: { onHand: 5 } }),
    ).rejects.toThrow(/ledger entries only/);
    expect(await onHand(item.id)).toBe(1000);
  });

  it("holds the sum of its entries on each lot", async () => {
    const item = await createItem();
    await createLot(item.id, owner.personId, { quantity: 10.5 });
    await take(item.id, 0.125);
    await take(item.id, 3.375);
    const [row] = await database().$queryRaw<{ lots: number; entries: number }[]>`
      SELECT (SELECT sum("on_hand") FROM "lot" WHERE "item_id" = ${item.id}::uuid)::float8 AS "lots",
             (SELECT sum("quantity") FROM "ledger_entry" WHERE "item_id" = ${item.id}::uuid)::float8 AS "entries"`;
    expect(row).toEqual({ lots: 7, entries: 7 });
  });
});
