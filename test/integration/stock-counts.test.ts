/** Counting the shelves with a phone, and taking from them by hand. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  countStock,
  stockCounts,
  stockItemPage,
  placesInHand,
  takeByHand,
} from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createJob,
  createLot,
  createPulledRun,
  createShopWithRates,
  createTank,
  NOW,
} from "../support/factories-money";
import { brokenStockRules } from "../support/stock-rules";

let owner: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
});

const onHand = async (itemId: string) =>
  (await stockItemPage(owner, itemId, { skip: 0, take: 1 }, NOW)).onHand;
const gloves = () =>
  createItem({ kind: "CONSUMABLE", saltGrade: null, category: "GLOVES", unit: "EACH" });
const minutesAgo = (minutes: number) => new Date(NOW.getTime() - minutes * 60_000);

describe("a count", () => {
  it("that waited for a signal is compared with what was there when it was made", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 100, costMinor: 1000 });
    const countedAt = minutesAgo(60);
    await takeByHand(
      bench,
      { itemId: item.id, quantity: 30, usedFor: null, note: "bench" },
      minutesAgo(30),
    );

    const count = { itemId: item.id, counted: 98, note: "", countedAt, idempotencyKey: "walk-1" };
    expect(await countStock(bench, count, NOW)).toEqual({
      expected: 100,
      difference: -2,
      costMinor: -20,
    });
    expect(await onHand(item.id)).toBe(68);
    // The answer was lost and the phone sends again: nothing is written twice, and the answer is the same.
    expect(await countStock(bench, count, NOW)).toMatchObject({ difference: -2 });
    expect(await onHand(item.id)).toBe(68);
  });

  it("that waited takes in what had come before it and was only written since", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const countedAt = minutesAgo(60);
    await createLot(item.id, owner.personId, {
      quantity: 5,
      costMinor: 50,
      receivedAt: minutesAgo(90),
    });
    const count = { itemId: item.id, counted: 15, note: "", countedAt };
    expect(await countStock(bench, count, NOW)).toMatchObject({ expected: 15, difference: 0 });
  });

  it("writes off no more than is left where what was missing has been taken since", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const countedAt = minutesAgo(60);
    await takeByHand(
      bench,
      { itemId: item.id, quantity: 8, usedFor: null, note: "bench" },
      minutesAgo(30),
    );
    await countStock(bench, { itemId: item.id, counted: 0, note: "", countedAt }, NOW);
    expect(await onHand(item.id)).toBe(0);
    expect(await brokenStockRules()).toEqual([]);
  });

  it("sent many times at once under one key is written once", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const count = { itemId: item.id, counted: 7, note: "", idempotencyKey: "walk-2" };
    const answers = await Promise.all(
      Array.from({ length: 10 }, () => countStock(bench, count, NOW)),
    );
    expect(new Set(answers.map(({ difference }) => difference))).toEqual(new Set([-3]));
    expect(await database().stockCount.count({ where: { itemId: item.id } })).toBe(1);
    expect(await onHand(item.id)).toBe(7);
  });

  it("is kept where it agreed too, and listed for all, its worth for those who see money", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    await countStock(bench, { itemId: item.id, counted: 10, note: "shelf 2" }, NOW);
    const mine = { itemId: item.id, expected: 10, counted: 10, enteredBy: bench.name };
    expect((await stockCounts(owner, 1)).rows).toContainEqual(
      expect.objectContaining({ ...mine, costMinor: 0 }),
    );
    expect((await stockCounts(bench, 1)).rows).toContainEqual(
      expect.objectContaining({ ...mine, costMinor: null }),
    );
    const { lastCount } = await stockItemPage(bench, item.id, { skip: 0, take: 1 }, NOW);
    expect(lastCount).toEqual({ at: NOW, by: bench.name });
    const kept = await database().stockCount.findFirstOrThrow({ where: { itemId: item.id } });
    await expect(
      database().stockCount.update({ where: { id: kept.id }, data: { counted: 9 } }),
    ).rejects.toThrow(/append-only/);
  });

  it("is refused where it is over a week old, or of another item's lot", async () => {
    const item = await gloves();
    const other = await gloves();
    const lot = await createLot(other.id, owner.personId);
    const count = { itemId: item.id, counted: 1, note: "" };
    await expect(
      countStock(bench, { ...count, countedAt: new Date("2029-12-01T00:00:00Z") }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
    await expect(countStock(bench, { ...count, lotId: lot.id }, NOW)).rejects.toMatchObject({
      code: "not-found",
    });
  });
});

describe("taking by hand", () => {
  it("draws first what expires first, at its own cost, and says what had expired", async () => {
    const item = await createItem({ kind: "EPOXY", saltGrade: null });
    const lot = (quantity: number, costMinor: number, expires: string | null) =>
      createLot(item.id, owner.personId, {
        quantity,
        costMinor,
        expiresOn: expires ? new Date(expires) : null,
      });
    const keeps = await lot(10, 100, null);
    const later = await lot(10, 200, "2030-06-01");
    const past = await lot(10, 300, "2030-01-01");
    const take = (quantity: number) =>
      takeByHand(bench, { itemId: item.id, quantity, usedFor: null, note: "crack" }, NOW);

    expect(await take(4)).toEqual({ costMinor: 120, expiredDays: 6 });
    expect(await take(8)).toEqual({ costMinor: 180 + 40, expiredDays: 6 });
    expect(await take(9)).toEqual({ costMinor: 160 + 10, expiredDays: null });
    const lots = await database().lot.findMany({ where: { itemId: item.id } });
    const left = new Map(lots.map((row) => [row.id, row.onHand.toNumber()]));
    expect([keeps, later, past].map(({ id }) => left.get(id))).toEqual([9, 0, 0]);
  });

  it("is written for what it was for, once under a key, and with a note where it is nothing named", async () => {
    const item = await gloves();
    await createLot(item.id, owner.personId, { quantity: 100 });
    const tank = await createTank();
    const run = await createPulledRun(tank.id);
    const job = await createJob(owner);
    const use = (usedFor: Parameters<typeof takeByHand>[1]["usedFor"], note = "", key?: string) =>
      takeByHand(bench, { itemId: item.id, quantity: 1, usedFor, note, idempotencyKey: key }, NOW);

    await use({ kind: "run", id: run.id }, "", "tap");
    await use({ kind: "run", id: run.id }, "", "tap");
    await use({ kind: "job", id: job.id });
    await use({ kind: "tank", id: tank.id });
    await use(null, "swept the floor");
    const lines = await database().ledgerEntry.findMany({
      where: { itemId: item.id, kind: "USED" },
      orderBy: { writtenAt: "asc" },
    });
    expect(lines.map(({ runId, jobId, tankId }) => [runId, jobId, tankId])).toEqual([
      [run.id, null, null],
      [null, job.id, null],
      [null, null, tank.id],
      [null, null, null],
    ]);
    await expect(use(null)).rejects.toMatchObject({
      fields: { note: expect.any(String) as string },
    });
    await database().job.update({ where: { id: job.id }, data: { state: "CLOSED" } });
    await expect(use({ kind: "job", id: job.id })).rejects.toMatchObject({ code: "conflict" });
    await expect(use({ kind: "job", id: item.id })).rejects.toMatchObject({ code: "not-found" });

    const names = (await placesInHand(bench, NOW)).map(({ kind, id }) => `${kind} ${id}`);
    expect(names).toContain(`run ${run.id}`);
    expect(names).toContain(`tank ${tank.id}`);
    expect(names).not.toContain(`job ${job.id}`);
  });

  it("is for those who may, and for nobody of an unknown role", async () => {
    const stranger = { ...bench, role: "VISITOR" } as unknown as Actor;
    const item = await gloves();
    const use = { itemId: item.id, quantity: 1, usedFor: null, note: "x" };
    await expect(takeByHand(stranger, use, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(placesInHand(stranger, NOW)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(stockCounts(stranger, 1)).rejects.toMatchObject({ code: "not-allowed" });
  });
});
