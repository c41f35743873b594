import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { onShopChange, type ShopChange } from "@/lib/data";
import { database } from "@/lib/data/client";
import {
  finishRun,
  loadRun,
  pullRun,
  seeRun,
  takeReading,
  topUpBath,
  undoLoad,
  undoPull,
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
  createAnode,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  createRunningRun,
  hoursAfter,
  MONDAY,
  readingOf,
} from "../support/factories-tanks";

/** g of iron for 1 A·h at φ = 1: M/(2F)·3600. */
const GRAMS_PER_AH = (55.845 * 3600) / (2 * 96_485.332_12);

let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  bench = await createActor("BENCH");
});

const runOf = (id: string) => database().run.findUniqueOrThrow({ where: { id } });
const partOf = (id: string) => database().part.findUniqueOrThrow({ where: { id } });
const bathOf = (tankId: string) =>
  database().bath.findFirstOrThrow({ where: { tankId, disposedAt: null } });

async function bookedRun(missing: Parameters<typeof createReadyTank>[0] = {}) {
  const ready = await createReadyTank();
  const part = await createPlannedSkillet(bench, ready.id);
  const { runId } = await book(bench, part.id, ready.id);
  if (missing.bath === null) await database().bath.deleteMany({ where: { tankId: ready.id } });
  if (missing.anode === null) await database().anode.deleteMany({ where: { tankId: ready.id } });
  return { tank: ready, part, runId };
}

