/** A part that is planned, whose field is worked out, and that is planned anew by it. */
import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { askForChangedFields, bookRun, loadRun, makePlan, solveNextField } from "@/lib/services";
import type { FieldFindings, TreatmentPlan } from "@/lib/treatment";
import { createPart } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import {
  ALL_CHECKS,
  createOpeningHours,
  createReadyTank,
  hoursAfter,
} from "../support/factories-tanks";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
const LATER = hoursAfter(NOW, 1);

let desk: Actor;
let bench: Actor;
let tank: Awaited<ReturnType<typeof createReadyTank>>;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  await database().planField.deleteMany();
  await database().part.updateMany({ data: { state: "HANDED_BACK" } });
  await database().tank.updateMany({ data: { retiredAt: NOW } });
  tank = await createReadyTank();
});

const WORDS = "A rod of {12 mm}, {240 mm} long, upright in the middle of the hollow";

/** What a solver that takes no time finds: a shape length of its own, an inside that lags, and a rod that helps. */
function found(shapeLengthM: number, conductivitySPerM = 0.5): FieldFindings {
  const hours = (p50: number) => ({ p10: p50 / 2, p50, p90: 2 * p50 });
  const sides = (outside: number, inside: number) => ({
    ...{ outside: hours(outside), inside: hours(inside) },
    worst: hours(Math.max(outside, inside)),
  });
  const planned = {
    ...{ shapeLengthM, currentA: 3, spread: { outside: 1.4, inside: 0.3 } },
    ...{ hours: sides(3, 12), lagShare: 0.3 },
  };
  return {
    ...{ cells: 812_000, conductivitySPerM },
    shapeLengthM: { value: shapeLengthM, error: 0.02 },
    ...{ wetAreaM2: 0.2, insideShare: 0.45 },
    planned,
    innerAnodes: [
      {
        ...{ shapeLengthM: 1.2 * shapeLengthM, currentA: 3.5 },
        ...{ spread: { outside: 1, inside: 0.9 }, hours: sides(4, 5), lagShare: 0.1 },
        form: { kind: "RODS", rods: [{ from: [0, 0, 0.1], to: [0, 0, 0.29] }], radiusM: 0.006 },
        ...{ words: WORDS, clearanceMm: 42, savesH: 7 },
      },
    ],
    ...{ turns: [], wear: [] },
  };
}

/** Solves whatever waits. */
async function solveAll(findings: FieldFindings): Promise<void> {
  while (await solveNextField({ solve: () => Promise.resolve(findings) }));
}

async function plannedPart(part: Parameters<typeof createPart>[1] = {}): Promise<string> {
  const id = await createPart(desk, part);
  await makePlan(desk, { partId: id, ...CHOICE }, NOW);
  return id;
}
async function newest(partId: string) {
  const row = await database().plan.findFirstOrThrow({
    where: { partId },
    orderBy: { version: "desc" },
  });
  return { row, plan: row.result as unknown as TreatmentPlan };
}
const planAnew = (partId: string, innerAnode?: boolean): Promise<void> =>
  makePlan(desk, { partId, ...CHOICE, innerAnode }, LATER);

describe("a part that is planned anew once its field is there", () => {
  it("rests on the field: its current, its hours and its cells", async () => {
    const partId = await plannedPart();
    const before = await newest(partId);
    expect(before.row.fieldTimes).toBeNull();
    expect(before.plan.fieldCells).toBeUndefined();
    await solveAll(found(0.4));
    // The plan that there is stays as it was made.
    expect(await newest(partId)).toEqual(before);

    await planAnew(partId);
    const after = await newest(partId);
    expect(after.row.version).toBe(before.row.version + 1);
    expect(after.plan.fieldCells).toBe(812_000);
    expect(after.row.fieldTimes).toBeCloseTo(after.plan.fieldTimes ?? NaN, 12);
    expect(after.row.fieldTimes).toBeLessThan(1);
    // Less shape length by the field, less current.
    expect(after.row.currentA).toBeLessThan(0.95 * before.row.currentA);
    expect(after.row.currentA).toBe(after.plan.currentA.mid);
    expect(after.row.hoursP50).toBe(after.plan.hours.p50);
    expect(after.plan.hours.p50).toBeGreaterThan(before.plan.hours.p50);
    expect(after.plan.hoursWithInnerAnode?.p50).toBeLessThan(after.plan.hours.p50);
  });

  it("goes the way the field says: more shape length, more current", async () => {
    const partId = await plannedPart();
    await solveAll(found(8));
    await planAnew(partId);
    const [first, second] = await database().plan.findMany({
      where: { partId },
      orderBy: { version: "asc" },
    });
    expect(second?.fieldTimes).toBeGreaterThan(1);
    expect(second?.currentA).toBeGreaterThan(first?.currentA ?? Infinity);
  });

  it("leaves the plan of a like part without a field on the closed form", async () => {
    const partId = await plannedPart();
    await solveAll(found(0.4));
    const other = await plannedPart();
    await planAnew(other);
    await planAnew(partId);
    const [mine, its] = [await newest(partId), await newest(other)];
    expect(mine.row.fieldTimes).not.toBeNull();
    expect(its.row.fieldTimes).toBeNull();
    expect(its.plan.fieldCells).toBeUndefined();
    expect(its.row.currentA).toBeGreaterThan(mine.row.currentA);
  });

  it.each([
    ["working level", () => database().tank.updateMany({ data: { workingLevelMm: 290 } })],
    ["anode", () => database().anode.updateMany({ data: { wettedAreaM2: 0.33 } })],
  ])(
    "rests on it no longer once the tank's %s changes, and again once that is solved",
    async (_, change) => {
      const partId = await plannedPart();
      await solveAll(found(0.4));
      await planAnew(partId);
      expect((await newest(partId)).plan.fieldCells).toBe(812_000);
      await change();
      await planAnew(partId);
      const closed = await newest(partId);
      expect(closed.plan.fieldCells).toBeUndefined();
      expect(closed.row.fieldTimes).toBeNull();
      expect(closed.plan.hoursWithInnerAnode?.p50).not.toBe(5);
      await askForChangedFields(LATER);
      await solveAll(found(0.5));
      await planAnew(partId);
      expect((await newest(partId)).row.fieldTimes).not.toBeNull();
    },
  );

  it("rests on it no longer in another tank", async () => {
    const partId = await plannedPart();
    await solveAll(found(0.4));
    const other = await createReadyTank();
    await makePlan(desk, { partId, ...CHOICE, tankId: other.id }, LATER);
    const { row, plan } = await newest(partId);
    expect(row.tankId).toBe(other.id);
    expect(row.fieldTimes).toBeNull();
    expect(plan.fieldCells).toBeUndefined();
  });
});

