/** Buying on the real database: numbers, lists, deliveries in parts, what is learned, and who wants the same at once. */
import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { inTransaction, nextNumber } from "@/lib/data";
import {
  addSupplier,
  cancelOrder,
  changeLine,
  changeSupplier,
  closeOrder,
  correctEntry,
  listBySupplier,
  listToBuy,
  markOrdered,
  noteOnList,
  pastOrders,
  purchaseListCsv,
  purchaseListFile,
  receiveOrder,
  reopenCancelled,
  runningLow,
  seeOrdering,
  seePurchaseOrder,
  seeSupplier,
  seeSuppliers,
  setPolicy,
  stockItemPage,
  takeBackOrdered,
  whatToBuy,
} from "@/lib/services";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
  NOW,
} from "../support/factories-money";
import { outcomes } from "../support/people";

let owner: Actor;
let bench: Actor;
let desk: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
  desk = await createActor("FRONT_DESK");
});

const DAY_MS = 86_400_000;
const at = (days: number) => new Date(NOW.getTime() + days * DAY_MS);
const ALL = { skip: 0, take: 100 };
let serial = 0;
const newName = (): string => `Supplier ${(serial += 1)}`;

const itemOf = (supplierName: string, more: Parameters<typeof createItem>[0] = {}) =>
  createItem({ supplierName, ...more });

/** An ordered list of some items, 100 of each. */
async function ordered(supplierName: string, itemIds: readonly string[], when = NOW) {
  const wanted = itemIds.map((itemId) => ({ itemId, quantity: 100 }));
  const { orderId } = await listToBuy(desk, supplierName, wanted, when);
  await markOrdered(desk, orderId, { orderedAt: when, expectedOn: null }, when);
  return seePurchaseOrder(owner, orderId);
}

type Order = Awaited<ReturnType<typeof seePurchaseOrder>>;

function arrivals(
  order: Order,
  quantity: number,
  more: { idempotencyKey?: string; receivedAt?: Date } = {},
) {
  return {
    orderId: order.id,
    receivedAt: NOW,
    idempotencyKey: randomUUID(),
    arrivals: order.lines.map((line) => ({
      lineId: line.id,
      quantity,
      costMinor: 500,
      expiresOn: null,
      place: "",
      receivedBefore: line.received,
    })),
    ...more,
  };
}

const onHand = async (itemId: string): Promise<number> =>
  (await stockItemPage(owner, itemId, ALL, NOW)).onHand;

/** Records of a CSV file, read by the grammar of RFC 4180 section 2 alone. */
function rfc4180(text: string): string[][] {
  const records: string[][] = [];
  let fields: string[] = [];
  const field = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n)/y;
  field.lastIndex = text.startsWith("\uFEFF") ? 1 : 0;
  while (field.lastIndex < text.length) {
    const found = field.exec(text);
    if (!found) throw new Error("this is not RFC 4180");
    fields.push(found[1]?.replaceAll('""', '"') ?? found[2] ?? "");
    if (found[3] === ",") continue;
    records.push(fields);
    fields = [];
  }
  return records;
}

describe("numbers of lists", () => {
  it("have no gaps, though fifty are begun at once and some are rolled back", async () => {
    const before = (await database().counter.findUniqueOrThrow({ where: { name: "purchase" } }))
      .value;
    const calls = await Promise.all(
      Array.from({ length: 50 }, async (_, index) => ({
        index,
        name: newName(),
        itemId: (await itemOf("")).id,
      })),
    );
    const settled = await Promise.allSettled(
      calls.map(({ index, name, itemId }) =>
        index % 5 === 0
          ? inTransaction(async (db) => {
              await nextNumber(db, "purchase");
              throw new Error("given up after its number was taken");
            })
          : listToBuy(desk, name, [{ itemId, quantity: 5 }], NOW),
      ),
    );
    expect(settled.filter(({ status }) => status === "rejected")).toHaveLength(10);
    const numbers = await database().purchaseOrder.findMany({
      where: { number: { gt: before } },
      select: { number: true },
      orderBy: { number: "asc" },
    });
    expect(numbers.map(({ number }) => number)).toEqual(
      Array.from({ length: 40 }, (_, index) => before + 1 + index),
    );
  }, 60_000);

  it("are never missing: no list can be deleted", async () => {
    const { orderId } = await listToBuy(
      desk,
      newName(),
      [{ itemId: (await itemOf("")).id, quantity: 1 }],
      NOW,
    );
    await expect(database().purchaseOrder.delete({ where: { id: orderId } })).rejects.toThrow();
    await expect(database().$executeRaw`TRUNCATE "purchase_order" CASCADE`).rejects.toThrow();
  });
});

