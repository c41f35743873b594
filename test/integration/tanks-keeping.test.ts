import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  addSupply,
  addTank,
  changeTank,
  disposeBath,
  installAnode,
  mixBath,
  pullRun,
  removeAnode,
  retireSupply,
  retireTank,
  seeBoard,
  seeHome,
  seeTank,
  weighAnode,
} from "@/lib/services";
import {
  createActor,
  createItem,
  createLot,
  createShopWithRates,
} from "../support/factories-money";
import {
  createOpeningHours,
  createReadyTank,
  createRunningRun,
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

const BARREL = {
  name: "Barrel",
  place: "yard",
  kind: "ROUND" as const,
  topLengthMm: 560,
  topWidthMm: 560,
  bottomLengthMm: 560,
  bottomWidthMm: 560,
  depthMm: 850,
  workingLevelMm: 700,
  clearanceMm: 50,
  leadLengthM: 2,
  leadAreaMm2: 4,
  contactOhm: 0.02,
  supplyId: null,
  notes: "",
  marks: [],
};

const soda = async (quantity: number) => {
  const item = await createItem({ kind: "SALT", saltGrade: "SODA_ASH_LIGHT" });
  const lot = await createLot(item.id, bench.personId, { quantity, costMinor: quantity });
  return {
    item,
    onHand: async () =>
      (await database().lot.findUniqueOrThrow({ where: { id: lot.id } })).onHand.toNumber(),
  };
};

describe("setting up tanks", () => {
  it("adds a tank, refuses its name twice and a level above the rim", async () => {
    const id = await addTank(owner, BARREL, MONDAY);
    await expect(addTank(owner, BARREL, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    await expect(
      changeTank(owner, id, { ...BARREL, workingLevelMm: 900 }, MONDAY),
    ).rejects.toMatchObject({ code: "invalid" });
  });

  it("keeps measured levels, and refuses litres that fall", async () => {
    const trough = { ...BARREL, name: "Old trough", kind: "MEASURED" as const };
    const rising = [
      { levelMm: 300, volumeL: 40 },
      { levelMm: 800, volumeL: 150 },
    ];
    const id = await addTank(owner, { ...trough, marks: rising }, MONDAY);
    expect((await seeTank(bench, id, MONDAY)).tank.marks).toEqual(rising);
    const falling = [...rising].reverse();
    await expect(
      addTank(owner, { ...trough, name: "Wrong", marks: falling }, MONDAY),
    ).rejects.toMatchObject({ code: "invalid" });
  });

  it("is for the owner: the bench and roles that nobody has are refused", async () => {
    const nobody = { ...owner, role: "__proto__" as Actor["role"] };
    for (const actor of [bench, nobody]) {
      await expect(addTank(actor, { ...BARREL, name: "Mine" }, MONDAY)).rejects.toMatchObject({
        code: "not-allowed",
      });
    }
    await expect(seeBoard(nobody, MONDAY)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(seeHome(nobody, MONDAY)).rejects.toMatchObject({ code: "not-allowed" });
  });

  it("does not retire a filled tank, or a supply that drives one", async () => {
    const tank = await createReadyTank();
    await expect(retireTank(owner, tank.id, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    await expect(retireSupply(owner, tank.supplyId ?? "", MONDAY)).rejects.toMatchObject({
      code: "conflict",
    });
    await disposeBath(bench, { tankId: tank.id, note: "settled, strained, drained" }, MONDAY);
    await retireTank(owner, tank.id, MONDAY);
    const { tanks } = await seeBoard(bench, MONDAY);
    expect(tanks.map((view) => view.tank.id)).not.toContain(tank.id);
  });

  it("refuses a battery without a capacity", async () => {
    const battery = {
      name: "Old battery",
      kind: "BATTERY" as const,
      openVoltageV: 12.6,
      innerResistanceOhm: 0.05,
      ratedCurrentA: 5,
      dutyFactor: 0.8,
      overCurrent: "SAGS" as const,
      capacityAh: null,
      efficiency: 0.9,
    };
    await expect(addSupply(owner, battery, MONDAY)).rejects.toMatchObject({ code: "invalid" });
  });
});

describe("baths", () => {
  it("are mixed once, of two people at once, and take their salt from stock", async () => {
    const tank = await createReadyTank({ bath: null });
    const { item, onHand } = await soda(1000);
    const mix = () => ({
      tankId: tank.id,
      levelMm: 300,
      salt: { itemId: item.id, massG: 200 },
      temperatureC: null,
      idempotencyKey: randomUUID(),
    });
    const answers = await Promise.allSettled([mix(), mix()].map((m) => mixBath(bench, m, MONDAY)));
    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    expect(await onHand()).toBe(800);
    const [bath] = await database().bath.findMany({ where: { tankId: tank.id } });
    // Tapered box, 300 of 380 mm: h/6·(A0 + 4·Am + Ah).
    const side = (low: number, high: number, h: number): number => low + ((high - low) * h) / 380;
    const area = (h: number): number => side(550, 600, h) * side(350, 400, h);
    const litres = (300 / 6) * (area(0) + 4 * area(150) + area(300)) * 1e-6;
    expect(bath?.volumeL).toBeCloseTo(litres, 6);
    expect(bath?.carbonateG).toBeCloseTo(200, 9);
  });

  it("are not mixed stronger than soda dissolves, or of anything but soda", async () => {
    const tank = await createReadyTank({ bath: null });
    const { item } = await soda(100_000);
    const oil = await createItem({ kind: "PROTECTION", saltGrade: null });
    await createLot(oil.id, bench.personId);
    const mix = (itemId: string, massG: number) =>
      mixBath(
        bench,
        {
          tankId: tank.id,
          levelMm: 300,
          salt: { itemId, massG },
          temperatureC: 18,
          idempotencyKey: randomUUID(),
        },
        MONDAY,
      );
    await expect(mix(item.id, 40_000)).rejects.toMatchObject({ code: "invalid" });
    await expect(mix(oil.id, 100)).rejects.toMatchObject({ code: "invalid" });
    expect(await database().bath.count({ where: { tankId: tank.id } })).toBe(0);
  });

  it("stay while a load is in them", async () => {
    const { tank, runId } = await createRunningRun(bench);
    const dispose = () => disposeBath(bench, { tankId: tank.id, note: "drain" }, MONDAY);
    await expect(dispose()).rejects.toMatchObject({ code: "conflict" });
    await pullRun(bench, runId, hoursAfter(MONDAY, 1));
    await expect(dispose()).resolves.toBeUndefined();
  });
});

describe("anodes", () => {
  it("take their steel from stock at cost, once", async () => {
    const tank = await createReadyTank({ anode: null });
    const rebar = await createItem({
      kind: "ANODE_STEEL",
      saltGrade: null,
      unit: "MILLIMETRE",
      gramsPerUnit: 0.888,
    });
    await createLot(rebar.id, bench.personId, { quantity: 6000, costMinor: 900 });
    const anode = {
      tankId: tank.id,
      place: "WALL" as const,
      name: "rebar ring",
      massG: 1776,
      wettedAreaM2: 0.075,
      replaceAtShare: 0.5,
      thickness: null,
      steel: { itemId: rebar.id, quantity: 2000 },
      idempotencyKey: randomUUID(),
    };
    await installAnode(bench, anode, MONDAY);
    await installAnode(bench, anode, MONDAY);
    const [installed] = await database().anode.findMany({ where: { tankId: tank.id } });
    expect(installed).toMatchObject({ costMinor: 300, initialMassG: 1776 });
    const lot = await database().lot.findFirstOrThrow({ where: { itemId: rebar.id } });
    expect(lot.onHand.toNumber()).toBe(4000);
  });

  it("lose mass by their runs, and a weighing corrects mass and loss factor", async () => {
    const { tank, runId } = await createRunningRun(bench);
    await pullRun(bench, runId, hoursAfter(MONDAY, 40));
    const [worn] = (await seeTank(bench, tank.id, hoursAfter(MONDAY, 40))).anodes;
    expect(worn?.massG.value).toBeLessThan(2000);
    const anodeId = worn?.anode.id ?? "";
    const chargeAh = worn?.anode.wear[0]?.chargeAh ?? 0;

    // As if 40 % of the charge had dissolved iron, on a scale of ± 1 g.
    const massG = 2000 - 0.4 * 1.0418 * chargeAh;
    await weighAnode(bench, { anodeId, massG, errorG: 1 }, hoursAfter(MONDAY, 41));

    const [weighed] = (await seeTank(bench, tank.id, hoursAfter(MONDAY, 42))).anodes;
    expect(weighed?.massG.value).toBeCloseTo(massG, 6);
    expect(weighed?.anode.lossFactor).toBeGreaterThan(0.35);
    expect(weighed?.anode.lossFactorError).toBeLessThan(0.05);
    await expect(
      weighAnode(bench, { anodeId, massG: 2500, errorG: 1 }, hoursAfter(MONDAY, 43)),
    ).rejects.toMatchObject({ code: "invalid" });
  });

  it("stay in while a load is in, and come out once", async () => {
    const { tank, runId } = await createRunningRun(bench);
    const anode = await database().anode.findFirstOrThrow({ where: { tankId: tank.id } });
    await expect(removeAnode(bench, anode.id, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    await pullRun(bench, runId, hoursAfter(MONDAY, 1));
    await Promise.all([1, 2].map(() => removeAnode(bench, anode.id, hoursAfter(MONDAY, 2))));
    const audit = { action: "anode.removed", subjectId: anode.id };
    expect(await database().auditEntry.count({ where: audit })).toBe(1);
  });
});

describe("board and first screen", () => {
  it("show a loaded tank as running, with its load and when to pull it", async () => {
    const { tank, runId } = await createRunningRun(bench);
    const { tanks } = await seeBoard(bench, hoursAfter(MONDAY, 1));
    const view = tanks.find(({ tank: { id } }) => id === tank.id);
    expect(view).toMatchObject({ state: "bubbling", running: { run: { id: runId } } });
    expect(view?.load?.alongMm).toBeGreaterThan(0);
    const home = await seeHome(bench, hoursAfter(MONDAY, 1));
    expect(home.running.map(({ run }) => run.id)).toContain(runId);
    expect(home.free.map((free) => free.tank.id)).not.toContain(tank.id);
  });
});
