import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { bathConductivity } from "@/lib/electrolysis";
import {
  loadRun,
  measureBath,
  pullRun,
  recordCare,
  seeRun,
  seeTank,
  takeReading,
  undoPull,
  whatIf,
} from "@/lib/services";
import { outlook, plannedSettings } from "@/lib/treatment";
import { createActor, createShopWithRates } from "../support/factories-money";
import {
  ALL_CHECKS,
  book,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  createRunningRun,
  hoursAfter,
  MONDAY,
  readingOf,
} from "../support/factories-tanks";

let owner: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  [owner, bench] = [await createActor("OWNER"), await createActor("BENCH")];
});

const bathOf = async (tankId: string) =>
  database().bath.findFirstOrThrow({ where: { tankId, disposedAt: null } });

describe("a measured conductivity", () => {
  const found = (tankId: string, conductivitySPerM: number) => ({
    tankId,
    measuredBy: "METER" as const,
    conductivitySPerM,
    temperatureC: 18,
    idempotencyKey: randomUUID(),
  });
  const half = bathConductivity({
    carbonateMassG: 95,
    bicarbonateMassG: 0,
    volumeL: 62,
    temperatureC: 18,
  });

  it("lets the books hold what the bath holds, once however often it is sent", async () => {
    const tank = await createReadyTank();
    const measured = found(tank.id, half);
    await Promise.all([1, 2, 3].map(() => measureBath(bench, measured, MONDAY)));
    expect((await bathOf(tank.id)).carbonateG).toBeCloseTo(95, 3);
    const [row, ...more] = await database().bathMeasurement.findMany({
      where: { bath: { tankId: tank.id } },
    });
    expect(more).toEqual([]);
    expect(row).toMatchObject({ carbonateBeforeG: 190, measuredBy: "METER" });
    const { bathFigures, tank: seen } = await seeTank(bench, tank.id, MONDAY);
    expect(bathFigures?.conductivity.value).toBeCloseTo(half, 6);
    expect(seen.bath?.measurements).toHaveLength(1);
  });

  it("is refused where no bath can show it, where there is none, and to those who do not keep tanks", async () => {
    const tank = await createReadyTank();
    await expect(measureBath(bench, found(tank.id, 19), MONDAY)).rejects.toMatchObject({
      code: "invalid",
      message: expect.stringMatching(/conductivity must be from 0 to .* S\/m, got 19/i) as string,
    });
    expect((await bathOf(tank.id)).carbonateG).toBe(190);
    const drained = await createReadyTank({ bath: null });
    await expect(measureBath(bench, found(drained.id, 0.5), MONDAY)).rejects.toMatchObject({
      code: "conflict",
    });
    const desk = await createActor("FRONT_DESK");
    await expect(measureBath(desk, found(tank.id, 0.5), MONDAY)).rejects.toMatchObject({
      code: "not-allowed",
    });
  });

  it("is told by the load's own current, near what the model planned with", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const run = await database().run.findUniqueOrThrow({ where: { id: runId } });
    const at = hoursAfter(MONDAY, 1);
    await takeReading(
      bench,
      readingOf(runId, at, { currentA: run.expectedCurrentA, voltsV: 13 }),
      at,
    );
    const { bathFigures } = await seeTank(bench, tank.id, at);
    const { byCurrent, conductivity } = bathFigures ?? {};
    expect(byCurrent?.low).toBeLessThan(conductivity?.value ?? 0);
    expect(byCurrent?.high).toBeGreaterThan(conductivity?.value ?? 0);
  });
});

describe("bicarbonate in a bath", () => {
  it("turns to carbonate as charge passes, and back when the pulling is undone", async () => {
    const { runId, tank } = await createRunningRun(bench);
    await database().bath.updateMany({
      where: { tankId: tank.id },
      data: { carbonateG: 0, bicarbonateG: 300 },
    });
    const at = hoursAfter(MONDAY, 1);
    await takeReading(bench, readingOf(runId, at, { currentA: 3 }), at);
    const pulledAt = hoursAfter(MONDAY, 4);
    await pullRun(bench, runId, pulledAt);
    const after = await bathOf(tank.id);
    // 12 A·h of γ = 0.05 · 6.2687 g/A·h, a little less as carbonate grows.
    expect(300 - after.bicarbonateG).toBeCloseTo(3.75, 1);
    expect(after.carbonateG).toBeCloseTo((300 - after.bicarbonateG) * 0.63084, 3);
    await undoPull(bench, runId, hoursAfter(pulledAt, 0.05));
    const back = await bathOf(tank.id);
    expect(back.bicarbonateG).toBeCloseTo(300, 9);
    expect(back.carbonateG).toBeCloseTo(0, 9);
    expect(back.chargeAh).toBeCloseTo(0, 9);
  });
});

