/** Anode steel from the rack to the tank, with many at one saw. */
import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  addTank,
  type AnodeWish,
  barsPage,
  cuttingChoices,
  cutSteel,
  describeBars,
  installAnode,
  loadRun,
  measureOffcut,
  proposeCut,
  pullRun,
  removeAnode,
  scrapOffcut,
  seeCut,
  seeTank,
  undoCut,
} from "@/lib/services";
import { massPerMetre } from "@/lib/stock";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
  createTank,
} from "../support/factories-money";
import {
  ALL_CHECKS,
  book,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  hoursAfter,
  MONDAY,
} from "../support/factories-tanks";

let owner: Actor;
let bench: Actor;
let desk: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  owner = await createActor("OWNER");
  bench = await createActor("BENCH");
  desk = await createActor("FRONT_DESK");
});

const FLAT = { shape: "FLAT", widthMm: 50, legMm: null, thicknessMm: 5 } as const;
const BARS = { section: FLAT, stockLengthMm: 3000, kerfMm: 2, leastOffcutMm: 200 };

/** A steel with deliveries of whole bars, each of its own day. */
async function steel(...deliveries: readonly (readonly [bars: number, costMinor: number])[]) {
  const item = await createItem({
    kind: "ANODE_STEEL",
    unit: "MILLIMETRE",
    saltGrade: null,
    gramsPerUnit: 1.96,
  });
  const lots: string[] = [];
  for (const [day, [bars, costMinor]] of deliveries.entries()) {
    const receivedAt = new Date(Date.UTC(2029, 8, day + 1));
    const lot = await createLot(item.id, owner.personId, {
      quantity: bars * 3000,
      costMinor,
      receivedAt,
    });
    lots.push(lot.id);
  }
  await describeBars(bench, item.id, BARS, MONDAY);
  return { itemId: item.id, lots };
}

const STRIPS = {
  way: "STRIPS",
  heightMm: 100,
  offsetMm: 0,
  cornerMm: 0,
  gapMm: 0,
  overhangMm: 100,
  count: 4,
} as const;

const sawn = (plan: Awaited<ReturnType<typeof proposeCut>>) =>
  (plan.answer.plan ?? []).map(({ barId, pieces }) => ({ barId, pieces }));

async function planned(wish: AnodeWish) {
  const plan = await proposeCut(bench, wish);
  const cutId = randomUUID();
  return { plan, cutId, cut: { wish, bars: sawn(plan), proof: plan.proof, cutId } };
}

const ledgerOf = async (itemId: string) => {
  const { _sum } = await database().ledgerEntry.aggregate({
    where: { itemId },
    _sum: { quantity: true, costMinor: true },
  });
  return { onHand: _sum.quantity?.toNumber() ?? 0, valueMinor: _sum.costMinor ?? 0 };
};
const rackOf = async (itemId: string) => {
  const rows = await database().offcut.findMany({ where: { itemId, state: "RACK" } });
  return rows.map(({ lengthMm }) => lengthMm.toNumber()).sort((a, b) => a - b);
};

const hang = (tankId: string, cut: { cutId: string; massG: number; wettedAreaM2: number }) => ({
  tankId,
  place: "WALL" as const,
  name: "Strips",
  massG: cut.massG,
  wettedAreaM2: cut.wettedAreaM2,
  replaceAtShare: 0.5,
  thickness: null,
  steel: null,
  cutId: cut.cutId,
  idempotencyKey: randomUUID(),
});

describe("describing bars", () => {
  it("wants steel by the length and a section that can be", async () => {
    const soda = await createItem();
    await expect(describeBars(bench, soda.id, BARS, MONDAY)).rejects.toMatchObject({
      code: "not-found",
    });
    const { itemId } = await steel([1, 100]);
    const solid = { ...BARS, section: { ...FLAT, shape: "TUBE", thicknessMm: 30 } as const };
    await expect(describeBars(bench, itemId, solid, MONDAY)).rejects.toMatchObject({
      code: "invalid",
      fields: { thicknessMm: expect.stringContaining("25 mm") as string },
    });
    await describeBars(bench, itemId, { ...BARS, kerfMm: 1.5 }, MONDAY);
    expect((await barsPage(desk, itemId)).section).toMatchObject({ kerfMm: 1.5, shape: "FLAT" });
  });
});

