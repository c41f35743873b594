import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { reading, tankHistories } from "@/lib/data";
import { database } from "@/lib/data/client";
import { pullRun, seeBoard, seeHome, seeRun, takeReading } from "@/lib/services";
import { createActor, createShopWithRates } from "../support/factories-money";
import {
  createOpeningHours,
  createRunningRun,
  hoursAfter,
  MONDAY,
  readingOf,
} from "../support/factories-tanks";

let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  bench = await createActor("BENCH");
});

/** Volts that the factory's charger gives at a current: 13.8 V, sagging by 0.15 Ω. */
const voltsAt = (currentA: number): number => 13.8 - 0.15 * currentA;

type Share = readonly [hour: number, share: number];

/** Readings at hours after loading, as shares of the planned current. */
async function takeReadings(runId: string, shares: readonly Share[]): Promise<Date> {
  const { expectedCurrentA } = await database().run.findUniqueOrThrow({ where: { id: runId } });
  let at = MONDAY;
  for (const [hour, share] of shares) {
    at = hoursAfter(MONDAY, hour);
    const currentA = share * expectedCurrentA;
    await takeReading(bench, readingOf(runId, at, { currentA, voltsV: voltsAt(currentA) }), at);
  }
  return at;
}

/** Care that was given to a tank. */
const createCare = (tankId: string, kind: "CLAMPS" | "ANODE_BRUSHED", at: Date) =>
  database().tankCare.create({
    data: { tankId, kind, at, doneById: bench.personId, idempotencyKey: randomUUID() },
  });

describe("what a run's readings say", () => {
  it("is nothing before the first reading", async () => {
    const { runId } = await createRunningRun(bench);
    const { progress } = await seeRun(bench, runId, MONDAY);
    expect(progress).toMatchObject({ diagnosis: null, findings: [] });
  });

  it("is that all is well at the current that was planned", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [
      [0.5, 1],
      [2, 0.97],
    ]);
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.diagnosis?.verdict).toBe("as expected");
    expect(progress.findings).toEqual([]);
  });

  it("is not sure of one low reading, and is narrowed by an answer that is stored nowhere", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [[0.5, 0.3]]);
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.diagnosis?.verdict).toBe("not sure");
    expect(progress.findings[0]).toMatchObject({ code: "NOT_SURE", severity: "watch" });

    const answers = { CONDUCTIVITY: "low", METER: "steady" };
    const narrowed = await seeRun(bench, runId, at, answers);
    expect(narrowed.progress.diagnosis?.headline).toBe("Likely: weak bath.");
    expect((await seeRun(bench, runId, at)).progress.diagnosis?.verdict).toBe("not sure");
  });

  it("is the same on the run, the board and the first screen", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [
      [0.5, 1],
      [1, 0],
    ]);
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.findings[0]?.code).toBe("LEAD_OPEN");
    const board = await seeBoard(bench, at);
    const home = await seeHome(bench, at);
    const onBoard = board.tanks.find(({ running }) => running?.run.id === runId);
    const onHome = home.running.find(({ run }) => run.id === runId);
    expect(onBoard?.running?.progress.findings).toEqual(progress.findings);
    expect(onHome?.progress.findings).toEqual(progress.findings);
  });

  it("goes by a meter dipped into the bath after the booking", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [
      [0.5, 0.45],
      [1.5, 0.44],
      [2.5, 0.46],
    ]);
    const { run } = await seeRun(bench, runId, at);
    const planned = run.dips[0]?.plan.result.figures.conductivitySPerM.value ?? 0;
    await database().bathMeasurement.create({
      data: {
        bathId: run.bathId ?? "",
        at: hoursAfter(MONDAY, 2),
        measuredBy: "METER",
        conductivitySPerM: 0.4 * planned,
        temperatureC: 18,
        carbonateBeforeG: 190,
        bicarbonateBeforeG: 0,
        carbonateAfterG: 80,
        bicarbonateAfterG: 0,
        measuredById: bench.personId,
        idempotencyKey: randomUUID(),
      },
    });
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.diagnosis?.ranked[0]?.cause).toBe("BATH_WEAK");
    const ratio = progress.diagnosis?.working.inputs.find(({ name }) =>
      name.startsWith("measured conductivity"),
    );
    expect(ratio?.value).toBe("0.40");
  });

  it("falls back on the safety rules where no anode is on record", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const at = hoursAfter(MONDAY, 0.5);
    await takeReading(bench, { ...readingOf(runId, at, { currentA: -3 }), temperatureC: 55 }, at);
    await database().anode.updateMany({ where: { tankId: tank.id }, data: { removedAt: MONDAY } });
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.diagnosis).toBeNull();
    expect(progress.findings.map(({ code }) => code)).toEqual(["REVERSED", "HOT"]);
  });

  it("is over once the load is pulled", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [[0.5, 0]]);
    await pullRun(bench, runId, at);
    const { progress } = await seeRun(bench, runId, at);
    expect(progress).toMatchObject({ diagnosis: null, findings: [] });
  });
});