describe("upkeep of a tank", () => {
  it("counts the charge since it was last seen to, and starts anew, once for a repeat", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const at = hoursAfter(MONDAY, 1);
    await takeReading(bench, readingOf(runId, at, { currentA: 3 }), at);
    await pullRun(bench, runId, hoursAfter(MONDAY, 4));
    const clamps = async (now: Date) =>
      (await seeTank(bench, tank.id, now)).upkeep.find(({ kind }) => kind === "CLAMPS");
    const later = hoursAfter(MONDAY, 24 * 8);
    const before = await clamps(later);
    expect(before?.due.sinceAh).toBeCloseTo(12, 9);
    expect(before?.last).toBeNull();
    // 12 A·h in 12 weeks: 1 A·h a week, 288 A·h to go.
    expect(before?.due.weeks?.value).toBeCloseTo(288, 6);

    const done = {
      tankId: tank.id,
      kind: "CLAMPS" as const,
      note: "green at the lug",
      idempotencyKey: randomUUID(),
    };
    await Promise.all([1, 2, 3, 4].map(() => recordCare(bench, done, later)));
    const since = await clamps(hoursAfter(later, 1));
    expect(since?.due.sinceAh).toBe(0);
    expect(since?.last).toMatchObject({ note: "green at the lug" });
    expect(await database().tankCare.count({ where: { tankId: tank.id } })).toBe(1);
  });

  it("has no date where nothing is usual or booked, and one where a run is booked", async () => {
    const tank = await createReadyTank();
    const due = async () =>
      (await seeTank(bench, tank.id, MONDAY)).upkeep.find(({ kind }) => kind === "ANODE_BRUSHED");
    expect((await due())?.on).toBeNull();
    const part = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, part.id, tank.id);
    await database().run.update({ where: { id: runId }, data: { targetChargeAh: 300 } });
    expect((await due())?.due.weeks?.value).toBeCloseTo(0.5, 9);
  });
});

describe("a relief bake", () => {
  it("begins within the shop's own time, and never later than 4 h whatever the shop says", async () => {
    const spring = { material: "HARDENED_STEEL", hardnessHrc: 40, tensileMpa: 1250 } as const;
    const startBy = async (bakeStartMinutes: number, day: number) => {
      await database().shop.update({ where: { id: 1 }, data: { bakeStartMinutes } });
      const tank = await createReadyTank();
      const part = await createPlannedSkillet(bench, tank.id, { part: spring });
      const at = hoursAfter(MONDAY, 24 * day);
      const { runId } = await book(bench, part.id, tank.id, at);
      await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, at);
      const pulledAt = hoursAfter(at, 3);
      await pullRun(bench, runId, pulledAt);
      const [bake] = (await seeRun(bench, runId, pulledAt)).bakes;
      return ((bake?.mustStartBy?.getTime() ?? 0) - pulledAt.getTime()) / 60_000;
    };
    expect(await startBy(90, 1)).toBe(90);
    expect(await startBy(240, 2)).toBe(240);
    await expect(startBy(241, 3)).rejects.toThrow(); // the database's own limit
  });
});

describe("trying other settings", () => {
  it("begins with the plan's own figures, and offers every supply", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const trying = await whatIf(owner, part.id);
    if (!trying) throw new Error("nothing to try");
    const plan = await database().plan.findFirstOrThrow({ where: { partId: part.id } });
    const { current } = outlook(trying.start, plannedSettings(trying.start));
    expect(current.value).toBeCloseTo(plan.currentA, 6);
    expect(trying.supplies.some(({ id }) => id === trying.supplyId)).toBe(true);
    expect(JSON.parse(JSON.stringify(trying))).toEqual(trying); // plain data for a browser
  });

  it("has nothing to try without a plan", async () => {
    expect(await whatIf(owner, randomUUID())).toBeNull();
  });
});
