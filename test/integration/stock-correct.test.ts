/** Wrong lines of the ledger are put right by new ones, and everything that was summed over them with them. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { stockLevels } from "@/lib/data";
import { database } from "@/lib/data/client";
import { jobCostView } from "@/lib/services/costs";
import {
  correctEntry,
  countStock,
  lineToCorrect,
  receiveLot,
  spoilStock,
  stockItemPage,
  takeByHand,
} from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createJob,
  createLot,
  createPlannedPart,
  createShopWithRates,
  createTank,
  NOW,
} from "../support/factories-money";

let owner: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
});

const ALL = { skip: 0, take: 100 };
const page = (itemId: string) => stockItemPage(owner, itemId, ALL, NOW);
const lineOf = (itemId: string, kind: "USED" | "RECEIVED" | "SPOILED" | "COUNTED") =>
  database().ledgerEntry.findFirstOrThrow({
    where: { itemId, kind, correctsId: null, correctedBy: null },
    orderBy: { writtenAt: "desc" },
  });
const correct = (
  entryId: string,
  right: { quantity: number; costMinor: number | null } | null = null,
  actor = bench,
) => correctEntry(actor, { entryId, reason: "typed wrong", right }, NOW);

const wool = () =>
  createItem({ kind: "CONSUMABLE", saltGrade: null, category: "WOOL", unit: "EACH" });

describe("a wrong use", () => {
  it("comes back to its lot at exactly its cost, once, and stays in sight", async () => {
    const item = await wool();
    await createLot(item.id, owner.personId, { quantity: 3, costMinor: 100 });
    await takeByHand(bench, { itemId: item.id, quantity: 1, usedFor: null, note: "bench" }, NOW);
    const line = await lineOf(item.id, "USED");

    await correct(line.id);

    const { onHand, valueMinor, ledger } = await page(item.id);
    expect([onHand, valueMinor]).toEqual([3, 100]);
    const turned = ledger.lines.find(({ correctsId }) => correctsId === line.id);
    expect(turned).toMatchObject({ kind: "USED", quantity: 1, costMinor: 33, note: "typed wrong" });
    expect(ledger.lines.find(({ id }) => id === line.id)?.corrected).toMatchObject({
      by: bench.name,
    });
    await expect(correct(line.id)).rejects.toMatchObject({ code: "conflict" });
    await expect(correct(turned?.id ?? "")).rejects.toMatchObject({ code: "conflict" });
    expect((await stockLevels(database(), new Date(0))).get(item.id)?.used).toBe(0);
  });

  it("is shown to who may correct it, with a word where a count came after it", async () => {
    const item = await wool();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const line = await lineOf(item.id, "RECEIVED");
    const seen = await lineToCorrect(bench, item.id, line.id);
    expect(seen).toMatchObject({ amendable: true, countedSince: null, line: { costMinor: 0 } });
    await countStock(bench, { itemId: item.id, counted: 9, note: "" }, NOW);
    const counted = await lineToCorrect(owner, item.id, line.id);
    expect(counted).toMatchObject({ countedSince: NOW, line: { costMinor: 100 } });
    await expect(lineToCorrect(owner, (await wool()).id, line.id)).rejects.toMatchObject({
      code: "not-found",
    });
  });

  it("is corrected by one of twenty at once", async () => {
    const item = await wool();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    await takeByHand(bench, { itemId: item.id, quantity: 4, usedFor: null, note: "bench" }, NOW);
    const line = await lineOf(item.id, "USED");
    const answers = await Promise.allSettled(
      Array.from({ length: 20 }, () => correct(line.id, { quantity: 1, costMinor: null })),
    );
    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    for (const answer of answers) {
      if (answer.status === "rejected") expect(answer.reason).toMatchObject({ code: "conflict" });
    }
    expect(await page(item.id)).toMatchObject({ onHand: 9, valueMinor: 90 });
  });

  it("is written anew for the same job, whose cost then tells the right one", async () => {
    const item = await wool();
    await createLot(item.id, owner.personId, { quantity: 100, costMinor: 1000 });
    const job = await createJob(owner);
    await createPlannedPart(owner, job.id, (await createTank()).id);
    const usedFor = { kind: "job", id: job.id } as const;
    await takeByHand(bench, { itemId: item.id, quantity: 50, usedFor, note: "" }, NOW);
    const consumables = async () =>
      (await jobCostView(owner, job.id, NOW)).cost.lines.find(({ kind }) => kind === "CONSUMABLES")
        ?.actualMinor;
    expect(await consumables()).toBe(500);

    await correct((await lineOf(item.id, "USED")).id, { quantity: 5, costMinor: null });

    expect(await consumables()).toBe(50);
    expect(JSON.stringify(await jobCostView(owner, job.id, NOW))).not.toContain("typed wrong");
    const lines = await database().ledgerEntry.findMany({ where: { jobId: job.id } });
    expect(lines.map(({ quantity }) => quantity.toNumber()).sort((a, b) => a - b)).toEqual([
      -50, -5, 50,
    ]);
    expect((await stockLevels(database(), new Date(0))).get(item.id)?.used).toBe(5);
  });

  it("that spoiled in one lot stays in that lot", async () => {
    const item = await wool();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const newer = await createLot(item.id, owner.personId, {
      quantity: 10,
      costMinor: 300,
      receivedAt: new Date("2029-10-01T08:00:00Z"),
    });
    await spoilStock(bench, { itemId: item.id, lotId: newer.id, quantity: 8, note: "wet" }, NOW);
    await correct((await lineOf(item.id, "SPOILED")).id, { quantity: 2, costMinor: null });
    const { lots } = await page(item.id);
    expect(lots.map(({ onHand, valueMinor }) => [onHand, valueMinor])).toEqual([
      [10, 100],
      [8, 240],
    ]);
  });
});

describe("a wrong delivery", () => {
  const delivery = (itemId: string, quantity: number, costMinor: number) => ({
    itemId,
    quantity,
    costMinor,
    receivedAt: new Date("2029-12-01T08:00:00Z"),
    supplierName: "",
    expiresOn: null,
    place: "",
  });

  it("goes out again whole, and nothing can be brought back to it", async () => {
    const item = await wool();
    await receiveLot(bench, delivery(item.id, 10, 999), NOW);
    await correct((await lineOf(item.id, "RECEIVED")).id);
    const { onHand, valueMinor, lots } = await page(item.id);
    expect([onHand, valueMinor, lots[0]?.delivered, lots[0]?.taken]).toEqual([0, 0, 0, 0]);
  });

  it("is put right in its lot; what is left bears the difference", async () => {
    const item = await wool();
    await receiveLot(bench, delivery(item.id, 100, 1000), NOW);
    await takeByHand(bench, { itemId: item.id, quantity: 5, usedFor: null, note: "bench" }, NOW);
    const line = await lineOf(item.id, "RECEIVED");

    await expect(correct(line.id)).rejects.toMatchObject({ code: "not-enough-stock" });
    await expect(correct(line.id, { quantity: 4, costMinor: 1000 })).rejects.toMatchObject({
      code: "not-enough-stock",
    });
    await expect(correct(line.id, { quantity: 10, costMinor: 20 })).rejects.toMatchObject({
      code: "conflict",
    });
    await correct(line.id, { quantity: 10, costMinor: null });

    const { onHand, valueMinor, lots } = await page(item.id);
    expect([onHand, valueMinor]).toEqual([5, 950]);
    expect(lots[0]).toMatchObject({ quantity: 10, costMinor: 1000, delivered: 10, taken: 5 });
  });

  it("is refused without a reason, by strangers, and for lines that are not there", async () => {
    const item = await wool();
    await receiveLot(bench, delivery(item.id, 10, 100), NOW);
    const { id } = await lineOf(item.id, "RECEIVED");
    await expect(
      correctEntry(bench, { entryId: id, reason: " ", right: null }, NOW),
    ).rejects.toMatchObject({ fields: { reason: expect.any(String) as string } });
    await expect(correct(id, { quantity: 0, costMinor: null })).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(correct("00000000-0000-4000-8000-000000000000")).rejects.toMatchObject({
      code: "not-found",
    });
    const stranger = { ...bench, role: "VISITOR" } as unknown as Actor;
    await expect(correct(id, null, stranger)).rejects.toMatchObject({ code: "not-allowed" });
  });
});

describe("the database", () => {
  it("takes no correction that is not its line with both signs turned", async () => {
    const item = await wool();
    const lot = await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    await takeByHand(bench, { itemId: item.id, quantity: 4, usedFor: null, note: "bench" }, NOW);
    const line = await lineOf(item.id, "USED");
    const turned = {
      itemId: item.id,
      lotId: lot.id,
      at: line.at,
      kind: "USED",
      quantity: 4,
      costMinor: 40,
      correctsId: line.id,
      enteredById: owner.personId,
    } as const;
    const write = (change: object) =>
      database().ledgerEntry.create({ data: { ...turned, ...change } });
    await expect(write({ quantity: 3 })).rejects.toThrow(/correction_turns_its_line/);
    await expect(write({ costMinor: 39 })).rejects.toThrow(/correction_turns_its_line/);
    await expect(write({ kind: "RETURNED" })).rejects.toThrow(/correction_turns_its_line/);
    await expect(
      write({ at: NOW.getTime() === line.at.getTime() ? new Date(0) : NOW }),
    ).rejects.toThrow(/correction_turns_its_line/);
    const { id } = await write({});
    await expect(write({})).rejects.toThrow();
    await expect(write({ correctsId: id, quantity: -4, costMinor: -40 })).rejects.toThrow(
      /correction_turns_its_line/,
    );
    await expect(write({ correctsId: null })).rejects.toThrow(/ledger_entry_sign/);
  });

  it("keeps value with amount: never below nothing, and none in an empty lot", async () => {
    const item = await wool();
    const lot = await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    const write = (quantity: number, costMinor: number) =>
      database().ledgerEntry.create({
        data: {
          itemId: item.id,
          lotId: lot.id,
          at: NOW,
          kind: "COUNTED",
          quantity,
          costMinor,
          enteredById: owner.personId,
        },
      });
    await expect(write(-1, -101)).rejects.toThrow(/lot_value/);
    await expect(write(-10, -99)).rejects.toThrow(/lot_value/);
    await expect(write(1, -1)).rejects.toThrow(/ledger_entry_cost_sign/);
    await expect(write(-11, -100)).rejects.toThrow(/lot_amounts/);
    await expect(
      database().lot.update({ where: { id: lot.id }, data: { valueMinor: 5 } }),
    ).rejects.toThrow(/ledger entries only/);
    await expect(
      database().lot.update({ where: { id: lot.id }, data: { itemId: (await wool()).id } }),
    ).rejects.toThrow(/stays with its item/);
    await expect(database().$executeRaw`TRUNCATE "lot" CASCADE`).rejects.toThrow(/append-only/);
    await expect(database().lot.delete({ where: { id: lot.id } })).rejects.toThrow();
    await write(-10, -100);
  });
});