describe("planning a cut", () => {
  it("takes strips from the foot to above the rim, from the fewest bars, and proves it", async () => {
    const tank = await createTank();
    const { itemId, lots } = await steel([3, 3000]);
    const { plan } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    // 800 deep: 100 over the rim, foot at 100: 800 long, 550 of it in the bath.
    expect(plan.pieces).toEqual({ way: "STRIPS", count: 4, lengthMm: 800, wetMm: 550 });
    expect(plan.mass.value).toBeCloseTo(massPerMetre(FLAT) * 3200);
    expect(plan.answer).toMatchObject({ proof: "PROVEN", leastNewBars: 2 });
    expect(plan.answer.score?.newBars).toBe(2);
    expect(plan.answer.plan?.every(({ barId }) => barId === lots[0])).toBe(true);
  });

  it("bends a ring for where it hangs in a vessel that narrows, its clip above the level", async () => {
    const tank = await createTank();
    const { itemId } = await steel([1, 1000]);
    const ring = {
      ...STRIPS,
      way: "RING",
      heightMm: 400,
      offsetMm: 5,
      gapMm: 40,
      overhangMm: 300,
      tankId: tank.id,
      itemId,
    } as const;
    const plan = await proposeCut(bench, ring);
    expect(plan.pieces.lengthMm).toBe(Math.ceil(Math.PI * (475 - 10 - 5) - 40 + 300));
    await expect(proposeCut(bench, { ...ring, overhangMm: 100 })).rejects.toMatchObject({
      code: "invalid",
      fields: { overhangMm: expect.stringContaining("251 mm") as string },
    });
    await expect(proposeCut(bench, { ...ring, heightMm: 640 })).rejects.toMatchObject({
      code: "invalid",
    });
  });

  it("says so where the rack does not hold enough", async () => {
    const tank = await createTank();
    const { itemId } = await steel([1, 1000]);
    const plan = await proposeCut(bench, { ...STRIPS, count: 9, tankId: tank.id, itemId });
    expect(plan.answer).toMatchObject({ plan: null, proof: "PROVEN" });
  });
});

