/** What the stock was worth on any day, and the sheet for counting it. */
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  correctEntry,
  countSheet,
  receiveLot,
  stockOverview,
  stockValuation,
  stockValuationCsv,
  takeByHand,
} from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
} from "../support/factories-money";

let owner: Actor;
let bench: Actor;
/** Today by the database's clock, since it says when lines are written. */
const TODAY = new Date();
const daysAgo = (days: number, hours = 12): Date => {
  const day = new Date(TODAY.getTime() - days * 86_400_000);
  return new Date(`${day.toISOString().slice(0, 10)}T${String(hours).padStart(2, "0")}:00:00Z`);
};
const dayOf = (instant: Date): Date => new Date(`${instant.toISOString().slice(0, 10)}T00:00:00Z`);

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  // Values are summed over the shop: what earlier checks left is used up and taken off the list.
  await database().item.updateMany({ data: { retiredAt: TODAY, place: "gone" } });
});

async function line(itemId: string, lotId: string, at: Date, quantity: number, costMinor: number) {
  return database().ledgerEntry.create({
    data: {
      itemId,
      lotId,
      at,
      writtenAt: at,
      kind: "USED",
      quantity,
      costMinor,
      enteredById: owner.personId,
    },
  });
}

async function delivered(itemId: string, quantity: number, costMinor: number, at: Date) {
  const lot = await database().lot.create({
    data: { itemId, receivedAt: at, quantity, costMinor },
  });
  await database().ledgerEntry.create({
    data: {
      itemId,
      lotId: lot.id,
      at,
      writtenAt: at,
      kind: "RECEIVED",
      quantity,
      costMinor,
      enteredById: owner.personId,
    },
  });
  return lot.id;
}

const of = async (itemId: string, day: Date) =>
  (await stockValuation(owner, dayOf(day), TODAY)).items.find(({ item }) => item.id === itemId);

