import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { bookRun, cancelRun, loadRun, offerSlots, pullRun, seeRun } from "@/lib/services";
import { checkPacking } from "@/lib/tanks";
import type { PartDescription } from "@/lib/treatment";
import { createActor, createJob, createShopWithRates } from "../support/factories-money";
import {
  ALL_CHECKS,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  hoursAfter,
  MONDAY,
} from "../support/factories-tanks";

/** The tub's free bath is 450 × 250 × 250 mm: four of these hang in it, five are not found to, eight are too much. */
const BLOCK = { shape: "SOLID", lengthMm: 200, widthMm: 150, heightMm: 100, massG: 3000 } as const;

let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  bench = await createActor("BENCH");
});

/** So many parts of one job that wait for one tub, whose supply carries them all. */
async function createBlocks(count: number, part: Partial<PartDescription> = {}) {
  const tank = await createReadyTank();
  await database().supply.updateMany({
    where: { tanks: { some: { id: tank.id } } },
    data: { ratedCurrentA: 40 },
  });
  const { id: jobId } = await createJob(bench);
  const partIds: string[] = [];
  for (let made = 0; made < count; made += 1) {
    const { id } = await createPlannedSkillet(bench, tank.id, {
      jobId,
      part: { ...BLOCK, wallMm: null, ...part },
    });
    partIds.push(id);
  }
  return { tank, partIds };
}

const bookingOf = (tankId: string, partIds: readonly string[], laidOut?: boolean) => ({
  partIds,
  tankId,
  startsAt: MONDAY,
  notes: "",
  idempotencyKey: randomUUID(),
  ...(laidOut === undefined ? {} : { laidOut }),
});

const statesOf = async (partIds: readonly string[]) =>
  (await database().part.findMany({ where: { id: { in: [...partIds] } } })).map(
    ({ state }) => state,
  );

const auditOf = async (runId: string) =>
  (
    await database().auditEntry.findFirstOrThrow({
      where: { action: "run.booked", subjectId: runId },
    })
  ).detail;

describe("a load of several parts", () => {
  it("is booked where all of them hang clear, and shown as it hangs until it is out", async () => {
    const { tank, partIds } = await createBlocks(4);
    const { runId } = await bookRun(bench, bookingOf(tank.id, partIds), MONDAY);

    const booked = await seeRun(bench, runId, MONDAY);
    const { layout } = booked;
    if (!layout?.packing.packed) throw new Error("the load does not hang");
    expect(layout.packing.places.map(({ id }) => id).sort()).toEqual([...partIds].sort());
    expect(checkPacking(layout.load, layout.packing.places)).toEqual([]);
    expect(await auditOf(runId)).toMatchObject({ parts: 4, pieces: 4, laidOutByHand: false });

    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    expect((await seeRun(bench, runId, MONDAY)).layout).toEqual(layout);
    await pullRun(bench, runId, hoursAfter(MONDAY, 4));
    expect((await seeRun(bench, runId, hoursAfter(MONDAY, 4))).layout).toBeNull();
  });

  it("is refused where no arrangement is found, and says which part is too many", async () => {
    const { tank, partIds } = await createBlocks(5);
    await expect(bookRun(bench, bookingOf(tank.id, partIds), MONDAY)).rejects.toMatchObject({
      code: "invalid",
      message: expect.stringMatching(/No way was found.*No place for part P\d+\./) as string,
      fields: { laidOut: expect.stringContaining("if they fit") as string },
    });
    expect(await statesOf(partIds)).toEqual(Array(5).fill("PLANNED"));
    expect(await database().run.count({ where: { tankId: tank.id } })).toBe(0);
  });

  it("is booked all the same by who laid it out, and the audit trail keeps the doubt", async () => {
    const { tank, partIds } = await createBlocks(5);
    const { runId } = await bookRun(bench, bookingOf(tank.id, partIds, true), MONDAY);
    expect(await statesOf(partIds)).toEqual(Array(5).fill("BOOKED"));
    expect(await auditOf(runId)).toMatchObject({
      laidOutByHand: true,
      doubt: expect.stringContaining("No way was found") as string,
    });
    expect((await seeRun(bench, runId, MONDAY)).layout?.packing.packed).toBe(false);
  });

  it("is refused, laid out or not, where there is not the room for it", async () => {
    const { tank, partIds } = await createBlocks(8);
    for (const laidOut of [false, true]) {
      await expect(
        bookRun(bench, bookingOf(tank.id, partIds, laidOut), MONDAY),
      ).rejects.toMatchObject({
        code: "invalid",
        message: expect.stringContaining("more room than the free bath has") as string,
      });
    }
    expect(await statesOf(partIds)).toEqual(Array(8).fill("PLANNED"));
  });

  it("is refused where its steel would push the bath over the rim", async () => {
    // 80 mm of freeboard are about 17 L, 135 kg of steel.
    const { tank, partIds } = await createBlocks(2, { massG: 50_000 });
    await database().tank.update({ where: { id: tank.id }, data: { workingLevelMm: 360 } });
    await expect(bookRun(bench, bookingOf(tank.id, partIds, true), MONDAY)).rejects.toMatchObject({
      message: expect.stringContaining("over the rim") as string,
    });
  });

  it("is refused in a tank whose level was since set above its rim", async () => {
    const { tank, partIds } = await createBlocks(1);
    await database().tank.update({ where: { id: tank.id }, data: { workingLevelMm: 381 } });
    await expect(bookRun(bench, bookingOf(tank.id, partIds), MONDAY)).rejects.toMatchObject({
      message: expect.stringContaining("correct the tank first") as string,
    });
  });

  it("draws less than its parts would alone, takes longer, and wants all of their charge", async () => {
    const { tank, partIds } = await createBlocks(3);
    const alone = await offerSlots(bench, { partId: partIds[0] ?? "", withPartIds: [] }, MONDAY);
    const offer = await offerSlots(
      bench,
      { partId: partIds[0] ?? "", withPartIds: partIds.slice(1) },
      MONDAY,
    );
    const [one, three] = [alone.load, offer.load];
    if (!one || !three) throw new Error("no load");
    expect(three.expectedCurrentA).toBeGreaterThan(one.expectedCurrentA);
    expect(three.expectedCurrentA).toBeLessThan(3 * one.expectedCurrentA);
    expect(three.targetChargeAh).toBeCloseTo(3 * one.targetChargeAh, 9);
    // The same charge at a smaller current.
    expect(three.hours / one.hours).toBeCloseTo(
      (3 * one.expectedCurrentA) / three.expectedCurrentA,
      9,
    );
    expect(three.dips.map(({ chargeShare }) => chargeShare)).toEqual([1 / 3, 1 / 3, 1 / 3]);
    expect(tank.id).toBe(offer.tank.id);
  });
});

