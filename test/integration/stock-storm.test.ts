/** Hundreds of hands on one item at once, of two servers; afterwards the books are added up in plain SQL. */
import { randomUUID } from "node:crypto";
import { Pool } from "pg";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { isRefusal } from "@/lib/errors";
import {
  correctEntry,
  countStock,
  receiveLot,
  returnStock,
  spoilStock,
  takeByHand,
} from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
  NOW,
} from "../support/factories-money";
import { brokenStockRules } from "../support/stock-rules";

let bench: Actor;
/** Stands for a server that writes without the services: the database alone holds it to the rules. */
let elsewhere: Pool;

beforeAll(async () => {
  await createShopWithRates();
  bench = await createActor("BENCH");
  elsewhere = new Pool({ connectionString: process.env["DATABASE_URL"], max: 8 });
});

afterAll(async () => {
  await elsewhere.end();
});

/** Draws on one lot by bare SQL, at a cost reckoned from what it saw, which may be out of date by then. */
async function drawBare(lotId: string, quantity: number): Promise<void> {
  await elsewhere.query(
    `INSERT INTO "ledger_entry" ("id", "item_id", "lot_id", "at", "kind", "quantity", "cost_minor", "entered_by_id")
     SELECT gen_random_uuid(), "item_id", "id", $2, 'USED', -$3::numeric,
            -round("value_minor" * least(1, $3::numeric / greatest("on_hand", 0.001)))::int, $4
       FROM "lot" WHERE "id" = $1`,
    [lotId, NOW, quantity, bench.personId],
  );
}

/** What may go wrong for one of many: clear refusals, and the database's own checks for who writes beside the services. */
function expectClear(reason: unknown): void {
  if (isRefusal(reason)) {
    expect(["not-enough-stock", "conflict", "invalid"]).toContain(reason.code);
    return;
  }
  expect(String(reason)).toMatch(/lot_amounts|lot_value/);
}

describe("two hundred hands on one item", () => {
  it("leave amounts and values that add up, and nothing below zero", async () => {
    const item = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    const lots: string[] = [];
    for (const day of [1, 2, 3, 4]) {
      const lot = await createLot(item.id, bench.personId, {
        quantity: 60 + day / 8,
        costMinor: 997 * day,
        receivedAt: new Date(Date.UTC(2029, 8, day)),
        expiresOn: day === 3 ? new Date("2030-02-01") : null,
      });
      lots.push(lot.id);
    }
    const lines = await database().ledgerEntry.findMany({ where: { itemId: item.id } });
    const kinds: readonly ((n: number) => Promise<unknown>)[] = [
      (n) =>
        takeByHand(
          bench,
          {
            itemId: item.id,
            quantity: 1 + (n % 7) / 3,
            usedFor: null,
            note: "storm",
            idempotencyKey: `take-${n % 40}`,
          },
          NOW,
        ),
      (n) => drawBare(lots[n % 4] ?? "", 1 + (n % 5)),
      (n) =>
        receiveLot(
          bench,
          {
            itemId: item.id,
            quantity: 3,
            costMinor: 100 + n,
            receivedAt: new Date(NOW.getTime() - n * 3_600_000),
            supplierName: "",
            expiresOn: null,
            place: "",
          },
          NOW,
        ),
      (n) => countStock(bench, { itemId: item.id, counted: 150 + n, note: "" }, NOW),
      (n) =>
        spoilStock(bench, { itemId: item.id, quantity: 0.5, note: "wet", lotId: lots[n % 4] }, NOW),
      (n) =>
        returnStock(
          bench,
          { itemId: item.id, lotId: lots[n % 4] ?? "", quantity: 0.25, note: "" },
          NOW,
        ),
      async (n) => {
        const made = await database().ledgerEntry.findMany({
          where: { itemId: item.id, correctsId: null },
          orderBy: { writtenAt: "desc" },
          take: 20,
        });
        const line = made[n % Math.max(1, made.length)] ?? lines[0];
        const right = n % 2 ? { quantity: 2 + (n % 3), costMinor: null } : null;
        return correctEntry(bench, { entryId: line?.id ?? "", reason: "storm", right }, NOW);
      },
    ];

    const answers = await Promise.allSettled(
      Array.from({ length: 210 }, async (_, n) => kinds[n % kinds.length]?.(n)),
    );

    for (const answer of answers) if (answer.status === "rejected") expectClear(answer.reason);
    const done = answers.filter(({ status }) => status === "fulfilled").length;
    expect(done).toBeGreaterThan(100);
    const kindsWritten = await database().ledgerEntry.groupBy({
      by: ["kind"],
      where: { itemId: item.id },
    });
    expect(kindsWritten).toHaveLength(5);
    expect(
      await database().ledgerEntry.count({ where: { itemId: item.id, correctsId: { not: null } } }),
    ).toBeGreaterThan(5);
    expect(await brokenStockRules()).toEqual([]);
  }, 120_000);

  it("share out what there is to the last piece, and no further", async () => {
    const item = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    const first = await createLot(item.id, bench.personId, { quantity: 50, costMinor: 333 });
    await createLot(item.id, bench.personId, {
      quantity: 50,
      costMinor: 777,
      receivedAt: new Date("2029-09-01T08:00:00Z"),
    });
    const answers = await Promise.allSettled(
      Array.from({ length: 200 }, (_, n) =>
        n % 2
          ? takeByHand(
              bench,
              {
                itemId: item.id,
                quantity: 1,
                usedFor: null,
                note: "storm",
                idempotencyKey: randomUUID(),
              },
              NOW,
            )
          : drawBare(first.id, 1),
      ),
    );
    for (const answer of answers) if (answer.status === "rejected") expectClear(answer.reason);
    // Whoever was refused may ask again; what bare SQL left is drawn by the services.
    const { _sum: left } = await database().lot.aggregate({
      where: { itemId: item.id },
      _sum: { onHand: true },
    });
    const rest = left.onHand?.toNumber() ?? 0;
    if (rest > 0) {
      await takeByHand(
        bench,
        { itemId: item.id, quantity: rest, usedFor: null, note: "rest" },
        NOW,
      );
    }
    const { _sum } = await database().ledgerEntry.aggregate({
      where: { itemId: item.id, kind: "USED" },
      _sum: { quantity: true, costMinor: true },
    });
    expect([_sum.quantity?.toNumber(), _sum.costMinor]).toEqual([-100, -1110]);
    expect(await brokenStockRules()).toEqual([]);
  }, 120_000);
});
