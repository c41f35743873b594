/** What the shop learns from finished runs, readings and weighings, and how its next plan takes it in. */
import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  finishRun,
  loadRun,
  makePlan,
  partById,
  pullRun,
  shopLearned,
  takeReading,
  weighAnode,
} from "@/lib/services";
import { createActor, createShopWithRates } from "../support/factories-money";
import {
  ALL_CHECKS,
  book,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  hoursAfter,
  MONDAY,
  readingOf,
} from "../support/factories-tanks";

type Result = "CLEAN" | "PARTLY" | "AGAIN" | "DAMAGED";
type Timing = "JUST_CLEAN" | "LONG_CLEAN" | null;

/** The shop is shut at weekends. */
const mondayAfter = (weeks: number): Date => hoursAfter(MONDAY, 168 * weeks);

let owner: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  owner = await createActor("OWNER");
});

// What one test taught the shop must not be known to the next.
beforeEach(async () => {
  await database().dip.deleteMany();
  await database().run.updateMany({ where: { state: "RUNNING" }, data: { state: "CANCELLED" } });
  await database().reading.deleteMany();
});

type Dipped = {
  readonly tankId: string;
  readonly partId: string;
  readonly from: Date;
  /** or what it is of the run that was booked */
  readonly hours: number | ((runId: string) => Promise<number>);
  readonly result: Result;
  readonly timing: Timing;
  readonly readings?: readonly { readonly voltsV: number; readonly currentA: number }[];
};

/** Books, loads, reads, pulls and finishes one load, each through its service. */
async function dip({ tankId, partId, from, hours, result, timing, readings = [] }: Dipped) {
  const { runId } = await book(owner, partId, tankId, from);
  await loadRun(owner, { runId, acknowledged: ALL_CHECKS }, from);
  for (const [index, shown] of readings.entries()) {
    const at = hoursAfter(from, (index + 1) / 10);
    await takeReading(owner, readingOf(runId, at, shown), at);
  }
  const out = hoursAfter(from, typeof hours === "number" ? hours : await hours(runId));
  await pullRun(owner, runId, out);
  const { id: dipId } = await database().dip.findFirstOrThrow({ where: { runId } });
  const results = [{ dipId, result, timing, note: "" }];
  const minutes = { load: 5, pull: 5, finish: 5 };
  await finishRun(owner, { runId, results, minutes, used: [], idempotencyKey: randomUUID() }, out);
  return dipId;
}

const modelHours = async (partId: string): Promise<number> => {
  const { plan } = await partById(owner, partId);
  return plan?.result.modelHours?.p50 ?? 0;
};

/** One skillet after the other that needed `factor` times the model's hours. */
async function skilletsTaking(factor: number, count: number, timing: Timing = "JUST_CLEAN") {
  const tank = await createReadyTank();
  for (let day = 0; day < count; day += 1) {
    const part = await createPlannedSkillet(owner, tank.id);
    await dip({
      tankId: tank.id,
      partId: part.id,
      from: mondayAfter(day),
      hours: factor * (await modelHours(part.id)),
      result: "CLEAN",
      timing,
    });
  }
  return tank;
}