describe("what to buy", () => {
  it("is told by supplier, whatever the case of its name, until it is on a list", async () => {
    const name = newName();
    const low = await itemOf(name, { reorderPoint: 1000, reorderQuantity: 5000 });
    await createLot(low.id, owner.personId, { quantity: 900 });
    const out = await itemOf(` ${name.toUpperCase()} `);
    const enough = await itemOf(name, { reorderPoint: 10 });
    await createLot(enough.id, owner.personId, { quantity: 5000 });

    const needsOf = async () =>
      (await whatToBuy(bench, NOW)).toBuy.find(
        ({ supplierName }) => supplierName.toLowerCase() === name.toLowerCase(),
      );
    const found = await needsOf();
    expect(found?.needs.map(({ item, advice }) => [item.id, advice.reason])).toEqual(
      expect.arrayContaining([
        [low.id, "LOW"],
        [out.id, "OUT"],
      ]),
    );
    expect(found?.needs).toHaveLength(2);
    expect(found?.needs.find(({ item }) => item.id === low.id)?.advice.quantity).toBe(5000);

    const listed = await listToBuy(bench, name, [{ itemId: low.id, quantity: 5000 }], NOW);
    const left = await needsOf();
    expect(left?.needs.map(({ item }) => item.id)).toEqual([out.id]);
    expect(left?.draftNumber).toBe(listed.number);
    // Ordered, it counts as there.
    await listBySupplier(bench, [{ itemId: out.id, quantity: 5000 }], NOW);
    await markOrdered(bench, listed.orderId, { orderedAt: NOW, expectedOn: null }, NOW);
    expect(await needsOf()).toBeUndefined();
    // Cancelled, it is wanted again.
    await cancelOrder(bench, listed.orderId, NOW);
    expect((await needsOf())?.needs).toHaveLength(2);
  });

  it("goes on one draft a supplier, each item once, however many press at once", async () => {
    const name = newName();
    const ids = [(await itemOf(name)).id, (await itemOf(name)).id];
    const wanted = ids.map((itemId) => ({ itemId, quantity: 10 }));
    const listed = await Promise.all(
      Array.from({ length: 12 }, (_, index) =>
        listToBuy(desk, index % 2 === 0 ? name : name.toUpperCase(), wanted, NOW),
      ),
    );
    expect(new Set(listed.map(({ orderId }) => orderId)).size).toBe(1);
    expect(listed.filter(({ already }) => already === 0)).toHaveLength(1);
    const order = await seePurchaseOrder(owner, listed[0]?.orderId ?? "");
    expect(order.lines.map(({ quantity }) => quantity)).toEqual([10, 10]);
  });

  it("goes on a list a supplier by one press, and two who press at once cannot block each other", async () => {
    const names = [newName(), newName(), newName()];
    const ids = await Promise.all(names.map(async (name) => (await itemOf(name)).id));
    const wanted = ids.map((itemId) => ({ itemId, quantity: 10 }));
    const presses = await Promise.all(
      [wanted, [...wanted].reverse(), wanted, [...wanted].reverse()].map((each) =>
        listBySupplier(desk, each, NOW),
      ),
    );
    const lists = new Set(presses.flat().map(({ orderId }) => orderId));
    expect(lists.size).toBe(3);
    for (const orderId of lists) {
      expect((await seePurchaseOrder(owner, orderId)).lines).toHaveLength(1);
    }
  });

  it("is written as CSV by RFC 4180, no name a formula, prices for some only", async () => {
    const supplierName = '=cmd|" /C calc", Söhne';
    const item = await itemOf(supplierName, { name: `@SUM(1), "big"\n${newName()}` });
    await createLot(item.id, owner.personId, { quantity: 100, costMinor: 1234 });
    const { orderId } = await listToBuy(
      desk,
      supplierName,
      [{ itemId: item.id, quantity: 100 }],
      NOW,
    );
    const text = new TextDecoder().decode((await purchaseListCsv(owner, orderId)).bytes);
    const [head, row] = rfc4180(text);
    expect(head?.at(-1)).toBe("expected price, EUR");
    expect(row?.[1]).toBe(`'${supplierName}`);
    expect(row?.[3]).toBe(`'${item.name}`);
    expect(row?.slice(4)).toEqual(["100", "g", "", "0", "12.34"]);
    const plain = new TextDecoder().decode((await purchaseListCsv(bench, orderId)).bytes);
    expect(rfc4180(plain)[0]).toHaveLength(8);
    expect(plain).not.toContain("12.34");
    const { bytes, name } = await purchaseListFile(bench, orderId, NOW);
    expect(new TextDecoder("latin1").decode(bytes.subarray(0, 5))).toBe("%PDF-");
    expect(name).toMatch(/^order-\d+\.pdf$/);
  });

  it("comes in whole packs, at the price of the last delivery, which only some may see", async () => {
    const name = newName();
    const item = await itemOf(name, { packName: "bag", packQuantity: 250 });
    await createLot(item.id, owner.personId, { quantity: 500, costMinor: 1000 });
    const { orderId } = await listToBuy(bench, name, [{ itemId: item.id, quantity: 600 }], NOW);
    const [line] = (await seePurchaseOrder(owner, orderId)).lines;
    expect(line).toMatchObject({ quantity: 750, packQuantity: 250, expectedMinor: 1500 });
    expect((await seePurchaseOrder(bench, orderId)).lines[0]?.expectedMinor).toBeNull();
    // The bench may change how much, and the price moves along; it cannot set it.
    const change = { orderId, lineId: line?.id ?? "", quantity: 1000 };
    await changeLine(bench, { ...change, expectedMinor: 1 }, NOW);
    expect((await seePurchaseOrder(owner, orderId)).lines[0]).toMatchObject({
      quantity: 1000,
      expectedMinor: 2000,
    });
    await changeLine(owner, { ...change, expectedMinor: 1900 }, NOW);
    expect((await seePurchaseOrder(owner, orderId)).lines[0]?.expectedMinor).toBe(1900);
    // Sent back as it was, it moves with the quantity.
    await changeLine(owner, { ...change, quantity: 2000, expectedMinor: 1900 }, NOW);
    expect((await seePurchaseOrder(owner, orderId)).lines[0]?.expectedMinor).toBe(3800);
    await changeLine(owner, { ...change, quantity: 0 }, NOW);
    expect((await seePurchaseOrder(owner, orderId)).lines).toEqual([]);
    await expect(
      markOrdered(owner, orderId, { orderedAt: NOW, expectedOn: null }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
  });

  it("refuses nothing, less than nothing, things twice and things that are not", async () => {
    const name = newName();
    const { id: itemId } = await itemOf(name);
    const one = { itemId, quantity: 1 };
    for (const wanted of [
      [],
      [{ ...one, quantity: 0 }],
      [{ ...one, quantity: -1 }],
      [{ ...one, quantity: Number.NaN }],
      [{ ...one, quantity: 0.0001 }],
      [one, one],
    ]) {
      await expect(listToBuy(desk, name, wanted, NOW)).rejects.toMatchObject({ code: "invalid" });
    }
    const stray = [{ itemId: randomUUID(), quantity: 1 }];
    await expect(listToBuy(desk, name, stray, NOW)).rejects.toMatchObject({ code: "not-found" });
  });
});

const BY_HAND = {
  mode: "BY_HAND",
  serviceLevel: 0.95,
  holdingPercent: null,
  holdingMinor: null,
  orderCostMinor: null,
} as const;

describe("an order", () => {
  it("comes in parts, and is closed when all has come", async () => {
    const name = newName();
    const items = [await itemOf(name), await itemOf(name)];
    const order = await ordered(
      name,
      items.map(({ id }) => id),
    );
    expect(await receiveOrder(bench, arrivals(order, 40), NOW)).toBe(false);
    const halfway = await seePurchaseOrder(owner, order.id);
    expect(halfway).toMatchObject({ state: "ORDERED" });
    expect(halfway.lines.map(({ received }) => received)).toEqual([40, 40]);
    expect((await seeOrdering(owner, items[0]?.id ?? "", NOW)).onOrder).toBe(60);
    // More than was ordered is taken as it came.
    expect(await receiveOrder(bench, arrivals(halfway, 60.5), NOW)).toBe(true);
    const whole = await seePurchaseOrder(owner, order.id);
    expect(whole).toMatchObject({ state: "RECEIVED", closedAt: NOW });
    expect(whole.lines.map(({ received }) => received)).toEqual([100.5, 100.5]);
    for (const { id } of items) expect(await onHand(id)).toBe(100.5);
    await expect(receiveOrder(bench, arrivals(whole, 1), NOW)).rejects.toMatchObject({
      code: "conflict",
    });
  });

  it("is taken in once by ten repeats of one form", async () => {
    const name = newName();
    const item = await itemOf(name);
    const order = await ordered(name, [item.id]);
    const form = arrivals(order, 100);
    const told = await Promise.all(
      Array.from({ length: 10 }, () => receiveOrder(bench, form, NOW)),
    );
    expect(told).toEqual(Array.from({ length: 10 }, () => true));
    expect(await onHand(item.id)).toBe(100);
  });

  it("is taken in once by ten people with forms of their own; the others are told", async () => {
    const name = newName();
    const item = await itemOf(name);
    const order = await ordered(name, [item.id]);
    const { done, refusals } = await outcomes(
      Array.from({ length: 10 }, () => receiveOrder(bench, arrivals(order, 60), NOW)),
    );
    expect(done).toBe(1);
    expect(refusals.map(({ code }) => code)).toEqual(Array.from({ length: 9 }, () => "conflict"));
    expect(refusals[0]?.message).toContain("Somebody else took in");
    expect(await onHand(item.id)).toBe(60);
  });

  it("takes in two orders of the same items at once, in whatever order they name them", async () => {
    const names = [newName(), newName()];
    const ids = [(await itemOf("")).id, (await itemOf("")).id, (await itemOf("")).id];
    const one = await ordered(names[0] ?? "", ids);
    const other = await ordered(names[1] ?? "", [...ids].reverse());
    const turned = arrivals(other, 10);
    await Promise.all([
      receiveOrder(bench, arrivals(one, 10), NOW),
      receiveOrder(desk, { ...turned, arrivals: [...turned.arrivals].reverse() }, NOW),
    ]);
    for (const id of ids) expect(await onHand(id)).toBe(20);
  });

  it("follows a delivery that is put right: less came, and none", async () => {
    const name = newName();
    const item = await itemOf(name);
    const order = await ordered(name, [item.id]);
    await receiveOrder(bench, arrivals(order, 80), NOW);
    const { lines: ledger } = (await stockItemPage(owner, item.id, ALL, NOW)).ledger;
    const [entry] = ledger;
    await correctEntry(
      owner,
      { entryId: entry?.id ?? "", reason: "miscounted", right: { quantity: 60, costMinor: 500 } },
      NOW,
    );
    expect((await seePurchaseOrder(owner, order.id)).lines[0]?.received).toBe(60);
    expect((await seeOrdering(owner, item.id, NOW)).onOrder).toBe(40);
    const amended = (await stockItemPage(owner, item.id, ALL, NOW)).ledger.lines.find(
      ({ quantity }) => quantity === 60,
    );
    await correctEntry(
      owner,
      { entryId: amended?.id ?? "", reason: "another shop's", right: null },
      NOW,
    );
    expect((await seePurchaseOrder(owner, order.id)).lines[0]?.received).toBe(0);
    expect((await seeOrdering(owner, item.id, NOW)).onOrder).toBe(100);
  });

  it("is whole or absent: one line that cannot be takes none in", async () => {
    const name = newName();
    const items = [await itemOf(name), await itemOf(name)];
    const order = await ordered(
      name,
      items.map(({ id }) => id),
    );
    const form = arrivals(order, 10);
    const bad = {
      ...form,
      arrivals: form.arrivals.map((each, i) => (i === 1 ? { ...each, quantity: 0 } : each)),
    };
    await expect(receiveOrder(bench, bad, NOW)).rejects.toMatchObject({ code: "invalid" });
    for (const { id } of items) expect(await onHand(id)).toBe(0);
  });

  it("takes its share of the expected price where none is typed, and asks where none is expected", async () => {
    const name = newName();
    const item = await itemOf(name);
    await createLot(item.id, owner.personId, { quantity: 1000, costMinor: 3000 });
    const order = await ordered(name, [item.id]);
    const form = arrivals(order, 50);
    const untyped = {
      ...form,
      arrivals: form.arrivals.map((each) => ({ ...each, costMinor: null })),
    };
    await receiveOrder(bench, untyped, NOW);
    const lot = await database().lot.findFirstOrThrow({
      where: { purchaseLineId: order.lines[0]?.id ?? "" },
    });
    expect(lot.costMinor).toBe(150);
    const fresh = await itemOf(name);
    const blank = await ordered(name, [fresh.id]);
    const asked = arrivals(blank, 50);
    await expect(
      receiveOrder(
        bench,
        { ...asked, arrivals: asked.arrivals.map((each) => ({ ...each, costMinor: null })) },
        NOW,
      ),
    ).rejects.toMatchObject({ code: "invalid" });
  });

  it("can be taken back, cancelled and begun again while nothing has come, and not after", async () => {
    const name = newName();
    const item = await itemOf(name);
    const order = await ordered(name, [item.id]);
    await takeBackOrdered(desk, order.id, NOW);
    expect(await seePurchaseOrder(owner, order.id)).toMatchObject({
      state: "DRAFT",
      orderedAt: null,
    });
    await cancelOrder(desk, order.id, NOW);
    expect((await pastOrders(owner, ALL)).orders.map(({ id }) => id)).toContain(order.id);
    await reopenCancelled(desk, order.id, NOW);
    await noteOnList(desk, order.id, "to the back door", NOW);
    await markOrdered(desk, order.id, { orderedAt: NOW, expectedOn: at(3) }, NOW);
    await expect(closeOrder(desk, order.id, NOW)).rejects.toMatchObject({ code: "conflict" });
    const again = await seePurchaseOrder(owner, order.id);
    await expect(
      changeLine(desk, { orderId: order.id, lineId: again.lines[0]?.id ?? "", quantity: 5 }, NOW),
    ).rejects.toMatchObject({ code: "conflict" });
    await receiveOrder(bench, arrivals(again, 1), NOW);
    for (const undo of [takeBackOrdered, cancelOrder]) {
      await expect(undo(desk, order.id, NOW)).rejects.toMatchObject({ code: "conflict" });
    }
    await closeOrder(desk, order.id, NOW);
    expect(await seePurchaseOrder(owner, order.id)).toMatchObject({ state: "RECEIVED" });
  });

  it("is taken in or taken back by two at once, never both", async () => {
    for (let round = 0; round < 5; round += 1) {
      const name = newName();
      const item = await itemOf(name);
      const order = await ordered(name, [item.id]);
      const { done } = await outcomes([
        receiveOrder(bench, arrivals(order, 1), NOW),
        takeBackOrdered(desk, order.id, NOW),
      ]);
      expect(done).toBe(1);
      const now = await seePurchaseOrder(owner, order.id);
      expect(now.state === "DRAFT" ? 0 : 1).toBe(await onHand(item.id));
    }
  });

  it("keeps its supplier's next draft when it is taken back beside it", async () => {
    const name = newName();
    const item = await itemOf(name);
    const order = await ordered(name, [item.id]);
    await listToBuy(desk, name, [{ itemId: item.id, quantity: 1 }], NOW);
    await expect(takeBackOrdered(desk, order.id, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("is kept by the database as well: lots of other items, lines of ordered lists, steps back", async () => {
    const name = newName();
    const item = await itemOf(name);
    const other = await itemOf(name);
    const order = await ordered(name, [item.id]);
    const [line] = order.lines;
    const lot = { receivedAt: NOW, quantity: 1, costMinor: 1, purchaseLineId: line?.id ?? "" };
    await expect(database().lot.create({ data: { ...lot, itemId: other.id } })).rejects.toThrow(
      /lot_of_its_line|another item/,
    );
    await expect(
      database().purchaseLine.update({ where: { id: line?.id ?? "" }, data: { quantity: 1 } }),
    ).rejects.toThrow();
    await receiveOrder(bench, arrivals(order, 1), NOW);
    await expect(
      database().purchaseOrder.update({
        where: { id: order.id },
        data: { state: "DRAFT", orderedAt: null },
      }),
    ).rejects.toThrow(/has come/);
    await expect(
      database().purchaseOrder.update({ where: { id: order.id }, data: { number: 999_999 } }),
    ).rejects.toThrow();
  });

  it("cannot have been made or come in the future, nor come before it was made", async () => {
    const name = newName();
    const item = await itemOf(name);
    const { orderId } = await listToBuy(desk, name, [{ itemId: item.id, quantity: 1 }], NOW);
    await expect(
      markOrdered(desk, orderId, { orderedAt: at(1), expectedOn: null }, NOW),
    ).rejects.toMatchObject({ code: "invalid" });
    await markOrdered(desk, orderId, { orderedAt: NOW, expectedOn: null }, NOW);
    const order = await seePurchaseOrder(owner, orderId);
    for (const receivedAt of [at(-1), at(1)]) {
      await expect(
        receiveOrder(desk, arrivals(order, 1, { receivedAt }), NOW),
      ).rejects.toMatchObject({ code: "invalid" });
    }
  });
});

describe("suppliers", () => {
  const SUPPLIER = { email: "", phone: "", note: "", leadDays: 4, orderCostMinor: 500 };

  it("are one a name, whatever its case, and signs that mean something to a search mean nothing", async () => {
    const name = `100%_${newName()}\\`;
    const id = await addSupplier(desk, { ...SUPPLIER, name }, NOW);
    await expect(
      addSupplier(desk, { ...SUPPLIER, name: name.toUpperCase() }, NOW),
    ).rejects.toMatchObject({ code: "conflict" });
    const item = await itemOf(name.toUpperCase());
    await ordered(name.toLowerCase(), [item.id]);
    await ordered(`100x${newName()}`, [item.id]);
    const view = await seeSupplier(desk, id, ALL, NOW);
    expect(view.items.map((each) => each.id)).toEqual([item.id]);
    expect(view.ordersTotal).toBe(1);
    expect((await seeSuppliers(desk, NOW)).find((each) => each.supplier?.id === id)).toMatchObject({
      openOrders: 1,
    });
  });

  it("are listed without a row too, by the names on items", async () => {
    const name = newName();
    await itemOf(name);
    const found = (await seeSuppliers(bench, NOW)).find((each) => each.name === name);
    expect(found).toMatchObject({ supplier: null, lead: { days: 7, deliveries: 0 } });
  });

  it("are learned from: how long orders took, the last part of each", async () => {
    const name = newName();
    const id = await addSupplier(desk, { ...SUPPLIER, name }, NOW);
    const item = await itemOf(name);
    for (const [orderedOn, parts] of [
      [-60, [-54, -50]],
      [-40, [-31]],
      [-20, [-9]],
    ] as const) {
      const order = await ordered(name, [item.id], at(orderedOn));
      for (const part of parts) {
        const quantity = 100 / parts.length;
        const now = await seePurchaseOrder(owner, order.id);
        await receiveOrder(bench, arrivals(now, quantity, { receivedAt: at(part) }), at(part));
      }
    }
    // Half of one that is still open tells nothing yet.
    const open = await ordered(name, [item.id], at(-5));
    await receiveOrder(bench, arrivals(open, 50, { receivedAt: at(-1) }), at(-1));
    const view = await seeSupplier(desk, id, ALL, NOW);
    expect(view.deliveries).toEqual([10, 9, 11]);
    // Two for what was said: (2·4 + 10 + 9 + 11) / 5.
    expect(view.lead.days).toBeCloseTo(7.6, 9);
    expect((await seeOrdering(desk, item.id, NOW)).lead.days).toBeCloseTo(7.6, 9);
  });

  it("keep the cost of an order from whoever may not see money", async () => {
    const name = newName();
    const id = await addSupplier(desk, { ...SUPPLIER, name }, NOW);
    expect((await seeSupplier(bench, id, ALL, NOW)).supplier.orderCostMinor).toBeNull();
    await changeSupplier(bench, id, { ...SUPPLIER, name, phone: "12", orderCostMinor: 1 }, NOW);
    expect((await seeSupplier(desk, id, ALL, NOW)).supplier).toMatchObject({
      phone: "12",
      orderCostMinor: 500,
    });
    for (const bad of [
      { name: " " },
      { leadDays: -1 },
      { leadDays: 9999 },
      { orderCostMinor: -1 },
    ]) {
      await expect(
        changeSupplier(desk, id, { ...SUPPLIER, name, ...bad }, NOW),
      ).rejects.toMatchObject({ code: "invalid" });
    }
  });
});

describe("a policy", () => {
  /** An item of which 10 are used on every working day of 60, and 4 a day at weekends. */
  async function usedItem(supplierName: string) {
    const item = await itemOf(supplierName, {
      reorderPoint: 1,
      reorderQuantity: 50,
      unit: "EACH",
      kind: "CONSUMABLE",
      saltGrade: null,
      packName: "box",
      packQuantity: 25,
    });
    await database().item.update({ where: { id: item.id }, data: { createdAt: at(-60) } });
    const lot = await createLot(item.id, owner.personId, {
      quantity: 530,
      costMinor: 5300,
      receivedAt: at(-60),
    });
    for (let day = -59; day < 0; day += 1) {
      const quantity = day % 7 < -1 ? -10 : -4;
      await database().ledgerEntry.create({
        data: {
          itemId: item.id,
          lotId: lot.id,
          at: at(day),
          kind: "USED",
          quantity,
          costMinor: 10 * quantity,
          enteredById: owner.personId,
        },
      });
    }
    return item;
  }

  it("works the reorder point out, and all that asks what runs low goes by it", async () => {
    const name = newName();
    await addSupplier(
      desk,
      { name, email: "", phone: "", note: "", leadDays: 7, orderCostMinor: 400 },
      NOW,
    );
    const item = await usedItem(name);
    const low = async () => (await runningLow(bench, NOW)).map((each) => each.item.id);
    expect(await low()).not.toContain(item.id);
    const before = await seeOrdering(owner, item.id, NOW);
    expect(before.reorderPoint).toBe(1);
    expect(before.demand).toMatchObject({ days: 60, usedDays: 59 });
    expect(before.economic).toBeNull();
    await setPolicy(
      owner,
      { ...BY_HAND, itemId: item.id, mode: "WORKED_OUT", holdingPercent: 20 },
      NOW,
    );
    const after = await seeOrdering(owner, item.id, NOW);
    // Kept by the piece, so the next whole one.
    expect(after.reorderPoint).toBe(Math.ceil(after.workedPoint?.value ?? 0));
    // Seven days at the mean, at least; what is left is less.
    expect(after.reorderPoint).toBeGreaterThan(7 * after.demand.perDay);
    expect(after.onHand).toBeLessThan(7 * after.demand.perDay);
    // √(2·D·S/H), H = 20 % of 10: by hand, and in packs of 25.
    const best = Math.sqrt((2 * after.demand.perDay * 365 * 400) / 2);
    expect(after.economic?.worked.value).toBeCloseTo(best, 6);
    expect(Math.abs((after.economic?.quantity ?? 0) - best)).toBeLessThan(25);
    expect((after.economic?.quantity ?? 0) % 25).toBe(0);
    expect((await stockItemPage(owner, item.id, ALL, NOW)).reorderPoint).toBe(after.reorderPoint);
    // 42 left against 58 in the lead time alone, and against the 1 that was set by hand.
    expect(after.onHand).toBeGreaterThan(1);
    expect(await low()).toContain(item.id);
  });

  it("keeps to the hand where too little is known", async () => {
    const item = await itemOf(newName(), { reorderPoint: 30 });
    await database().item.update({ where: { id: item.id }, data: { createdAt: at(-3) } });
    await createLot(item.id, owner.personId, { quantity: 100, receivedAt: at(-3) });
    await setPolicy(owner, { ...BY_HAND, itemId: item.id, mode: "WORKED_OUT" }, NOW);
    expect(await seeOrdering(owner, item.id, NOW)).toMatchObject({
      workedPoint: null,
      reorderPoint: 30,
    });
  });

  it("keeps its costs from whoever may not see money, and refuses nonsense", async () => {
    const item = await usedItem(newName());
    const costs = { holdingMinor: 3, orderCostMinor: 700 };
    await setPolicy(owner, { ...BY_HAND, itemId: item.id, ...costs }, NOW);
    const seen = await seeOrdering(bench, item.id, NOW);
    expect(seen).toMatchObject({ economic: null, unitMinor: null });
    expect(seen.policy).toMatchObject({ holdingMinor: null, orderCostMinor: null });
    await setPolicy(bench, { ...BY_HAND, itemId: item.id, serviceLevel: 0.99 }, NOW);
    expect((await seeOrdering(owner, item.id, NOW)).policy).toMatchObject({
      ...costs,
      serviceLevel: 0.99,
    });
    for (const bad of [
      { serviceLevel: 1 },
      { serviceLevel: 0.2 },
      { holdingPercent: -1 },
      { holdingPercent: 10, holdingMinor: 1 },
      { orderCostMinor: 0.5 },
    ]) {
      await expect(
        setPolicy(owner, { ...BY_HAND, itemId: item.id, ...bad }, NOW),
      ).rejects.toMatchObject({ code: "invalid" });
    }
  });
});

describe("permission", () => {
  it("is needed to change anything, and no role is not one", async () => {
    const nobody = { ...bench, role: "GUEST" as Actor["role"] };
    const id = randomUUID();
    for (const call of [
      () => whatToBuy(nobody, NOW),
      () => seePurchaseOrder(nobody, id),
      () => seeSuppliers(nobody, NOW),
      () => seeOrdering(nobody, id, NOW),
      () => pastOrders(nobody, ALL),
      () => listToBuy(nobody, "x", [{ itemId: id, quantity: 1 }], NOW),
      () => markOrdered(nobody, id, { orderedAt: NOW, expectedOn: null }, NOW),
      () => cancelOrder(nobody, id, NOW),
      () => noteOnList(nobody, id, "", NOW),
      () => setPolicy(nobody, { ...BY_HAND, itemId: id }, NOW),
    ]) {
      await expect(call()).rejects.toMatchObject({ code: "not-allowed" });
    }
  });
});