describe("what a tank went through before", () => {
  const historyOf = async (tankId: string, now: Date) =>
    (await reading((db) => tankHistories(db, [tankId], now))).get(tankId);

  it("is unknown of a tank that nobody used or looked after", async () => {
    const { tank } = await createRunningRun(bench);
    await database().anode.updateMany({ where: { tankId: tank.id }, data: { removedAt: MONDAY } });
    expect(await historyOf(tank.id, hoursAfter(MONDAY, 1))).toEqual({
      currentRatios: [],
      clampHours: null,
      brushedHours: null,
    });
    expect((await reading((db) => tankHistories(db, [], MONDAY))).size).toBe(0);
  });

  it("holds the middle current of each earlier run over its plan", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const at = await takeReadings(runId, [
      [0.5, 1.4],
      [1, 1.3],
      [2, 1.5],
      [3, 0],
    ]);
    expect((await historyOf(tank.id, at))?.currentRatios).toEqual([]);
    await pullRun(bench, runId, at);
    expect((await historyOf(tank.id, at))?.currentRatios).toEqual([expect.closeTo(1.4, 6)]);
  });

  it("counts the hours under current since clamps were looked at and the anode was brushed", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const now = hoursAfter(MONDAY, 6);
    // Hung before the run: all of its six hours. Looked at in the middle: what is left.
    await createCare(tank.id, "CLAMPS", hoursAfter(MONDAY, -50));
    await createCare(tank.id, "CLAMPS", hoursAfter(MONDAY, 2));
    expect(await historyOf(tank.id, now)).toMatchObject({
      clampHours: expect.closeTo(4, 6),
      brushedHours: expect.closeTo(6, 6),
    });
    await createCare(tank.id, "ANODE_BRUSHED", hoursAfter(MONDAY, 5));
    await pullRun(bench, runId, hoursAfter(MONDAY, 5.5));
    expect(await historyOf(tank.id, now)).toMatchObject({
      clampHours: expect.closeTo(3.5, 6),
      brushedHours: expect.closeTo(0.5, 6),
    });
  });

  it("moves what the next run of the tank is expected to draw", async () => {
    const { runId } = await createRunningRun(bench);
    const at = await takeReadings(runId, [
      [0.5, 0.62],
      [1.5, 0.6],
      [2.5, 0.61],
      [3.5, 0.6],
    ]);
    const fresh = (await seeRun(bench, runId, at)).progress.diagnosis;
    const { tankId } = await database().run.findUniqueOrThrow({ where: { id: runId } });
    const { id: _id, ...earlier } = await database().run.findUniqueOrThrow({
      where: { id: runId },
    });
    for (let run = 1; run <= 4; run += 1) {
      const before = hoursAfter(MONDAY, -100 * run);
      await database().run.create({
        data: {
          ...earlier,
          number: 10_000 + run,
          state: "FINISHED",
          startsAt: before,
          endsAt: hoursAfter(before, 5),
          loadedAt: before,
          pulledAt: hoursAfter(before, 5),
          idempotencyKey: randomUUID(),
          readings: {
            create: {
              at: hoursAfter(before, 1),
              currentA: 0.6 * earlier.expectedCurrentA,
              voltsV: 13,
              takenById: bench.personId,
              idempotencyKey: randomUUID(),
            },
          },
        },
      });
    }
    expect((await historyOf(tankId, at))?.currentRatios).toHaveLength(4);
    const known = (await seeRun(bench, runId, at)).progress.diagnosis;
    expect(known?.verdict).toBe("as expected");
    expect(known?.ranked[0]?.probability).toBeGreaterThan(fresh?.ranked[0]?.probability ?? 1);
  });
});