describe("hours", () => {
  it("are the model's in a shop without history, and nothing is shown as learned", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(owner, tank.id);
    await planAgain(part.id, tank.id);
    const { plan } = await partById(owner, part.id);
    expect(plan?.result.hours).toEqual(plan?.result.modelHours);
    expect(plan?.result.figures.hours.standing).toBe("assumption");
    expect(await shopLearned(owner)).toMatchObject({ runs: 0, classes: [], coverage: null });
  });

  it("move the next plan of a part like those that were dipped", async () => {
    const tank = await skilletsTaking(1.6, 6);
    const part = await createPlannedSkillet(owner, tank.id);
    const before = await modelHours(part.id);

    await planAgain(part.id, tank.id);

    const { plan } = await partById(owner, part.id);
    const { hours, modelHours: model, figures } = plan?.result ?? {};
    expect(model?.p50).toBeCloseTo(before, 6);
    expect((hours?.p50 ?? 0) / before).toBeGreaterThan(1.25);
    expect((hours?.p50 ?? 0) / before).toBeLessThan(1.6);
    expect(plan?.hoursP50).toBe(hours?.p50);
    expect(figures?.hours).toMatchObject({ standing: "measured here", value: hours?.p50 });
    expect(figures?.hours.source).toContain("6 of parts like this one");
    expect(figures?.chargeAh.value).toBeCloseTo(
      (plan?.result.currentA.mid ?? 0) * (hours?.p50 ?? 0),
      6,
    );
  });

  it("are compared with the model's, not with what was learned before", async () => {
    const tank = await skilletsTaking(1.6, 4);
    const part = await createPlannedSkillet(owner, tank.id);
    await planAgain(part.id, tank.id);
    const model = await modelHours(part.id);
    const from = mondayAfter(4);
    const partId = part.id;
    const just = { result: "CLEAN", timing: "JUST_CLEAN" } as const;
    await dip({ tankId: tank.id, partId, from, hours: 1.6 * model, ...just });
    const [own] = (await shopLearned(owner)).classes;
    expect(own).toMatchObject({ key: "HOLLOW RUST", runs: 5, bounds: 0 });
    expect(own?.factor.value).toBeGreaterThan(1.25);
  });

  it("add up over the dips of a part that went in again", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(owner, tank.id);
    const model = await modelHours(part.id);
    const load = { tankId: tank.id, partId: part.id };
    await dip({ ...load, from: MONDAY, hours: model, result: "AGAIN", timing: null });
    expect((await shopLearned(owner)).classes[0]).toMatchObject({ runs: 1, bounds: 1 });
    const later = mondayAfter(1);
    const just = { result: "CLEAN", timing: "JUST_CLEAN" } as const;
    await dip({ ...load, from: later, hours: model, ...just });
    const { classes, coverage } = await shopLearned(owner);
    expect(classes[0]).toMatchObject({ runs: 1, bounds: 0 });
    expect(classes[0]?.factor.value).toBeGreaterThan(1.1);
    const [byP50, , inside] = coverage?.figures ?? [];
    expect(byP50).toMatchObject({ value: 0, unit: "%" });
    expect(inside?.inputs.find(({ name }) => /outright/.test(name))?.value).toBe(1);
  });

  it("are longer by the model where pieces share the bath, so that a slow load is no slow part", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(owner, tank.id, {
      part: { quantity: 3, lengthMm: 150, widthMm: 150 },
    });
    const plan = await database().plan.findFirstOrThrow({ where: { partId: part.id } });
    const model = await modelHours(part.id);
    let sharing = 1;
    await dip({
      tankId: tank.id,
      partId: part.id,
      from: MONDAY,
      hours: async (runId) => {
        const run = await database().run.findUniqueOrThrow({ where: { id: runId } });
        sharing = (3 * plan.currentA) / run.expectedCurrentA;
        return sharing * model;
      },
      result: "CLEAN",
      timing: "JUST_CLEAN",
    });
    expect(sharing).toBeGreaterThan(1.2);
    expect((await shopLearned(owner)).classes[0]?.factor.value).toBeCloseTo(1, 3);
  });

  it("of parts pulled late count as bounds, and forecasts are not judged by them", async () => {
    await skilletsTaking(1.2, 2, "LONG_CLEAN");
    await skilletsTaking(1.2, 1, null);
    const { classes, coverage } = await shopLearned(owner);
    expect(classes[0]).toMatchObject({ runs: 3, bounds: 3 });
    expect(classes[0]?.factor.value).toBeLessThan(1);
    expect(coverage).toBeNull();
  });

  it("keep no timing of a part that was not clean", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(owner, tank.id);
    const load = { tankId: tank.id, partId: part.id, from: MONDAY, hours: 4 };
    const dipId = await dip({ ...load, result: "DAMAGED", timing: "JUST_CLEAN" });
    const row = await database().dip.findUniqueOrThrow({ where: { id: dipId } });
    expect(row).toMatchObject({ result: "DAMAGED", timing: null });
    expect((await shopLearned(owner)).runs).toBe(0);
  });
});

