import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  addItem,
  changeItem,
  countStock,
  receiveLot,
  retireItem,
  returnStock,
  runningLow,
  spoilStock,
  stockItemPage,
  stockOverview,
} from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
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
const NEW_ITEM = {
  name: "Scouring pads",
  kind: "CONSUMABLE",
  saltGrade: null,
  category: "WOOL",
  unit: "EACH",
  gramsPerUnit: null,
  packName: "box",
  packQuantity: 20,
  reorderPoint: 10,
  reorderQuantity: 50,
  supplierName: "",
  place: "Shelf 3",
} as const;

function delivery(itemId: string, quantity: number, costMinor: number, idempotencyKey?: string) {
  return {
    itemId,
    quantity,
    costMinor,
    receivedAt: NOW,
    supplierName: "Tarn Steel",
    expiresOn: null,
    place: "",
    idempotencyKey,
  };
}

describe("deliveries", () => {
  it("are written once for a repeated key, however many repeats come together", async () => {
    const item = await createItem();
    const lots = await Promise.all(
      Array.from({ length: 6 }, () => receiveLot(bench, delivery(item.id, 100, 900, "van-7"), NOW)),
    );
    expect(new Set(lots).size).toBe(1);
    expect((await stockItemPage(owner, item.id, ALL, NOW)).onHand).toBe(100);
  });

  it("refuse what cannot be, and bring a retired item back", async () => {
    const item = await createItem();
    await expect(receiveLot(bench, delivery(item.id, 0, 100), NOW)).rejects.toMatchObject({
      code: "invalid",
      fields: { quantity: expect.any(String) as string },
    });
    const future = { ...delivery(item.id, 5, 100), receivedAt: new Date("2031-01-01T00:00:00Z") };
    await expect(receiveLot(bench, future, NOW)).rejects.toMatchObject({ code: "invalid" });

    await retireItem(bench, item.id, NOW);
    await receiveLot(bench, delivery(item.id, 5, 100), NOW);
    expect((await stockItemPage(owner, item.id, ALL, NOW)).item.retiredAt).toBeNull();
    await expect(retireItem(bench, item.id, NOW)).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("counting", () => {
  it("writes new entries for what is missing, oldest lot first, and leaves the old ones", async () => {
    const item = await createItem();
    await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    await createLot(item.id, owner.personId, {
      quantity: 10,
      costMinor: 300,
      receivedAt: new Date("2029-09-01T08:00:00Z"),
    });

    expect(await countStock(bench, { itemId: item.id, counted: 8, note: "" }, NOW)).toEqual({
      expected: 20,
      difference: -12,
      costMinor: -160,
    });

    const page = await stockItemPage(owner, item.id, ALL, NOW);
    expect(page.onHand).toBe(8);
    expect(page.valueMinor).toBe(240);
    expect(page.lots.map(({ onHand, valueMinor }) => [onHand, valueMinor])).toEqual([
      [0, 0],
      [8, 240],
    ]);
    expect(page.ledger.lines.filter(({ kind }) => kind === "COUNTED")).toHaveLength(2);
    expect(page.ledger.lines.filter(({ kind }) => kind === "RECEIVED")).toHaveLength(2);
  });

  it("adds what is found at the lot's own unit cost, and writes nothing where it agrees", async () => {
    const item = await createItem();
    const lot = await createLot(item.id, owner.personId, { quantity: 10, costMinor: 100 });
    expect(
      await countStock(bench, { itemId: item.id, lotId: lot.id, counted: 10, note: "" }, NOW),
    ).toMatchObject({ difference: 0, costMinor: 0 });
    expect(
      await countStock(bench, { itemId: item.id, lotId: lot.id, counted: 12, note: "" }, NOW),
    ).toMatchObject({ difference: 2, costMinor: 20 });
    const page = await stockItemPage(owner, item.id, ALL, NOW);
    expect([page.onHand, page.valueMinor, page.ledger.total]).toEqual([12, 120, 2]);
  });

  it("gives one answer when two people count at once", async () => {
    const item = await createItem();
    await createLot(item.id, owner.personId, { quantity: 100 });
    await Promise.all([
      countStock(bench, { itemId: item.id, counted: 90, note: "" }, NOW),
      countStock(owner, { itemId: item.id, counted: 90, note: "" }, NOW),
    ]);
    expect((await stockItemPage(owner, item.id, ALL, NOW)).onHand).toBe(90);
  });

  it("refuses less than nothing, and a find with no delivery to give it a cost", async () => {
    const item = await createItem();
    await expect(
      countStock(bench, { itemId: item.id, counted: -1, note: "" }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
    await expect(
      countStock(bench, { itemId: item.id, counted: 3, note: "" }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
  });
});

describe("spoiling and bringing back", () => {
  it("writes off one lot at its cost", async () => {
    const item = await createItem({ kind: "EPOXY", saltGrade: null });
    await createLot(item.id, owner.personId, { quantity: 100, costMinor: 1000 });
    const hard = await createLot(item.id, owner.personId, {
      quantity: 100,
      costMinor: 3000,
      receivedAt: new Date("2029-10-01T08:00:00Z"),
    });
    const cost = await spoilStock(
      bench,
      { itemId: item.id, lotId: hard.id, quantity: 40, note: "set hard" },
      NOW,
    );
    expect(cost).toBe(1200);
    await expect(
      spoilStock(bench, { itemId: item.id, lotId: hard.id, quantity: 61, note: "" }, NOW),
    ).rejects.toMatchObject({ code: "not-enough-stock" });
  });

  it("puts back at what left the lot, and no more than that", async () => {
    const item = await createItem();
    const lot = await createLot(item.id, owner.personId, { quantity: 3, costMinor: 100 });
    await spoilStock(bench, { itemId: item.id, quantity: 2, note: "" }, NOW);
    const back = { itemId: item.id, lotId: lot.id, note: "" };
    await expect(returnStock(bench, { ...back, quantity: 2.5 }, NOW)).rejects.toMatchObject({
      code: "invalid",
    });
    await returnStock(bench, { ...back, quantity: 2 }, NOW);
    const page = await stockItemPage(owner, item.id, ALL, NOW);
    expect([page.onHand, page.valueMinor]).toEqual([3, 100]);
  });
});

describe("the stock list", () => {
  it("shows what runs low first, with days of cover from the use of late", async () => {
    const item = await createItem({ name: "AAA soda", reorderPoint: 100, reorderQuantity: 1000 });
    await createLot(item.id, owner.personId, { quantity: 1000, costMinor: 1000 });
    const lot = await database().lot.findFirstOrThrow({ where: { itemId: item.id } });
    await database().ledgerEntry.create({
      data: {
        itemId: item.id,
        lotId: lot.id,
        at: new Date(NOW.getTime() - 10 * 86_400_000),
        kind: "USED",
        quantity: -910,
        costMinor: -910,
        enteredById: owner.personId,
      },
    });
    const { items } = await stockOverview(owner, NOW);
    const own = items.find((entry) => entry.item.id === item.id);
    expect(own?.advice.state).toBe("LOW");
    expect(own?.advice.cover?.value).toBeCloseTo(90 / (910 / 90), 9);
    expect(own?.valueMinor).toBe(90);
    expect((await runningLow(owner, NOW)).map((entry) => entry.item.id)).toContain(item.id);
    const states = items.map(({ advice }) => advice.state);
    expect(states).toEqual([...states].sort((a, b) => ORDER.indexOf(a) - ORDER.indexOf(b)));
  });

  it("agrees with the sum over the ledger, and hides money from the bench", async () => {
    const { items, value } = await stockOverview(owner, NOW);
    const [row] = await database().$queryRaw<{ total: bigint }[]>`
      SELECT sum("cost_minor") AS "total" FROM "ledger_entry" e JOIN "item" i ON i."id" = e."item_id"
       WHERE i."retired_at" IS NULL`;
    expect(items.reduce((total, { valueMinor }) => total + (valueMinor ?? 0), 0)).toBe(
      Number(row?.total),
    );
    expect(value?.value).toBeCloseTo(Number(row?.total) / 100, 9);

    const seen = await stockOverview(bench, NOW);
    expect(seen.value).toBeNull();
    expect(seen.items.every(({ valueMinor }) => valueMinor === null)).toBe(true);
  });
});

const ORDER = ["OUT", "LOW", "ENOUGH"];

describe("items", () => {
  it("are added once under a name", async () => {
    await addItem(bench, NEW_ITEM, NOW);
    await expect(addItem(bench, NEW_ITEM, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("refuse salt that is not weighed, and anode steel of unknown mass", async () => {
    await expect(
      addItem(bench, { ...NEW_ITEM, name: "x", kind: "SALT", category: "" }, NOW),
    ).rejects.toMatchObject({
      fields: { saltGrade: expect.any(String) as string, unit: expect.any(String) as string },
    });
    const item = await createItem();
    const { unit: _unit, ...change } = NEW_ITEM;
    await expect(
      changeItem(bench, item.id, { ...change, name: "y", kind: "ANODE_STEEL" }, NOW),
    ).rejects.toMatchObject({ fields: { gramsPerUnit: expect.any(String) as string } });
  });

  it("come in packs that hold something, and are what their kind can be", async () => {
    const odd = (change: object) => addItem(bench, { ...NEW_ITEM, name: "q", ...change }, NOW);
    await expect(odd({ packQuantity: null })).rejects.toMatchObject({
      fields: { packQuantity: expect.any(String) as string },
    });
    await expect(odd({ packName: "" })).rejects.toMatchObject({
      fields: { packName: expect.any(String) as string },
    });
    await expect(odd({ packQuantity: 0 })).rejects.toMatchObject({ code: "invalid" });
    await expect(odd({ category: "OIL" })).rejects.toMatchObject({
      fields: { kind: expect.any(String) as string },
    });
    await expect(
      database().item.updateMany({
        where: { name: NEW_ITEM.name },
        data: { packName: "box", packQuantity: null },
      }),
    ).rejects.toThrow(/item_pack/);
  });

  it("are kept by those who may, and by nobody of an unknown role", async () => {
    const stranger = { ...bench, role: "VISITOR" } as unknown as Actor;
    const item = await createItem();
    const attempts = [
      () => addItem(stranger, { ...NEW_ITEM, name: "z" }, NOW),
      () => receiveLot(stranger, delivery(item.id, 1, 1), NOW),
      () => countStock(stranger, { itemId: item.id, counted: 0, note: "" }, NOW),
      () => spoilStock(stranger, { itemId: item.id, quantity: 1, note: "" }, NOW),
      () => returnStock(stranger, { itemId: item.id, lotId: item.id, quantity: 1, note: "" }, NOW),
      () => retireItem(stranger, item.id, NOW),
      () => stockOverview(stranger, NOW),
      () => stockItemPage(stranger, item.id, ALL, NOW),
    ];
    for (const attempt of attempts) {
      await expect(attempt()).rejects.toMatchObject({ code: "not-allowed" });
    }
  });
});