describe("the value of the stock", () => {
  it("is that of the layers at the end of each day, and agrees with the list today", async () => {
    const { id } = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    const a = await delivered(id, 100, 100_000, daysAgo(20));
    const b = await delivered(id, 200, 240_000, daysAgo(15));
    await line(id, a, daysAgo(10), -100, -100_000);
    await line(id, b, daysAgo(10), -50, -60_000);
    const c = await delivered(id, 100, 130_000, daysAgo(5));
    await line(id, b, daysAgo(2), -120, -144_000);

    expect(await of(id, daysAgo(21))).toBeUndefined();
    expect(await of(id, daysAgo(20))).toMatchObject({ onHand: 100, fifoMinor: 100_000 });
    expect(await of(id, daysAgo(10))).toMatchObject({
      onHand: 150,
      fifoMinor: 180_000,
      drawnMinor: 180_000,
      averageMinor: 170_000,
    });
    const now = await of(id, TODAY);
    expect(now).toMatchObject({ onHand: 130, fifoMinor: 166_000, averageMinor: 156_000 });
    expect(
      now?.layers.map(({ lotId, quantity, costMinor }) => [lotId, quantity, costMinor]),
    ).toEqual([
      [b, 30, 36_000],
      [c, 100, 130_000],
    ]);
    const { items } = await stockOverview(owner, TODAY);
    expect(items.find(({ item }) => item.id === id)?.valueMinor).toBe(166_000);
  });

  it("takes in what is dated back, and says that it was written later", async () => {
    const { id } = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    const late = await delivered(id, 10, 2000, daysAgo(8));
    await line(id, late, daysAgo(6), -4, -800);
    const before = await stockValuation(owner, dayOf(daysAgo(6)), TODAY);
    expect(before.items.find(({ item }) => item.id === id)).toMatchObject({ fifoMinor: 1200 });

    await receiveLot(
      owner,
      {
        itemId: id,
        quantity: 10,
        costMinor: 1000,
        receivedAt: daysAgo(9),
        supplierName: "",
        expiresOn: null,
        place: "",
      },
      TODAY,
    );

    const after = await stockValuation(owner, dayOf(daysAgo(6)), TODAY);
    // By date the cheap ten came first and paid for the four: 6 × 1.00 + 10 × 2.00. As drawn they were 2.00 each.
    expect(after.items.find(({ item }) => item.id === id)).toMatchObject({
      onHand: 16,
      fifoMinor: 2600,
      drawnMinor: 2200,
    });
    expect(after.writtenLater).toBe(before.writtenLater + 1);
  });

  it("leaves out lines that were corrected, on the days before the correction too", async () => {
    const { id } = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    const lot = await delivered(id, 10, 1000, daysAgo(8));
    const wrong = await line(id, lot, daysAgo(6), -9, -900);
    expect(await of(id, daysAgo(6))).toMatchObject({ onHand: 1 });
    await correctEntry(
      owner,
      { entryId: wrong.id, reason: "was 2", right: { quantity: 2, costMinor: null } },
      TODAY,
    );
    expect(await of(id, daysAgo(6))).toMatchObject({
      onHand: 8,
      fifoMinor: 800,
      drawnMinor: 800,
      averageMinor: 800,
    });
    expect(await of(id, daysAgo(7))).toMatchObject({ onHand: 10 });
  });

  it("ends a day when the shop's day ends, not the world's", async () => {
    const { id } = await createItem({ kind: "CONSUMABLE", saltGrade: null, unit: "EACH" });
    // Past midnight in Berlin, whether by summer or winter time; still the day before in UTC.
    await delivered(id, 10, 1000, daysAgo(5, 23));
    expect(await of(id, daysAgo(5))).toBeUndefined();
    expect(await of(id, daysAgo(4))).toMatchObject({ onHand: 10 });
  });

  it("adds up, comes as a file, and is for those who may see money", async () => {
    const valuation = await stockValuation(owner, dayOf(TODAY), TODAY);
    const [row] = await database().$queryRaw<{ total: bigint }[]>`
      SELECT sum("cost_minor") AS "total" FROM "ledger_entry"`;
    expect(valuation.drawnMinor).toBe(Number(row?.total));
    expect(valuation.fifo.value).toBeCloseTo(
      valuation.items.reduce((total, { fifoMinor }) => total + fifoMinor, 0) / 100,
      9,
    );
    const rows = async (kind: "items" | "layers") => {
      const { bytes } = await stockValuationCsv(owner, { day: dayOf(TODAY), of: kind }, TODAY);
      return new TextDecoder().decode(bytes).trim().split("\r\n");
    };
    expect(await rows("items")).toHaveLength(1 + valuation.items.length);
    expect(await rows("layers")).toHaveLength(
      1 + valuation.items.reduce((total, { layers }) => total + layers.length, 0),
    );
    await expect(stockValuation(bench, dayOf(TODAY), TODAY)).rejects.toMatchObject({
      code: "not-allowed",
    });
    const tomorrow = new Date(dayOf(TODAY).getTime() + 2 * 86_400_000);
    await expect(stockValuation(owner, tomorrow, TODAY)).rejects.toMatchObject({ code: "invalid" });
  });
});

describe("the sheet for counting", () => {
  it("goes place by place, lots apart where they expire, and leaves out what never came", async () => {
    const make = (name: string, place: string) =>
      createItem({ name, place, kind: "EPOXY", saltGrade: null });
    const epoxy = await make("Sheet epoxy", "Shelf 10");
    const tape = await make("Sheet tape", "Shelf 2");
    const gone = await make("Sheet gone", "");
    await make("Sheet never", "Shelf 2");
    const good = new Date("2031-01-01");
    await createLot(epoxy.id, owner.personId, { quantity: 5, expiresOn: good });
    await createLot(epoxy.id, owner.personId, {
      quantity: 7,
      expiresOn: good,
      receivedAt: new Date("2029-09-01T08:00:00Z"),
    });
    await createLot(tape.id, owner.personId, { quantity: 1 });
    await createLot(tape.id, owner.personId, { quantity: 2 });
    await createLot(gone.id, owner.personId, { quantity: 2 });
    await takeByHand(
      bench,
      { itemId: gone.id, quantity: 2, usedFor: null, note: "all" },
      new Date("2030-01-07"),
    );

    const places = await countSheet(bench);

    expect(places.map(({ place }) => place)).toEqual(["Shelf 2", "Shelf 10", ""]);
    expect(
      places.map(({ rows }) =>
        rows.map(({ name, expected, lotId }) => [name, expected, lotId !== null]),
      ),
    ).toEqual([
      [["Sheet tape", 3, false]],
      [
        ["Sheet epoxy", 5, true],
        ["Sheet epoxy", 7, true],
      ],
      [["Sheet gone", 0, false]],
    ]);
    const stranger = { ...bench, role: "VISITOR" } as unknown as Actor;
    await expect(countSheet(stranger)).rejects.toMatchObject({ code: "not-allowed" });
  });
});