describe("a tank's clamps and bath", () => {
  it("are learned from its loads' readings and taken into the next plan from the third load on", async () => {
    const tank = await createReadyTank();
    const fresh = await createPlannedSkillet(owner, tank.id);
    await planAgain(fresh.id, tank.id);
    const model = (await partById(owner, fresh.id)).plan;
    // Half the current that the model gives, at the charger's full volts: something is in its way.
    const currentA = (model?.currentA ?? 0) / 2;
    const readings = [{ voltsV: 13.8 - 0.15 * currentA, currentA }];
    for (let day = 0; day < 3; day += 1) {
      const part = await createPlannedSkillet(owner, tank.id);
      const from = mondayAfter(day);
      const load = { tankId: tank.id, partId: part.id, from, hours: 4, readings };
      await dip({ ...load, result: "DAMAGED", timing: null });
      const seen = (await shopLearned(owner)).tanks.find(({ id }) => id === tank.id);
      expect(seen?.loads).toBe(day + 1);
      await planAgain(fresh.id, tank.id);
      const { plan } = await partById(owner, fresh.id);
      if (day < 2) expect(plan?.currentA).toBe(model?.currentA);
      else expect(plan?.currentA).toBeLessThan(0.9 * (model?.currentA ?? 0));
    }
    const [seen] = (await shopLearned(owner)).tanks;
    expect(seen?.contact.value).toBeGreaterThan(0.02);
    expect(seen?.bath.value).toBeLessThan(1);
    const { plan } = await partById(owner, fresh.id);
    const clamps = plan?.result.figures.currentA.inputs.find(({ name }) => /clamps/.test(name));
    expect(clamps).toMatchObject({ standing: "measured here", value: seen?.contact.value });
  });
});

describe("an anode's loss factor", () => {
  it("rests on all of its weighings together", async () => {
    const tank = await createReadyTank();
    const anode = await database().anode.findFirstOrThrow({ where: { tankId: tank.id } });
    const part = await createPlannedSkillet(owner, tank.id);
    const load = { tankId: tank.id, partId: part.id, from: MONDAY, hours: 40 };
    await dip({ ...load, result: "CLEAN", timing: null });
    const { chargeAh } = await database().anodeWear.findFirstOrThrow({
      where: { anodeId: anode.id },
    });
    const lost = 0.4 * 1.0418 * chargeAh;
    const massG = anode.initialMassG - lost;
    await weighAnode(owner, { anodeId: anode.id, massG, errorG: 1 }, hoursAfter(MONDAY, 41));
    const once = await database().anode.findUniqueOrThrow({ where: { id: anode.id } });
    expect(once.lossFactor).toBeGreaterThan(0.35);
    expect(once.lossFactor).toBeLessThan(0.42);

    // Weighed again with nothing dissolved since: the same scale says the same, and it is a little surer.
    const again = { anodeId: anode.id, massG: massG + 0.2, errorG: 1 };
    await weighAnode(owner, again, hoursAfter(MONDAY, 42));
    const twice = await database().anode.findUniqueOrThrow({ where: { id: anode.id } });
    expect(twice.lossFactor).toBeCloseTo(once.lossFactor, 1);
    expect(twice.lossFactorError).toBeLessThan(once.lossFactorError);
    const seen = (await shopLearned(owner)).anodes.find(({ id }) => id === anode.id);
    expect(seen?.lossFactor.value).toBeCloseTo(twice.lossFactor, 9);
    expect(seen?.weighings.map((weighing) => weighing.massG)).toEqual([massG + 0.2, massG]);
  });
});

/** The part's plan made anew, as the screen does it. */
async function planAgain(partId: string, tankId: string): Promise<void> {
  const choice = { partId, tankId, goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
  await makePlan(owner, choice, MONDAY);
}