describe("a part with an anode hung inside", () => {
  it("is planned with what the field found, and says what hangs and how far off", async () => {
    const partId = await plannedPart();
    await solveAll(found(0.4));
    await planAnew(partId);
    const bare = await newest(partId);
    await planAnew(partId, true);
    const { row, plan } = await newest(partId);
    expect(plan.innerAnode).toContain(WORDS);
    expect(plan.innerAnode).toContain("{42 mm} clear");
    expect(plan.steps.find(({ title }) => title === "Hang an inner anode")?.detail).toBe(
      plan.innerAnode,
    );
    expect(plan.hoursWithInnerAnode).toBeNull();
    expect(plan.hours).toEqual(bare.plan.hoursWithInnerAnode);
    expect(row.hoursP50).toBeLessThan(bare.row.hoursP50);
    expect(row.currentA).toBeGreaterThan(bare.row.currentA);
    expect(row.fieldTimes).toBeGreaterThan(bare.row.fieldTimes ?? Infinity);
    // And without it again it is as it was.
    await planAnew(partId);
    expect((await newest(partId)).row.hoursP50).toBeCloseTo(bare.row.hoursP50, 9);
  });

  it("hangs a plain rod where no field is there yet", async () => {
    const id = await createPart(desk);
    await makePlan(desk, { partId: id, ...CHOICE, innerAnode: true }, NOW);
    const { row, plan } = await newest(id);
    expect(plan.innerAnode).toMatch(/^A steel rod/);
    expect(row.fieldTimes).toBeNull();
  });
});

describe("a load of parts that rest on the field", () => {
  const bookAll = (partIds: readonly string[]) =>
    bookRun(
      bench,
      {
        ...{ partIds: [...partIds], tankId: tank.id, startsAt: hoursAfter(NOW, 1), notes: "" },
        idempotencyKey: randomUUID(),
      },
      NOW,
    );
  const runOf = (id: string) => database().run.findUniqueOrThrow({ where: { id } });

  it("is booked and loaded with the plan's current and charge", async () => {
    const partId = await plannedPart();
    await solveAll(found(0.4));
    await planAnew(partId, true);
    const { row } = await newest(partId);
    const { runId } = await bookAll([partId]);
    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, hoursAfter(NOW, 1));
    const run = await runOf(runId);
    expect(run.expectedCurrentA).toBeCloseTo(row.currentA, 9);
    expect(run.targetChargeAh).toBeCloseTo(row.chargeAh, 9);
    expect((await database().part.findUniqueOrThrow({ where: { id: partId } })).state).toBe(
      "IN_BATH",
    );
  });

  it("draws together by the field too, less than each alone", async () => {
    const small = { lengthMm: 140, widthMm: 140, heightMm: 40, massG: 700 };
    const drawn: number[] = [];
    for (const shapeLengthM of [null, 0.4]) {
      await database().tank.updateMany({ data: { retiredAt: NOW } });
      tank = await createReadyTank();
      const parts = [await plannedPart(small), await plannedPart(small)];
      if (shapeLengthM !== null) {
        await solveAll(found(shapeLengthM));
        for (const partId of parts) await planAnew(partId);
      }
      const alone = (await newest(parts[0] ?? "")).row.currentA;
      const { runId } = await bookAll(parts);
      const { expectedCurrentA } = await runOf(runId);
      expect(expectedCurrentA).toBeGreaterThan(alone);
      expect(expectedCurrentA).toBeLessThan(2 * alone);
      drawn.push(expectedCurrentA);
    }
    expect(drawn[1]).toBeLessThan(0.95 * (drawn[0] ?? 0));
  });
});
