/** The queue that the field of each plan is worked out from. */
import { randomUUID } from "node:crypto";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { claimPlanField, finishPlanField, reading } from "@/lib/data";
import { database } from "@/lib/data/client";
import {
  askFieldAgain,
  askForChangedFields,
  currentFindings,
  makePlan,
  removePart,
  solveNextField,
} from "@/lib/services";
import type { FieldFindings } from "@/lib/treatment";
import { createPart } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { createPlannedSkillet, createReadyTank } from "../support/factories-tanks";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
const LATER = new Date(NOW.getTime() + 3_600_000);

let desk: Actor;
let bench: Actor;
let tank: Awaited<ReturnType<typeof createReadyTank>>;

beforeAll(async () => {
  await createShopWithRates();
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  await database().planField.deleteMany();
  await database().part.updateMany({ data: { state: "HANDED_BACK" } });
  await database().tank.updateMany({ data: { retiredAt: NOW } });
  tank = await createReadyTank();
});

/** What a solver that takes no time finds. */
const found = (currentA: number, conductivitySPerM = 0.5): FieldFindings => {
  const hours = { p10: 2, p50: 4, p90: 8 };
  return {
    cells: 800_000,
    conductivitySPerM,
    shapeLengthM: { value: 1.5, error: 0.02 },
    wetAreaM2: 0.2,
    insideShare: 0.4,
    planned: {
      shapeLengthM: 1.5,
      currentA,
      spread: { outside: 1.2, inside: null },
      hours: { outside: hours, inside: null, worst: hours },
      lagShare: 0,
    },
    innerAnodes: [],
    turns: [],
    wear: [],
  };
};
const quick = { solve: () => Promise.resolve(found(3)) };

async function plannedPart(): Promise<string> {
  const id = await createPart(desk);
  await makePlan(desk, { partId: id, ...CHOICE }, NOW);
  return id;
}

const fieldOf = (partId: string) =>
  database().planField.findFirstOrThrow({
    where: { plan: { partId } },
    orderBy: { plan: { version: "desc" } },
  });

