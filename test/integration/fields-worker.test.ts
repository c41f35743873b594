/** The worker's loop over the queue, what open pages hear of it, and the plan on paper. */
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import { afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  createSetupCode,
  fieldProgress,
  makePlan,
  openShop,
  planSheet,
  solveNextField,
  type SolveOptions,
  watchShop,
} from "@/lib/services";
import { findField } from "@/lib/treatment";
import { type FieldLoop, startFieldLoop } from "@/lib/setup/field-loop";
import { createPart } from "../support/factories-intake";
import { createActor, NOW } from "../support/factories-money";
import { createReadyTank } from "../support/factories-tanks";
import { MONDAY, newShop } from "../support/people";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;

let desk: Actor;
let bench: Actor;
let tank: Awaited<ReturnType<typeof createReadyTank>>;
let loop: FieldLoop | null = null;
const told: string[] = [];

beforeAll(async () => {
  // The example shop, as most people first see it: hundreds of plans, few of them still to be done.
  const code = (await createSetupCode(MONDAY)) ?? "";
  await openShop(newShop(code, { contents: "EXAMPLE" }), MONDAY);
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  tank = await createReadyTank();
});

afterEach(async () => {
  await loop?.stop();
  loop = null;
  await database().tank.update({ where: { id: tank.id }, data: { retiredAt: NOW } });
});

const start = (solve?: SolveOptions["solve"]): FieldLoop =>
  startFieldLoop((message) => told.push(message), solve);

async function until(what: () => Promise<boolean>, limitMs = 25_000): Promise<void> {
  const giveUpAt = Date.now() + limitMs;
  while (!(await what())) {
    if (Date.now() > giveUpAt) throw new Error("it did not come to that in time");
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

const countOf = (state: "WAITING" | "WORKING" | "DONE" | "FAILED") =>
  database().planField.count({ where: { state } });
const idle = async (): Promise<boolean> =>
  (await countOf("WAITING")) + (await countOf("WORKING")) === 0;

async function plannedPart(): Promise<string> {
  const id = await createPart(desk);
  await makePlan(desk, { partId: id, ...CHOICE, tankId: tank.id }, NOW);
  return id;
}

describe("the worker's loop", { timeout: 120_000 }, () => {
  it("works out only the few plans of the example shop that are still to be done", async () => {
    const due = await database().part.count({
      where: { state: { in: ["PLANNED", "BOOKED"] }, job: { state: "OPEN" }, plans: { some: {} } },
    });
    expect(await database().plan.count()).toBeGreaterThan(4 * due);
    // Coarse, so that this measures the queue and not the solver.
    const coarse: SolveOptions["solve"] = (subject) =>
      Promise.resolve(findField(subject, { cells: 3000 }));
    loop = start(coarse);
    await until(async () => (await database().planField.count()) > 0 || due === 0);
    await until(idle, 110_000);
    expect(await database().planField.count()).toBe(due);
    expect(due).toBeLessThan(40);
    expect(await countOf("FAILED")).toBe(0);
    expect(told).toEqual([]);
  });

  it("hears of a plan, and of a tank that changes, and works both out", async () => {
    loop = start();
    const partId = await plannedPart();
    const mine = () => fieldProgress(bench, partId);
    await until(async () => (await mine())?.state === "DONE");
    const { stamp } = (await mine()) ?? {};
    await database().tank.update({ where: { id: tank.id }, data: { clearanceMm: 42 } });
    await until(async () => (await mine())?.stamp !== stamp);
    await until(async () => (await mine())?.state === "DONE");
    expect(told).toEqual([]);
  });

  it("ends at once on shutdown, and what it was at waits again", async () => {
    const partId = await plannedPart();
    loop = start();
    await until(async () => (await fieldProgress(bench, partId))?.state === "WORKING");
    const before = Date.now();
    await loop.stop();
    expect(Date.now() - before).toBeLessThan(5000);
    expect(await fieldProgress(bench, partId)).toMatchObject({ state: "WAITING", progress: 0 });
    await solveNextField();
  });
});

describe("an open page", () => {
  it("hears of its own part and field, and a board hears of neither", async () => {
    const partId = await createPart(desk);
    const [board, page]: string[][] = [[], []];
    const stops = [
      watchShop(bench, (change) => change.kind === "change" && board?.push(change.table)),
      watchShop(bench, (change) => change.kind === "change" && page?.push(change.table), [partId]),
    ];
    // Listening takes a moment to begin: a change that a board shows is repeated until it is heard.
    await until(async () => {
      await database().tank.update({ where: { id: tank.id }, data: { notes: String(Date.now()) } });
      return (board ?? []).length > 0;
    });
    await makePlan(desk, { partId, ...CHOICE, tankId: tank.id }, NOW);
    await until(() => Promise.resolve((page ?? []).includes("part")));
    stops.forEach((stop) => stop());
    expect(new Set(board)).toEqual(new Set(["tank"]));
    expect(new Set(page)).toEqual(new Set(["part"]));
  });
});

async function textOf(bytes: Uint8Array): Promise<string> {
  const pdf = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const texts: string[] = [];
  for (let number = 1; number <= pdf.numPages; number += 1) {
    const { items } = await (await pdf.getPage(number)).getTextContent();
    texts.push(...items.flatMap((item) => ("str" in item ? [item.str] : [])));
  }
  return texts.join(" ").replace(/\s+/g, " ");
}

describe("the plan on paper", { timeout: 60_000 }, () => {
  it("has the plan, the cautions and what the field found, drawn", async () => {
    const partId = await plannedPart();
    const early = await planSheet(bench, partId, NOW);
    expect(await textOf(early.bytes)).toContain("It is not worked out yet");
    while ((await fieldProgress(bench, partId))?.state !== "DONE") await solveNextField();
    const { bytes, mark } = await planSheet(bench, partId, NOW);
    const text = await textOf(bytes);
    for (const expected of [
      `part ${mark}`,
      tank.name,
      "Level with the part in",
      "Hours in the bath",
      "Before current flows",
      "The negative lead is on the part",
      "Where the current goes",
      "Shape length of the cell, error of two grids",
      "clean within",
      "What hung inside helps",
    ]) {
      expect(text).toContain(expected);
    }
    expect(text).not.toContain("{");
    await database().shop.updateMany({ data: { unitSystem: "US" } });
    expect(await textOf((await planSheet(bench, partId, NOW)).bytes)).toContain("US gal");
    await database().shop.updateMany({ data: { unitSystem: "METRIC" } });
  });

  it("is refused without a plan, and to strangers", async () => {
    const partId = await createPart(desk);
    await expect(planSheet(bench, partId, NOW)).rejects.toMatchObject({ code: "conflict" });
    const nobody = { ...desk, role: "CUSTOMER" as Actor["role"] };
    await expect(planSheet(nobody, partId, NOW)).rejects.toMatchObject({ code: "not-allowed" });
  });

  it("is printed without its drawing where the tank no longer takes the part, and says why", async () => {
    const partId = await plannedPart();
    await database().anode.updateMany({ where: { tankId: tank.id }, data: { removedAt: NOW } });
    const text = await textOf((await planSheet(bench, partId, NOW)).bytes);
    expect(text).toContain("The tank no longer takes the part: No anode hangs in it.");
    expect(text).not.toContain("clean within");
  });
});