describe("loading", () => {
  it("needs every safety check, acknowledged by the person who loads", async () => {
    const { runId, part } = await bookedRun();
    const allButOne = ALL_CHECKS.slice(1);
    await expect(loadRun(bench, { runId, acknowledged: allButOne }, MONDAY)).rejects.toMatchObject({
      code: "invalid",
      fields: { [ALL_CHECKS[0] ?? ""]: "Not ticked yet." },
    });
    expect((await partOf(part.id)).state).toBe("BOOKED");

    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    expect(await runOf(runId)).toMatchObject({
      state: "RUNNING",
      safetyAcknowledgedById: bench.personId,
      loadedAt: MONDAY,
    });
    expect((await partOf(part.id)).state).toBe("IN_BATH");
  });

  it.each(["bath", "anode"] as const)("refuses a tank without a live %s", async (what) => {
    const { runId } = await bookedRun({ [what]: null });
    await expect(loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY)).rejects.toMatchObject(
      { code: "conflict" },
    );
  });

  it("takes a double tap once, and tells a second person that it is done", async () => {
    const { runId } = await bookedRun();
    const other = await createActor("BENCH");
    const load = (actor: Actor) => loadRun(actor, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    await Promise.all([load(bench), load(bench)]);
    await expect(load(other)).rejects.toMatchObject({ code: "conflict" });
    const audit = { action: "run.loaded", subjectId: runId };
    expect(await database().auditEntry.count({ where: audit })).toBe(1);
  });

  it("is taken back within five minutes, before any reading", async () => {
    const { runId, part } = await createRunningRun(bench);
    await undoLoad(bench, runId, hoursAfter(MONDAY, 0.05));
    expect(await runOf(runId)).toMatchObject({ state: "PLANNED", loadedAt: null });
    expect((await partOf(part.id)).state).toBe("BOOKED");

    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    await expect(undoLoad(bench, runId, hoursAfter(MONDAY, 0.1))).rejects.toMatchObject({
      code: "conflict",
    });
    await takeReading(bench, readingOf(runId, MONDAY), MONDAY);
    await expect(undoLoad(bench, runId, MONDAY)).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("readings", () => {
  it("stand once, however often the phone sends them", async () => {
    const { runId } = await createRunningRun(bench);
    const sent = readingOf(runId, hoursAfter(MONDAY, 0.5));
    const later = hoursAfter(MONDAY, 1);
    const ids = await Promise.all([1, 2, 3].map(() => takeReading(bench, sent, later)));
    expect(new Set(ids).size).toBe(1);
    await pullRun(bench, runId, later);
    expect(await takeReading(bench, sent, later)).toBe(ids[0]);
    expect(await database().reading.count({ where: { runId } })).toBe(1);
  });

  it.each([
    ["volts that no meter here shows", { voltsV: 1200 }],
    ["a current that is no number", { currentA: Number.NaN }],
  ])("are refused with %s", async (_what, wrong) => {
    const { runId } = await createRunningRun(bench);
    await expect(takeReading(bench, readingOf(runId, MONDAY, wrong), MONDAY)).rejects.toMatchObject(
      { code: "invalid" },
    );
  });

  it("are refused before loading, from the future, and after pulling", async () => {
    const booked = await bookedRun();
    await expect(takeReading(bench, readingOf(booked.runId, MONDAY), MONDAY)).rejects.toMatchObject(
      { code: "conflict" },
    );
    const { runId } = await createRunningRun(bench);
    await expect(
      takeReading(bench, readingOf(runId, hoursAfter(MONDAY, 1)), MONDAY),
    ).rejects.toMatchObject({ code: "invalid" });
    await pullRun(bench, runId, hoursAfter(MONDAY, 1));
    await expect(
      takeReading(bench, readingOf(runId, hoursAfter(MONDAY, 0.5)), hoursAfter(MONDAY, 2)),
    ).rejects.toMatchObject({ code: "conflict" });
  });

  it("lead to a finding when no current flows at full volts", async () => {
    const { runId } = await createRunningRun(bench);
    const at = hoursAfter(MONDAY, 0.5);
    await takeReading(bench, readingOf(runId, at, { voltsV: 13.7, currentA: 0 }), at);
    const { progress } = await seeRun(bench, runId, at);
    expect(progress.findings[0]).toMatchObject({ code: "LEAD_OPEN", severity: "look now" });
    expect(progress.pullAt).toBeNull();
  });
});

describe("pulling", () => {
  it("integrates the charge by trapezia, wears the anode by Faraday and counts energy at the wall", async () => {
    const { runId, tank, part } = await createRunningRun(bench);
    // 2 A from loading to 1 h, rising to 4 A at 3 h, held to 4 h: 2 + 6 + 4 = 12 A·h at 12 V.
    for (const [hour, currentA] of [
      [1, 2],
      [3, 4],
    ] as const) {
      const at = hoursAfter(MONDAY, hour);
      await takeReading(bench, readingOf(runId, at, { currentA }), at);
    }
    const before = await bathOf(tank.id);

    await pullRun(bench, runId, hoursAfter(MONDAY, 4));

    const run = await runOf(runId);
    expect(run.chargeAh).toBeCloseTo(12, 9);
    expect(run.energyKwh).toBeCloseTo((12 * 12) / 1000 / 0.75, 9);
    expect(run).toMatchObject({ state: "PULLED", endsAt: hoursAfter(MONDAY, 4) });
    const [wear] = await database().anodeWear.findMany({ where: { runId } });
    expect(wear?.lossG).toBeCloseTo(0.2 * 12 * GRAMS_PER_AH, 9); // φ = 0.2 in this tank
    expect((await bathOf(tank.id)).chargeAh - before.chargeAh).toBeCloseTo(12, 9);
    expect((await partOf(part.id)).state).toBe("PULLED");
  });

  it("falls back on the expected current where no reading was taken", async () => {
    const { runId } = await createRunningRun(bench);
    await pullRun(bench, runId, hoursAfter(MONDAY, 2));
    const { chargeAh, expectedCurrentA } = await runOf(runId);
    expect(chargeAh).toBeCloseTo(2 * expectedCurrentA, 9);
  });

  it("divides the charge between anodes by wetted area", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const inner = await createAnode(tank.id, { wettedAreaM2: 0.05 });
    await pullRun(bench, runId, hoursAfter(MONDAY, 2));
    const wear = await database().anodeWear.findMany({ where: { runId } });
    const total = wear.reduce((sum, { chargeAh }) => sum + chargeAh, 0);
    expect(total).toBeCloseTo((await runOf(runId)).chargeAh ?? 0, 9);
    expect(wear.find(({ anodeId }) => anodeId === inner.id)?.chargeAh).toBeCloseTo(total / 5, 9);
  });

  it("happens once, whoever taps", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const at = hoursAfter(MONDAY, 2);
    await Promise.all([1, 2, 3].map(() => pullRun(bench, runId, at)));
    expect(await database().anodeWear.count({ where: { runId } })).toBe(1);
    expect((await bathOf(tank.id)).chargeAh).toBeCloseTo((await runOf(runId)).chargeAh ?? 0, 9);
  });

  it("is taken back within five minutes: wear, charge and booking are as before", async () => {
    const { runId, tank, part } = await createRunningRun(bench);
    const { endsAt } = await runOf(runId);
    const at = hoursAfter(MONDAY, 2);
    await pullRun(bench, runId, at);
    await undoPull(bench, runId, hoursAfter(at, 0.05));
    expect(await runOf(runId)).toMatchObject({ state: "RUNNING", endsAt, chargeAh: null });
    expect(await database().anodeWear.count({ where: { runId } })).toBe(0);
    expect((await bathOf(tank.id)).chargeAh).toBeCloseTo(0, 9);
    expect((await partOf(part.id)).state).toBe("IN_BATH");
    await pullRun(bench, runId, at);
    await expect(undoPull(bench, runId, hoursAfter(at, 0.2))).rejects.toMatchObject({
      code: "conflict",
    });
  });

  it("gives strong steel the time by which its relief bake must start", async () => {
    const tank = await createReadyTank();
    const spring = { material: "HARDENED_STEEL", hardnessHrc: 40, tensileMpa: 1250 } as const;
    const part = await createPlannedSkillet(bench, tank.id, { part: spring });
    const { runId } = await book(bench, part.id, tank.id);
    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    await pullRun(bench, runId, hoursAfter(MONDAY, 3));
    const [bake] = (await seeRun(bench, runId, hoursAfter(MONDAY, 3))).bakes;
    // The shop's own limit, an hour where nothing else is set.
    expect(bake?.mustStartBy).toEqual(hoursAfter(MONDAY, 4));
  });
});

describe("finishing", () => {
  async function pulledRun() {
    const running = await createRunningRun(bench);
    await pullRun(bench, running.runId, hoursAfter(MONDAY, 4));
    const [dip] = await database().dip.findMany({ where: { runId: running.runId } });
    return { ...running, dipId: dip?.id ?? "" };
  }
  const finishing = (
    run: { runId: string; dipId: string },
    result: "CLEAN" | "AGAIN" | "DAMAGED",
    used: { itemId: string; quantity: number }[] = [],
  ) => ({
    runId: run.runId,
    results: [{ dipId: run.dipId, result, timing: null, note: "" }],
    minutes: { load: 15, pull: 10, finish: 30 },
    used,
    idempotencyKey: randomUUID(),
  });

  it("records result, minutes at the labour rate, and stock used, once", async () => {
    const run = await pulledRun();
    const oil = await createItem({ kind: "PROTECTION", saltGrade: null, unit: "MILLILITRE" });
    await createLot(oil.id, bench.personId, { quantity: 500, costMinor: 1000 });
    const done = finishing(run, "CLEAN", [{ itemId: oil.id, quantity: 20 }]);

    await Promise.all([1, 2].map(() => finishRun(bench, done, hoursAfter(MONDAY, 5))));

    expect((await partOf(run.part.id)).state).toBe("FINISHED");
    const labour = await database().labourEntry.findMany({
      where: { runId: run.runId },
      orderBy: { minutes: "asc" },
    });
    // 48.00 an hour: 10, 15 and 30 min.
    expect(labour.map(({ task, costMinor }) => [task, costMinor])).toEqual([
      ["pull", 800],
      ["load", 1200],
      ["finish", 2400],
    ]);
    const entries = await database().ledgerEntry.findMany({ where: { runId: run.runId } });
    expect(entries.map(({ quantity, costMinor }) => [quantity.toNumber(), costMinor])).toEqual([
      [-20, -40],
    ]);
  });

  it("sends a part that must go in again back to wait for a tank", async () => {
    const run = await pulledRun();
    await finishRun(bench, finishing(run, "AGAIN"), hoursAfter(MONDAY, 5));
    expect((await partOf(run.part.id)).state).toBe("PLANNED");
    await expect(
      book(bench, run.part.id, run.tank.id, hoursAfter(MONDAY, 24)),
    ).resolves.toBeDefined();
  });

  it("writes nothing at all when the stock does not suffice", async () => {
    const run = await pulledRun();
    const wax = await createItem({ kind: "PROTECTION", saltGrade: null });
    await createLot(wax.id, bench.personId, { quantity: 5 });
    await expect(
      finishRun(bench, finishing(run, "CLEAN", [{ itemId: wax.id, quantity: 6 }]), MONDAY),
    ).rejects.toMatchObject({ code: "not-enough-stock" });
    expect((await runOf(run.runId)).state).toBe("PULLED");
    expect(await database().labourEntry.count({ where: { runId: run.runId } })).toBe(0);
  });

  it("refuses a run that is not pulled, and a dip left out", async () => {
    const running = await createRunningRun(bench);
    const [dip] = await database().dip.findMany({ where: { runId: running.runId } });
    const early = finishing({ ...running, dipId: dip?.id ?? "" }, "CLEAN");
    await expect(finishRun(bench, early, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    const run = await pulledRun();
    await expect(
      finishRun(bench, { ...finishing(run, "CLEAN"), results: [] }, MONDAY),
    ).rejects.toMatchObject({ code: "invalid" });
  });
});

describe("salt that goes in while a load is in", () => {
  it("is written on the run, falls in stock and strengthens the bath", async () => {
    const { runId, tank } = await createRunningRun(bench);
    const soda = await createItem({ kind: "SALT", saltGrade: "SODA_ASH_LIGHT" });
    const lot = await createLot(soda.id, bench.personId, { quantity: 1000, costMinor: 500 });
    const before = await bathOf(tank.id);
    const topUp = {
      tankId: tank.id,
      levelBeforeMm: 290,
      levelAfterMm: 300,
      salt: { itemId: soda.id, massG: 50 },
      note: "weak",
      idempotencyKey: randomUUID(),
    };

    await topUpBath(bench, topUp, MONDAY);
    await topUpBath(bench, topUp, MONDAY);

    expect((await bathOf(tank.id)).carbonateG - before.carbonateG).toBeCloseTo(50, 9);
    const held = await database().lot.findUniqueOrThrow({ where: { id: lot.id } });
    expect(held.onHand.toNumber()).toBe(950);
    const [entry] = await database().ledgerEntry.findMany({ where: { runId } });
    expect(entry).toMatchObject({ costMinor: -25, tankId: tank.id });
  });
});

describe("live changes", () => {
  it("reach everybody who listens when a load goes in", async () => {
    const { runId } = await bookedRun();
    const heard: ShopChange[] = [];
    let tell: () => void = () => undefined;
    const stop = onShopChange((change) => {
      heard.push(change);
      tell();
    });
    const until = (wanted: (change: ShopChange) => boolean): Promise<void> =>
      new Promise((resolve) => {
        tell = () => {
          if (heard.some(wanted)) resolve();
        };
        tell();
      });
    try {
      await until(({ kind }) => kind === "resync");
      await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
      await until(
        (change) => change.kind === "change" && change.table === "run" && change.id === runId,
      );
    } finally {
      stop();
    }
    expect(heard).toContainEqual({ kind: "change", table: "run", id: runId });
  });
});

describe("who may", () => {
  it("fails closed for roles without bench work", async () => {
    const { runId } = await createRunningRun(bench);
    const desk = await createActor("FRONT_DESK");
    const nobody = { ...bench, role: "toString" as Actor["role"] };
    for (const actor of [desk, nobody]) {
      await expect(takeReading(actor, readingOf(runId, MONDAY), MONDAY)).rejects.toMatchObject({
        code: "not-allowed",
      });
      await expect(pullRun(actor, runId, MONDAY)).rejects.toMatchObject({ code: "not-allowed" });
    }
    await expect(seeRun(nobody, runId, MONDAY)).rejects.toMatchObject({ code: "not-allowed" });
  });
});