describe("asking", () => {
  it("comes with the plan, in its own transaction", async () => {
    const partId = await plannedPart();
    expect(await fieldOf(partId)).toMatchObject({ state: "WAITING", progress: 0, findings: null });
    const other = await createPart(desk);
    await expect(
      makePlan(desk, { partId: other, ...CHOICE, tankId: randomUUID() }, NOW),
    ).rejects.toMatchObject({ code: "conflict" });
    expect(await database().planField.count()).toBe(1);
  });

  it("is once for a plan from before there were fields, however many notice", async () => {
    await createPlannedSkillet(desk, tank.id);
    await createPlannedSkillet(desk, tank.id);
    await Promise.all(Array.from({ length: 6 }, () => askForChangedFields(NOW)));
    expect(await database().planField.count()).toBe(2);
    expect(await askForChangedFields(NOW)).toBe(0);
  });

  it("is anew when the anode changes, and what was found before stays until then", async () => {
    const partId = await plannedPart();
    expect(await solveNextField(quick)).toBe(true);
    expect(await askForChangedFields(LATER)).toBe(0);
    const before = await fieldOf(partId);
    expect(before).toMatchObject({ state: "DONE", findingsKey: before.sceneKey });
    expect(await reading((db) => currentFindings(db, partId))).toMatchObject({ tankId: tank.id });

    await database().anode.updateMany({ where: { tankId: tank.id }, data: { wettedAreaM2: 0.31 } });
    // What no longer holds is not planned with, even before anybody asked anew.
    expect(await reading((db) => currentFindings(db, partId))).toBeNull();
    const asked = await Promise.all(Array.from({ length: 5 }, () => askForChangedFields(LATER)));
    expect(asked.reduce((sum, one) => sum + one, 0)).toBe(1);
    const between = await fieldOf(partId);
    expect(between).toMatchObject({
      state: "WAITING",
      findings: before.findings,
      findingsKey: before.sceneKey,
    });
    expect(between.sceneKey).not.toBe(before.sceneKey);

    await solveNextField({ solve: () => Promise.resolve(found(5)) });
    const after = await fieldOf(partId);
    expect(after).toMatchObject({ state: "DONE", findingsKey: between.sceneKey });
    expect(after.findings).toMatchObject({ planned: { currentA: 5 } });
  });

  it.each([
    ["level", () => database().tank.updateMany({ data: { workingLevelMm: 280 } })],
    ["clearance", () => database().tank.updateMany({ data: { clearanceMm: 40 } })],
    ["length", () => database().tank.updateMany({ data: { topLengthMm: 640 } })],
    ["a part's wall", () => database().part.updateMany({ data: { wallMm: 5 } })],
  ])("is anew when the %s changes", async (_what, change) => {
    await createPlannedSkillet(desk, tank.id);
    await askForChangedFields(NOW);
    await change();
    expect(await askForChangedFields(NOW)).toBe(1);
  });

  it.each([
    ["supply", () => database().supply.updateMany({ data: { ratedCurrentA: 12 } })],
    ["bath", () => database().bath.updateMany({ data: { carbonateG: 300 } })],
    ["name of the tank", () => database().tank.updateMany({ data: { place: "yard" } })],
  ])("is not when the %s does", async (_what, change) => {
    await createPlannedSkillet(desk, tank.id);
    await askForChangedFields(NOW);
    await change();
    expect(await askForChangedFields(NOW)).toBe(0);
  });

  it("leaves parts alone that are in the bath or gone", async () => {
    const part = await createPlannedSkillet(desk, tank.id);
    for (const state of ["IN_BATH", "HANDED_BACK", "TAKEN_IN"] as const) {
      await database().part.update({ where: { id: part.id }, data: { state } });
      expect(await askForChangedFields(NOW)).toBe(0);
    }
    await database().part.update({ where: { id: part.id }, data: { state: "BOOKED" } });
    expect(await askForChangedFields(NOW)).toBe(1);
  });

  it("takes the findings over into a new plan of the same scene at about the same current", async () => {
    const partId = await plannedPart();
    const newest = async () => {
      const plan = await database().plan.findFirstOrThrow({
        where: { partId },
        orderBy: { version: "desc" },
      });
      const { figures } = plan.result as { figures: { conductivitySPerM: { value: number } } };
      return { currentA: plan.currentA, kappa: figures.conductivitySPerM.value };
    };
    const far = found(2 * (await newest()).currentA);
    await solveNextField({ solve: () => Promise.resolve(far) });
    // The plan now rests on the field, whose own current was another.
    await makePlan(desk, { partId, ...CHOICE }, NOW);
    expect(await fieldOf(partId)).toMatchObject({ state: "WAITING", findings: far });
    const { currentA, kappa } = await newest();
    const same = found(currentA * 1.05, kappa);
    await solveNextField({ solve: () => Promise.resolve(same) });
    await makePlan(desk, { partId, ...CHOICE }, LATER);
    expect(await fieldOf(partId)).toMatchObject({ state: "DONE", askedAt: LATER });

    // Another bath: the findings are shown, and worked out again.
    await database().bath.updateMany({ where: { tankId: tank.id }, data: { carbonateG: 600 } });
    await makePlan(desk, { partId, ...CHOICE }, LATER);
    const anew = await fieldOf(partId);
    expect(anew).toMatchObject({ state: "WAITING", findings: same, findingsKey: anew.sceneKey });
  });
});

