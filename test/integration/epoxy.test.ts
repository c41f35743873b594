/** Leaks and their patches: what leaves stock, and that nothing wets a patch before it has set. */
import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  closeLeak,
  describeEpoxy,
  disposeBath,
  epoxyPage,
  leaksPage,
  loadRun,
  mixBath,
  patchLeak,
  reopenLeak,
  reportLeak,
  seeTank,
} from "@/lib/services";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
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

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  [owner, bench] = [await createActor("OWNER"), await createActor("BENCH")];
});

const SHEET = {
  hardenerPer100ByMass: 50,
  hardenerPer100ByVolume: null,
  densityGPerMl: 1.2,
  referenceC: 20,
  potLifeMin: 40,
  cureHours: 10,
  leastCureC: 8,
  shelfLifeDays: null,
};

async function epoxy(quantity = 500, expiresOn: Date | null = null) {
  const item = await createItem({ kind: "EPOXY", saltGrade: null });
  const lot = await createLot(item.id, owner.personId, {
    quantity,
    costMinor: 2 * quantity,
    expiresOn,
  });
  await describeEpoxy(bench, item.id, SHEET, MONDAY);
  return { itemId: item.id, lotId: lot.id };
}

async function leakIn(tankId: string) {
  const leakId = randomUUID();
  await reportLeak(
    bench,
    { tankId, place: "seam by the drain", heightMm: 40, severity: "WEEPING", note: "", leakId },
    MONDAY,
  );
  return leakId;
}

async function dryLeak() {
  const tank = await createReadyTank({ bath: null });
  return { tank, leakId: await leakIn(tank.id) };
}

const patchOf = (leakId: string, itemId: string, overrides: object = {}) => ({
  leakId,
  itemId,
  lotId: null,
  quantity: 30,
  temperatureC: 20,
  expiredReason: "",
  note: "",
  patchId: randomUUID(),
  ...overrides,
});

const onHand = async (itemId: string) => {
  const { _sum } = await database().lot.aggregate({ where: { itemId }, _sum: { onHand: true } });
  return _sum.onHand?.toNumber();
};

const mix = (tankId: string) => ({
  tankId,
  levelMm: 300,
  salt: null,
  temperatureC: 20,
  idempotencyKey: randomUUID(),
});

describe("the maker's sheet", () => {
  it("belongs to an epoxy and has a ratio", async () => {
    const soda = await createItem();
    await expect(describeEpoxy(bench, soda.id, SHEET, MONDAY)).rejects.toMatchObject({
      code: "not-found",
    });
    const { itemId } = await epoxy();
    const bare = { ...SHEET, hardenerPer100ByMass: null, shelfLifeDays: 0 };
    await expect(describeEpoxy(bench, itemId, bare, MONDAY)).rejects.toMatchObject({
      fields: {
        hardenerPer100ByMass: expect.any(String) as string,
        shelfLifeDays: expect.any(String) as string,
      },
    });
  });

  it("ages deliveries that carry no day of their own", async () => {
    const { itemId } = await epoxy();
    expect((await epoxyPage(bench, itemId, MONDAY)).lots[0]).toMatchObject({
      isExpired: false,
      goodUntil: null,
    });
    await describeEpoxy(bench, itemId, { ...SHEET, shelfLifeDays: 30 }, MONDAY);
    expect((await epoxyPage(bench, itemId, MONDAY)).lots[0]).toMatchObject({ isExpired: true });
  });
});

describe("a leak", () => {
  it("is written once, and has a place", async () => {
    const tank = await createReadyTank({ bath: null });
    const found = {
      tankId: tank.id,
      place: " ",
      heightMm: 5000,
      severity: "RUNNING" as const,
      note: "",
      leakId: randomUUID(),
    };
    await expect(reportLeak(bench, found, MONDAY)).rejects.toMatchObject({
      fields: { place: expect.any(String) as string, heightMm: expect.any(String) as string },
    });
    const sound = { ...found, place: "floor", heightMm: 0 };
    await Promise.all([1, 2, 3].map(() => reportLeak(bench, sound, MONDAY)));
    expect((await leaksPage(bench, tank.id, { skip: 0, take: 10 }, MONDAY)).total).toBe(1);
    expect((await seeTank(bench, tank.id, MONDAY)).leaks).toEqual({ open: 1, patched: 0 });
  });
});