describe("pieces of one part", () => {
  it("all hang, and count in charge and current as parts of their own would", async () => {
    const pieces = await createBlocks(1, { quantity: 3 });
    const parts = await createBlocks(3);
    const one = await bookRun(bench, bookingOf(pieces.tank.id, pieces.partIds), MONDAY);
    const three = await bookRun(bench, bookingOf(parts.tank.id, parts.partIds), MONDAY);
    const [ofPieces, ofParts] = await Promise.all(
      [one, three].map(({ runId }) => database().run.findUniqueOrThrow({ where: { id: runId } })),
    );
    expect(ofPieces?.targetChargeAh).toBeCloseTo(ofParts?.targetChargeAh ?? 0, 9);
    expect(ofPieces?.expectedCurrentA).toBeCloseTo(ofParts?.expectedCurrentA ?? 0, 9);
    expect(ofPieces?.endsAt).toEqual(ofParts?.endsAt);
    expect(await auditOf(one.runId)).toMatchObject({ parts: 1, pieces: 3 });
    const { layout } = await seeRun(bench, one.runId, MONDAY);
    if (!layout?.packing.packed) throw new Error("the load does not hang");
    expect(layout.packing.places.map(({ copy }) => copy).sort()).toEqual([1, 2, 3]);
  });

  it("are refused together where they do not hang, with what to do about it", async () => {
    const { tank, partIds } = await createBlocks(1, { quantity: 5 });
    await expect(bookRun(bench, bookingOf(tank.id, partIds), MONDAY)).rejects.toMatchObject({
      message: expect.stringMatching(
        /No place for 1 of the 5 pieces of part P\d+\. Take it in as several parts/,
      ) as string,
    });
    await expect(bookRun(bench, bookingOf(tank.id, partIds, true), MONDAY)).resolves.toBeDefined();
  });
});

describe("the offer of free times", () => {
  it("shows how the load hangs", async () => {
    const { partIds } = await createBlocks(2);
    const [partId = "", ...withPartIds] = partIds;
    const offer = await offerSlots(bench, { partId, withPartIds }, MONDAY);
    expect([offer.hindrance, offer.doubt]).toEqual([null, null]);
    expect(offer.layout?.packing).toMatchObject({ packed: true });
    expect(offer.layout?.parts.map(({ label }) => label).sort()).toEqual(
      offer.together.map(({ mark }) => mark).sort(),
    );
  });

  it("tells a free tank that has not the room from one that is not free", async () => {
    const [five, eight] = [await createBlocks(5), await createBlocks(8)];
    const offerFor = ({ partIds: [partId = "", ...withPartIds] }: typeof five) =>
      offerSlots(bench, { partId, withPartIds }, MONDAY);

    const doubted = await offerFor(five);
    expect(doubted.hindrance).toBeNull();
    expect(doubted.doubt).toContain("No way was found");
    expect(doubted.slots.length).toBeGreaterThan(0);

    const refused = await offerFor(eight);
    expect(refused.hindrance).toContain("more room than the free bath has");
    expect(refused.doubt).toBeNull();
    expect(refused.slots.length).toBeGreaterThan(0);
  });

  it("names parts of several jobs by their jobs", async () => {
    const { tank, partIds } = await createBlocks(1);
    const other = await createPlannedSkillet(bench, tank.id, { part: { ...BLOCK, wallMm: null } });
    const offer = await offerSlots(
      bench,
      { partId: partIds[0] ?? "", withPartIds: [other.id] },
      MONDAY,
    );
    for (const { label } of offer.layout?.parts ?? []) expect(label).toMatch(/^\d+-P\d+$/);
    expect(offer.layout?.parts).toHaveLength(2);
  });
});

describe("a repeat of a booking that was laid out by hand", () => {
  it("gets the first booking, and a cancelled one frees its parts", async () => {
    const { tank, partIds } = await createBlocks(5);
    const booking = bookingOf(tank.id, partIds, true);
    const first = await bookRun(bench, booking, MONDAY);
    expect(await bookRun(bench, { ...booking, laidOut: false }, MONDAY)).toEqual(first);
    await cancelRun(bench, first.runId, MONDAY);
    expect(await statesOf(partIds)).toEqual(Array(5).fill("PLANNED"));
  });
});