describe("the database", () => {
  it.each([
    ["done without findings", { state: "DONE", finishedAt: NOW }],
    ["failed without a reason", { state: "FAILED", finishedAt: NOW }],
    ["worked on by nobody", { state: "WORKING" }],
    ["waiting with somebody at work", { claim: randomUUID(), beatAt: NOW }],
    ["more than done", { progress: 1.2 }],
    ["findings of no scene", { findings: {} }],
  ] as const)("refuses what cannot be: %s", async (_what, data) => {
    await plannedPart();
    await expect(database().planField.updateMany({ data })).rejects.toThrow(/plan_field_/);
  });

  it("keeps one field a plan, whoever asks, and lets it go with the plan only", async () => {
    const partId = await plannedPart();
    const { planId } = await fieldOf(partId);
    const row = { planId, sceneKey: "x", askedAt: NOW };
    await expect(database().planField.create({ data: row })).rejects.toThrow();
    await database().part.update({ where: { id: partId }, data: { state: "PLANNED" } });
    await removePart(desk, partId, LATER);
    expect(await database().planField.count({ where: { planId } })).toBe(0);
  });
});

describe("the queue", () => {
  it("gives each of twenty callers another field, and the twenty-first none", async () => {
    for (let part = 0; part < 20; part++) await createPlannedSkillet(desk, tank.id);
    await askForChangedFields(NOW);
    const claims = await Promise.all(
      Array.from({ length: 21 }, () => reading((db) => claimPlanField(db, 180, NOW))),
    );
    const taken = claims.flatMap((claim) => claim?.id ?? []);
    expect(taken).toHaveLength(20);
    expect(new Set(taken).size).toBe(20);
    expect(new Set(claims.map((claim) => claim?.claim)).size).toBe(21);
  });

  it("works each of a dozen out once, whoever works", async () => {
    for (let part = 0; part < 12; part++) await createPlannedSkillet(desk, tank.id);
    await askForChangedFields(NOW);
    let solved = 0;
    const solve = () => {
      solved += 1;
      return Promise.resolve(found(3));
    };
    const drain = async (): Promise<void> => {
      while (await solveNextField({ solve }));
    };
    await Promise.all(Array.from({ length: 5 }, drain));
    expect(solved).toBe(12);
    expect(await database().planField.count({ where: { state: "DONE" } })).toBe(12);
  });

  it("takes over what gave no sign of life, and the dead one's late answer counts no more", async () => {
    const partId = await plannedPart();
    const dead = await reading((db) => claimPlanField(db, 180, NOW));
    expect(await reading((db) => claimPlanField(db, 180, NOW))).toBeNull();
    await database().$executeRaw`UPDATE plan_field SET beat_at = now() - interval '4 minutes'`;
    const [one, other] = await Promise.all([
      reading((db) => claimPlanField(db, 180, NOW)),
      reading((db) => claimPlanField(db, 180, NOW)),
    ]);
    const heir = one ?? other;
    expect([one, other].filter(Boolean)).toHaveLength(1);
    expect(heir).toMatchObject({ id: dead?.id, tries: 2 });
    const answer = { findings: found(9), sceneKey: "x", finishedAt: NOW };
    if (!dead || !heir) throw new Error("nothing was claimed");
    expect(await reading((db) => finishPlanField(db, dead, answer))).toBe(false);
    expect(await reading((db) => finishPlanField(db, heir, answer))).toBe(true);
    expect((await fieldOf(partId)).findings).toMatchObject({ planned: { currentA: 9 } });
  });

  it("gives up on what ended its worker three times", async () => {
    const partId = await plannedPart();
    for (let death = 0; death < 3; death++) {
      await reading((db) => claimPlanField(db, 180, NOW));
      await database().$executeRaw`UPDATE plan_field SET beat_at = now() - interval '4 minutes'`;
    }
    expect(await solveNextField(quick)).toBe(true);
    expect(await fieldOf(partId)).toMatchObject({
      state: "FAILED",
      why: expect.stringContaining("3 times"),
    });
  });

  it("keeps a failure in words, with the findings of before, and goes on", async () => {
    const partId = await plannedPart();
    await solveNextField(quick);
    await expect(askFieldAgain(bench, partId, LATER)).resolves.toBeUndefined();
    const why = "the wall must be above 0 mm, got -1";
    await solveNextField({ solve: () => Promise.reject(new RangeError(why)) });
    const failed = await fieldOf(partId);
    expect(failed).toMatchObject({
      state: "FAILED",
      why: "The wall must be above 0 mm, got -1.",
      findings: found(3),
    });
    await askFieldAgain(bench, partId, LATER);
    await expect(askFieldAgain(bench, partId, LATER)).rejects.toMatchObject({ code: "conflict" });
    await solveNextField({ solve: () => Promise.reject(new Error("boom")) });
    expect(await fieldOf(partId)).toMatchObject({ state: "FAILED", why: "A fault: Boom." });
    expect(await solveNextField(quick)).toBe(false);
  });

  it("says why a tank no longer takes the part", async () => {
    const partId = await plannedPart();
    await database().anode.updateMany({ where: { tankId: tank.id }, data: { removedAt: NOW } });
    await solveNextField(quick);
    expect(await fieldOf(partId)).toMatchObject({
      state: "FAILED",
      why: "The tank no longer takes the part: No anode hangs in it.",
    });
  });

  it("ends work that is asked for anew meanwhile, and works out the new scene", async () => {
    const partId = await plannedPart();
    let aborted = false;
    await solveNextField({
      solve: async (_subject, { signal }) => {
        await database().tank.updateMany({ data: { clearanceMm: 45 } });
        await askForChangedFields(LATER);
        await new Promise<void>((resolve) => {
          signal?.addEventListener("abort", () => resolve());
        });
        aborted = true;
        throw new Error("ended");
      },
      now: () => NOW,
    }).finally(() => undefined);
    expect(aborted).toBe(true);
    expect(await fieldOf(partId)).toMatchObject({ state: "WAITING", why: "", tries: 0 });
    await solveNextField(quick);
    expect(await fieldOf(partId)).toMatchObject({ state: "DONE", tries: 1 });
  });

  it("gets back what a shutdown interrupts", async () => {
    const partId = await plannedPart();
    const shutdown = new AbortController();
    await solveNextField({
      signal: shutdown.signal,
      solve: () => {
        shutdown.abort();
        return Promise.reject(new Error("told to end"));
      },
    });
    expect(await fieldOf(partId)).toMatchObject({ state: "WAITING", tries: 0, claim: null });
    expect(await solveNextField({ ...quick, signal: shutdown.signal })).toBe(false);
  });

  it("writes progress at most twice a second", async () => {
    await plannedPart();
    const seen = new Set<number>();
    await solveNextField({
      solve: async (_subject, { onProgress }) => {
        for (let step = 1; step <= 60; step++) {
          onProgress?.(step / 100);
          await new Promise((resolve) => setTimeout(resolve, 25));
          const row = await database().planField.findFirstOrThrow();
          if (row.progress > 0) seen.add(row.progress);
        }
        return found(3);
      },
    });
    // 1.5 s and more: something was seen, and far fewer than the sixty steps told.
    expect(seen.size).toBeGreaterThanOrEqual(1);
    expect(seen.size).toBeLessThanOrEqual(8);
  });

  it("is worked out by the real solver in a thread of its own, while this process goes on", async () => {
    const partId = await plannedPart();
    let ticks = 0;
    const clock = setInterval(() => (ticks += 1), 20);
    await solveNextField();
    clearInterval(clock);
    const field = await fieldOf(partId);
    expect(field).toMatchObject({ state: "DONE", why: "" });
    const { findings } = (await reading((db) => currentFindings(db, partId))) ?? {};
    expect(findings?.planned.hours.worst.p50).toBeGreaterThan(0);
    // A thread starts in half a second and solves for one more: a blocked process would have ticked a few times.
    expect(ticks).toBeGreaterThan(20);
  });
});