describe("patching", () => {
  it("takes the epoxy out of stock to the tank, holds the tank until it has set, and does so once", async () => {
    const { tank, leakId } = await dryLeak();
    const { itemId } = await epoxy();
    const patch = patchOf(leakId, itemId, { temperatureC: 10 });
    await Promise.all([1, 2, 3, 4].map(() => patchLeak(bench, patch, MONDAY)));
    expect(await onHand(itemId)).toBe(470);
    const until = hoursAfter(MONDAY, 20); // ten kelvin colder: twice the ten hours
    const page = await leaksPage(bench, tank.id, { skip: 0, take: 10 }, MONDAY);
    expect(page.curing).toEqual(until);
    expect(page.leaks[0]).toMatchObject({ state: "PATCHED", patches: [{ costMinor: 60 }] });
    const holds = await database().tankHold.findMany({ where: { tankId: tank.id } });
    expect(holds).toMatchObject([{ kind: "MAINTENANCE", startsAt: MONDAY, endsAt: until }]);
    const [entry] = await database().ledgerEntry.findMany({ where: { itemId, kind: "USED" } });
    expect(entry).toMatchObject({ tankId: tank.id, note: "patch: seam by the drain" });
  });

  it("keeps baths and loads out until it has set, whoever comes first", async () => {
    const { tank, leakId } = await dryLeak();
    const { itemId } = await epoxy();
    await patchLeak(bench, patchOf(leakId, itemId), MONDAY);
    await expect(mixBath(bench, mix(tank.id), hoursAfter(MONDAY, 9.9))).rejects.toMatchObject({
      code: "conflict",
      message: expect.stringContaining("has not set") as string,
    });
    await expect(closeLeak(bench, leakId, hoursAfter(MONDAY, 9))).rejects.toMatchObject({
      code: "conflict",
    });
    await mixBath(bench, mix(tank.id), hoursAfter(MONDAY, 10));
    await closeLeak(bench, leakId, hoursAfter(MONDAY, 11));
    await reopenLeak(bench, leakId, hoursAfter(MONDAY, 12));
    await expect(
      patchLeak(bench, patchOf(leakId, itemId), hoursAfter(MONDAY, 12)),
    ).rejects.toMatchObject({
      message: expect.stringContaining("dry walls") as string,
    });
    expect(await onHand(itemId)).toBe(470);
    await disposeBath(bench, { tankId: tank.id, note: "drain" }, hoursAfter(MONDAY, 13));
    await patchLeak(bench, patchOf(leakId, itemId), hoursAfter(MONDAY, 13));
  });

  it("lets the bath or the patch in, never both, when they come together", async () => {
    const { itemId } = await epoxy(2000);
    const outcomes = await Promise.all(
      Array.from({ length: 8 }, async () => {
        const { tank, leakId } = await dryLeak();
        const answers = await Promise.allSettled([
          mixBath(bench, mix(tank.id), hoursAfter(MONDAY, 1)),
          patchLeak(bench, patchOf(leakId, itemId), MONDAY),
        ]);
        return answers.filter(({ status }) => status === "fulfilled").length;
      }),
    );
    expect(outcomes).toEqual(outcomes.map(() => 1));
  });

  it("keeps a load out at the database too", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, part.id, tank.id, hoursAfter(MONDAY, 30));
    // The bath goes on in the books, as if somebody had patched above the level by hand.
    await database().bath.updateMany({ where: { tankId: tank.id }, data: { disposedAt: MONDAY } });
    const leakId = await leakIn(tank.id);
    const { itemId } = await epoxy();
    await patchLeak(bench, patchOf(leakId, itemId), MONDAY);
    await database().bath.updateMany({ where: { tankId: tank.id }, data: { disposedAt: null } });
    await expect(
      database().run.update({
        where: { id: runId },
        data: { state: "RUNNING", loadedAt: hoursAfter(MONDAY, 5) },
      }),
    ).rejects.toThrow("run_beside_patch");
    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, hoursAfter(MONDAY, 30));
    await expect(
      database().leakPatch.updateMany({ where: { leakId }, data: { note: "never" } }),
    ).rejects.toThrow("append-only");
  });

  it("is refused while a load is booked in that time, and goes beside work that is booked", async () => {
    const { tank, leakId } = await dryLeak();
    const { itemId } = await epoxy();
    const hold = await database().tankHold.create({
      data: {
        tankId: tank.id,
        kind: "MAINTENANCE",
        startsAt: hoursAfter(MONDAY, 2),
        endsAt: hoursAfter(MONDAY, 4),
        createdById: bench.personId,
        idempotencyKey: randomUUID(),
      },
    });
    await patchLeak(bench, patchOf(leakId, itemId), MONDAY);
    const holds = await database().tankHold.findMany({
      where: { tankId: tank.id },
      orderBy: { startsAt: "asc" },
    });
    expect(holds.map(({ startsAt, endsAt }) => [startsAt, endsAt])).toEqual([
      [MONDAY, hoursAfter(MONDAY, 2)],
      [hold.startsAt, hold.endsAt],
      [hoursAfter(MONDAY, 4), hoursAfter(MONDAY, 10)],
    ]);
    const busy = await createReadyTank();
    const part = await createPlannedSkillet(bench, busy.id);
    await book(bench, part.id, busy.id, hoursAfter(MONDAY, 5));
    await disposeBath(bench, { tankId: busy.id, note: "drain" }, MONDAY);
    const wet = await leakIn(busy.id);
    await expect(
      patchLeak(bench, patchOf(wet, itemId), hoursAfter(MONDAY, 1)),
    ).rejects.toMatchObject({ code: "tank-busy" });
  });

  it("takes no delivery past its last good day without a reason, which is kept", async () => {
    const { leakId } = await dryLeak();
    const { itemId, lotId } = await epoxy(500, new Date("2030-01-01T00:00:00Z"));
    await expect(patchLeak(bench, patchOf(leakId, itemId), MONDAY)).rejects.toMatchObject({
      code: "not-enough-stock",
      message: expect.stringContaining("past its last good day") as string,
    });
    await expect(
      patchLeak(bench, patchOf(leakId, itemId, { lotId }), MONDAY),
    ).rejects.toMatchObject({
      fields: { expiredReason: expect.any(String) as string },
    });
    const reasoned = patchOf(leakId, itemId, { lotId, expiredReason: "a test cup set hard" });
    await patchLeak(bench, reasoned, MONDAY);
    const [patch] = await database().leakPatch.findMany({ where: { leakId } });
    expect(patch?.expiredReason).toBe("a test cup set hard");
  });

  it("is refused where it would never set, or one delivery does not hold it", async () => {
    const { leakId } = await dryLeak();
    const { itemId } = await epoxy(100);
    await expect(
      patchLeak(bench, patchOf(leakId, itemId, { temperatureC: 7 }), MONDAY),
    ).rejects.toMatchObject({
      message: expect.stringContaining("does not set") as string,
    });
    await expect(
      patchLeak(bench, patchOf(leakId, itemId, { quantity: 101 }), MONDAY),
    ).rejects.toMatchObject({
      code: "not-enough-stock",
    });
    await expect(
      patchLeak(bench, patchOf(leakId, itemId, { quantity: 0 }), MONDAY),
    ).rejects.toMatchObject({ code: "invalid" });
    expect(await onHand(itemId)).toBe(100);
  });
});
