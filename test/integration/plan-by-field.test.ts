/** A plan that is made anew once its field is there rests on it, as long as nothing has changed. */
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { makePlan, solveNextField, whatIf } from "@/lib/services";
import type { FieldFindings, InnerAnodeFound, TreatmentPlan } from "@/lib/treatment";
import { createPart } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { book, createOpeningHours, createReadyTank } from "../support/factories-tanks";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;

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

const ROD: InnerAnodeFound = {
  shapeLengthM: 0.6,
  currentA: 3,
  spread: { outside: 1.1, inside: 0.8 },
  hours: hoursOf(4),
  lagShare: 0.1,
  form: { kind: "RODS", rods: [{ from: [0, 0, 0.1], to: [0, 0, 0.3] }], radiusM: 0.006 },
  words: "A rod of {12 mm}, {200 mm} long, upright in the middle of the hollow",
  clearanceMm: 41,
  savesH: 30,
};

function hoursOf(p50: number): InnerAnodeFound["hours"] {
  const range = { p10: p50 / 2, p50, p90: 2 * p50 };
  return { outside: range, inside: range, worst: range };
}

/** A shape length far under the closed form's, and an inside that gets little. */
const FINDINGS: FieldFindings = {
  cells: 800_000,
  conductivitySPerM: 0.5,
  shapeLengthM: { value: 0.4, error: 0.01 },
  wetAreaM2: 0.2,
  insideShare: 0.4,
  planned: {
    shapeLengthM: 0.4,
    currentA: 2,
    spread: { outside: 1.2, inside: 0.05 },
    hours: hoursOf(34),
    lagShare: 0.3,
  },
  innerAnodes: [ROD],
  turns: [],
  wear: [],
};

async function planOf(partId: string) {
  const row = await database().plan.findFirstOrThrow({
    where: { partId },
    orderBy: { version: "desc" },
  });
  return { ...row, result: row.result as unknown as TreatmentPlan };
}

/** A planned part whose field has been worked out. */
async function withField(): Promise<string> {
  const partId = await createPart(desk);
  await makePlan(desk, { partId, ...CHOICE }, NOW);
  await solveNextField({ solve: () => Promise.resolve(FINDINGS) });
  return partId;
}

describe("a plan made anew", () => {
  it("rests on the field of its part in its tank: current, hours and what hangs inside", async () => {
    const partId = await withField();
    const before = await planOf(partId);
    expect(before.fieldTimes).toBeNull();
    expect(before.result.fieldCells).toBeUndefined();

    await makePlan(desk, { partId, ...CHOICE }, NOW);
    const plain = await planOf(partId);
    expect(plain.version).toBe(before.version + 1);
    expect(plain.result.fieldCells).toBe(800_000);
    expect(plain.fieldTimes).toBeCloseTo(plain.result.fieldTimes ?? 0, 12);
    expect(plain.fieldTimes).toBeLessThan(1);
    expect(plain.currentA).toBeLessThan(before.currentA);
    expect(plain.hoursP50).toBeGreaterThan(before.hoursP50);

    await makePlan(desk, { partId, ...CHOICE, innerAnode: true }, NOW);
    const hung = await planOf(partId);
    expect(hung.result.innerAnode).toContain(ROD.words);
    expect(hung.currentA).toBeGreaterThan(plain.currentA);
    expect(hung.hoursP50).toBeLessThan(plain.hoursP50);
    // Trying other settings begins where the plan stands.
    const trying = await whatIf(desk, partId);
    expect(trying?.start.innerAnode).toBe(true);
    expect(trying?.start.chosen.seen?.withInnerAnode?.words).toBe(ROD.words);
  });

  it("leaves other parts' plans on closed forms", async () => {
    await withField();
    const other = await createPart(desk);
    await makePlan(desk, { partId: other, ...CHOICE }, NOW);
    const plan = await planOf(other);
    expect(plan.fieldTimes).toBeNull();
    expect(plan.result.fieldCells).toBeUndefined();
  });

  it("rests on it no more once the tank is another", async () => {
    const partId = await withField();
    await database().tank.update({
      where: { id: tank.id },
      data: { workingLevelMm: tank.workingLevelMm - 20 },
    });
    await makePlan(desk, { partId, ...CHOICE }, NOW);
    expect((await planOf(partId)).result.fieldCells).toBeUndefined();
  });

  it("is booked with the field's current", async () => {
    const partId = await withField();
    await makePlan(desk, { partId, ...CHOICE, innerAnode: true }, NOW);
    const plan = await planOf(partId);
    const { runId } = await book(bench, partId, tank.id);
    const run = await database().run.findUniqueOrThrow({ where: { id: runId } });
    expect(run.expectedCurrentA).toBeCloseTo(plan.currentA, 6);
  });
});