describe("cutting", () => {
  it("takes pieces, chips and scrap out of stock at their cost, and lays the offcuts on the rack", async () => {
    const tank = await createTank();
    const { itemId } = await steel([2, 6000]);
    const { cut, cutId } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    await cutSteel(bench, cut, MONDAY);
    await cutSteel(bench, cut, MONDAY); // a repeat
    // Three and one, or two and two: 3200 of pieces, 8 of chips; all the rest is kept.
    expect(await ledgerOf(itemId)).toEqual({ onHand: 2792, valueMinor: 2792 });
    const rack = await rackOf(itemId);
    expect(rack.reduce((sum, length) => sum + length, 0)).toBe(2792);
    expect(rack.at(-1)).toBe(2198); // the longest that can be left
    expect(await seeCut(owner, cutId)).toMatchObject({ costMinor: 3208, state: "CUT", count: 4 });
    expect((await seeCut(bench, cutId)).costMinor).toBeNull();
  });

  it("takes from offcuts before it begins a bar", async () => {
    const tank = await createTank();
    const { itemId } = await steel([2, 6000]);
    const first = await planned({ ...STRIPS, count: 1, tankId: tank.id, itemId });
    await cutSteel(bench, first.cut, MONDAY);
    const second = await planned({ ...STRIPS, count: 2, tankId: tank.id, itemId });
    expect(second.plan.answer.score?.newBars).toBe(0);
    await cutSteel(bench, second.cut, MONDAY);
    expect(await rackOf(itemId)).toEqual([2198 - 1604]);
    expect((await barsPage(owner, itemId)).rack[0]).toMatchObject({
      wholeBars: 1,
      unmeasuredMm: 0,
    });
  });

  it("lets one of twelve have the same bar, and the others know", async () => {
    const tank = await createTank();
    const { itemId } = await steel([1, 3000]);
    const { cut } = await planned({ ...STRIPS, count: 3, tankId: tank.id, itemId });
    const answers = await Promise.allSettled(
      Array.from({ length: 12 }, () => cutSteel(bench, { ...cut, cutId: randomUUID() }, MONDAY)),
    );
    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    for (const answer of answers) {
      if (answer.status === "rejected") expect(answer.reason).toMatchObject({ code: "conflict" });
    }
    expect(await database().steelCut.count({ where: { itemId } })).toBe(1);
    expect((await ledgerOf(itemId)).onHand).toBe(3000 - 2406);
    expect(await rackOf(itemId)).toEqual([594]);
  });

  it("takes once for a repeat, also when the repeats come together", async () => {
    const tank = await createTank();
    const { itemId } = await steel([3, 3000]);
    const { cut } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    await Promise.all(Array.from({ length: 6 }, () => cutSteel(bench, cut, MONDAY)));
    expect((await ledgerOf(itemId)).onHand).toBe(9000 - 3208);
  });

  it("never saws a plan that was made up", async () => {
    const tank = await createTank();
    const { itemId, lots } = await steel([2, 6000]);
    const { cut } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    const lot = lots[0] ?? "";
    for (const bars of [
      [],
      [{ barId: lot, pieces: [800, 800, 800, 800] }],
      [
        { barId: randomUUID(), pieces: [800, 800] },
        { barId: lot, pieces: [800, 800] },
      ],
      [{ barId: lot, pieces: [800, 800] }],
    ]) {
      await expect(cutSteel(bench, { ...cut, bars }, MONDAY)).rejects.toMatchObject({
        code: "conflict",
      });
    }
    await expect(cutSteel(desk, cut, MONDAY)).rejects.toMatchObject({ code: "not-allowed" });
    expect((await ledgerOf(itemId)).onHand).toBe(6000);
  });

  it("is taken back whole while nothing hangs and nothing else was cut from it", async () => {
    const tank = await createTank();
    const { itemId } = await steel([1, 3000], [1, 3333]);
    const { cut, cutId } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    await cutSteel(bench, cut, MONDAY);
    await Promise.all(Array.from({ length: 5 }, () => undoCut(bench, cutId, MONDAY)));
    expect(await ledgerOf(itemId)).toEqual({ onHand: 6000, valueMinor: 6333 });
    expect(await rackOf(itemId)).toEqual([]);
    const again = await planned({ ...STRIPS, count: 1, tankId: tank.id, itemId });
    await cutSteel(bench, again.cut, MONDAY);
    const later = await planned({ ...STRIPS, count: 1, tankId: tank.id, itemId });
    await cutSteel(bench, later.cut, MONDAY); // from what the one before left
    await expect(undoCut(bench, again.cutId, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    await undoCut(bench, later.cutId, MONDAY);
    await undoCut(bench, again.cutId, MONDAY);
    expect(await ledgerOf(itemId)).toEqual({ onHand: 6000, valueMinor: 6333 });
  });
});

describe("the rack", () => {
  it("takes what is measured of a delivery, never more than the ledger says", async () => {
    const { itemId, lots } = await steel([1, 3000]);
    const offcut = { id: randomUUID(), itemId, lotId: lots[0] ?? "", lengthMm: 1200 };
    await measureOffcut(bench, offcut, MONDAY);
    await measureOffcut(bench, offcut, MONDAY); // a repeat
    expect((await barsPage(bench, itemId)).rack[0]).toMatchObject({
      wholeBars: 0,
      unmeasuredMm: 1800,
    });
    const more = { ...offcut, id: randomUUID(), lengthMm: 1801 };
    await expect(measureOffcut(bench, more, MONDAY)).rejects.toMatchObject({ code: "invalid" });
    const { id: _id, ...row } = { ...more, at: MONDAY, enteredById: bench.personId };
    await expect(database().offcut.create({ data: row })).rejects.toThrow("offcut_within_lot");
  });

  it("writes a scrapped offcut off", async () => {
    const { itemId, lots } = await steel([1, 3000]);
    const offcut = { id: randomUUID(), itemId, lotId: lots[0] ?? "", lengthMm: 400 };
    await measureOffcut(bench, offcut, MONDAY);
    await Promise.all(
      [1, 2, 3].map(() => scrapOffcut(bench, { itemId, offcutId: offcut.id }, MONDAY)),
    );
    expect(await ledgerOf(itemId)).toEqual({ onHand: 2600, valueMinor: 2600 });
    expect(await rackOf(itemId)).toEqual([]);
  });
});

describe("hanging what was cut", () => {
  it("gives the anode its lots and their cost, once", async () => {
    const tank = await createTank();
    const { itemId, lots } = await steel([1, 3000], [1, 3333]);
    const { cut, cutId } = await planned({ ...STRIPS, tankId: tank.id, itemId });
    await cutSteel(bench, cut, MONDAY);
    const made = await seeCut(owner, cutId);
    const answers = await Promise.allSettled(
      [1, 2, 3].map(() => installAnode(bench, hang(tank.id, { ...made, cutId }), MONDAY)),
    );
    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    const [anode] = await database().anode.findMany({
      where: { tankId: tank.id },
      include: { lots: true },
    });
    expect(anode?.costMinor).toBe(made.costMinor);
    expect(anode?.lots.map(({ lotId }) => lotId).sort()).toEqual([...lots].sort());
    expect(anode?.lots.reduce((sum, lot) => sum + lot.costMinor, 0)).toBe(anode?.costMinor);
    await expect(undoCut(bench, cutId, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    expect((await cuttingChoices(bench)).waiting.some(({ id }) => id === cutId)).toBe(false);
    // The database itself refuses an anode whose lots do not add up to its cost.
    await expect(
      database().anodeLot.updateMany({
        where: { anodeId: anode?.id ?? "" },
        data: { costMinor: 1 },
      }),
    ).rejects.toThrow("anode_lot_adds_up");
    const other = await createTank();
    await expect(
      installAnode(bench, hang(other.id, { ...made, cutId }), MONDAY),
    ).rejects.toMatchObject({ code: "not-found" });
  });

  it("keeps the lots of steel that was taken by the length, too", async () => {
    const tank = await addTank(owner, { ...(await plainTank()), name: "Trough" }, MONDAY);
    const { itemId } = await steel([1, 1000]);
    const { cutId: _cutId, ...plain } = hang(tank, { cutId: "", massG: 900, wettedAreaM2: 0.1 });
    await installAnode(bench, { ...plain, steel: { itemId, quantity: 450 } }, MONDAY);
    const [anode] = await database().anode.findMany({
      where: { tankId: tank },
      include: { lots: true },
    });
    expect(anode).toMatchObject({ costMinor: 150, lots: [{ costMinor: 150 }] });
  });

  it("has its runs bear its cost to the cent, and the shop what is left when it comes out", async () => {
    const tank = await createReadyTank();
    const [anode] = await database().anode.findMany({ where: { tankId: tank.id } });
    await database().anode.update({ where: { id: anode?.id ?? "" }, data: { costMinor: 997 } });
    for (const day of [0, 1, 2]) {
      const at = hoursAfter(MONDAY, 24 * day);
      const part = await createPlannedSkillet(bench, tank.id);
      const { runId } = await book(bench, part.id, tank.id, at);
      await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, at);
      await pullRun(bench, runId, hoursAfter(at, 7));
    }
    const wear = await database().anodeWear.findMany({ where: { anodeId: anode?.id ?? "" } });
    const borne = wear.reduce((sum, { costMinor }) => sum + costMinor, 0);
    const lostG = wear.reduce((sum, { lossG }) => sum + lossG, 0);
    const usableG = (anode?.initialMassG ?? 0) * (anode?.replaceAtShare ?? 0);
    expect(wear).toHaveLength(3);
    expect(borne).toBe(Math.round((997 * lostG) / usableG));
    await removeAnode(bench, anode?.id ?? "", hoursAfter(MONDAY, 200));
    const later = hoursAfter(MONDAY, 201);
    const [out] = (await seeTank(owner, tank.id, later)).removedAnodes;
    expect(out).toMatchObject({ id: anode?.id, writtenOffMinor: 997 - borne });
    const [unpriced] = (await seeTank(bench, tank.id, later)).removedAnodes;
    expect(unpriced?.writtenOffMinor).toBeNull();
  });
});

async function plainTank() {
  const {
    id: _id,
    createdAt: _at,
    retiredAt: _out,
    sortOrder: _order,
    ...tank
  } = await createTank();
  return { ...tank, marks: [] };
}
