/** What a job took: shares of runs, baths and stock, against its quote; and the figures made of it. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { inTransaction, recordLabour } from "@/lib/data";
import { database } from "@/lib/data/client";
import { jobCostView, jobLabour, jobMargins, recordExtraLabour } from "@/lib/services/costs";
import { creditStatement, issueStatement } from "@/lib/services/billing";
import { anodeFigures, anodePage, capacityFigures, tankWeekPage } from "@/lib/services/figures";
import { acceptQuote, draftQuote, openQuote, sendQuote } from "@/lib/services/quotes";
import { consumeStock } from "@/lib/services/stock";
import {
  createActor,
  createItem,
  createJob,
  createLot,
  createPlannedPart,
  createPulledRun,
  createShopWithRates,
  createTank,
  NOW,
  RATES,
} from "../support/factories-money";

const HOUR = 3_600_000;
const AS_PLANNED = { name: "As planned", goal: null, rush: false, discountPercent: 0 };
const TERMS = { options: [AS_PLANNED], messageToCustomer: "" };

let owner: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor();
  bench = await createActor("BENCH");
});

async function acceptedJob(tankId: string) {
  const job = await createJob(owner);
  const { part, plan } = await createPlannedPart(owner, job.id, tankId);
  const token = await sendQuote(owner, await draftQuote(owner, job.id, TERMS, NOW), NOW);
  const versionId = (await openQuote(token, NOW))?.offer?.versionId ?? "";
  await acceptQuote(token, { versionId, name: "Ida Moor" }, NOW);
  return { job, part, plan };
}

/** Two jobs in one run, a quarter and three quarters of its charge. */
async function sharedRun() {
  const tank = await createTank();
  const bath = await database().bath.create({
    data: {
      tankId: tank.id,
      mixedAt: new Date(NOW.getTime() - 48 * HOUR),
      volumeL: 100,
      carbonateG: 500,
      chargeAh: 16,
    },
  });
  const mine = await acceptedJob(tank.id);
  const other = await acceptedJob(tank.id);
  const run = await createPulledRun(tank.id, { bathId: bath.id, chargeAh: 16, energyKwh: 0.4 });
  await database().dip.createMany({
    data: [
      { runId: run.id, partId: mine.part.id, planId: mine.plan.id, chargeShare: 0.25 },
      { runId: run.id, partId: other.part.id, planId: other.plan.id, chargeShare: 0.75 },
    ],
  });
  const anode = await database().anode.create({
    data: {
      tankId: tank.id,
      name: "wall",
      installedAt: new Date(NOW.getTime() - 100 * 24 * HOUR),
      initialMassG: 3000,
      wettedAreaM2: 0.4,
    },
  });
  await database().anodeWear.create({
    data: { anodeId: anode.id, runId: run.id, chargeAh: 16, lossG: 2.5, costMinor: 4 },
  });
  return { tank, bath, mine, other, run, anode };
}

describe("jobCostView", () => {
  it("shares a run by charge, takes what is written on the job whole, and adds up", async () => {
    const { tank, bath, mine, other, run } = await sharedRun();
    const salt = await createItem({ name: "soda for the bath" });
    await createLot(salt.id, owner.personId, { quantity: 1000, costMinor: 1000 });
    const wool = await createItem({
      name: "wool",
      kind: "CONSUMABLE",
      saltGrade: null,
      unit: "EACH",
    });
    await createLot(wool.id, owner.personId, { quantity: 100, costMinor: 2000 });
    await inTransaction(async (db) => {
      const use = { at: NOW, note: "test", enteredById: owner.personId };
      await consumeStock(db, {
        ...use,
        itemId: salt.id,
        quantity: 500,
        at: bath.mixedAt,
        tankId: tank.id,
      });
      await consumeStock(db, {
        ...use,
        itemId: wool.id,
        quantity: 2,
        runId: run.id,
        jobId: mine.job.id,
      });
      await consumeStock(db, { ...use, itemId: wool.id, quantity: 4, runId: run.id });
      await recordLabour(db, {
        jobId: mine.job.id,
        personId: bench.personId,
        at: NOW,
        task: "load",
        minutes: 30,
        costMinor: 2400,
      });
    });

    const view = await jobCostView(owner, mine.job.id, NOW);

    // 8 h in the tank, 16 A·h and 0.4 kW·h, a quarter of each; the bath is good for 20 A·h/L · 100 L.
    expect(view.actuals).toEqual({
      labourMinor: 2400,
      labourMinutes: 30,
      tankHours: 2,
      sodaMinor: 500 * (4 / 2000),
      anodeSteelMinor: 1,
      consumablesMinor: 40 + 80 * 0.25,
      energyKwh: 0.1,
      energyMinor: 3,
      disposalL: 100 * (4 / 2000),
    });
    const minor = Object.fromEntries(
      view.cost.lines.map(({ kind, actualMinor }) => [kind, actualMinor]),
    );
    expect(minor).toMatchObject({
      LABOUR: 2400,
      TANK_TIME: 200,
      SODA: 1,
      ANODE_STEEL: 1,
      CONSUMABLES: 60,
    });
    expect(view.cost.actualMinor).toBe(
      view.cost.lines.reduce((sum, line) => sum + line.actualMinor, 0),
    );
    expect(view.estimate).toBe("accepted");
    expect(view.cost.marginMinor).toBe((view.cost.quotedNetMinor ?? 0) - view.cost.actualMinor);

    const theirs = await jobCostView(owner, other.job.id, NOW);
    expect(theirs.actuals.tankHours).toBe(6);
    expect(theirs.actuals.consumablesMinor).toBe(60);
  });

  it("names who and what made the difference", async () => {
    const { mine } = await sharedRun();
    await recordExtraLabour(owner, { jobId: mine.job.id, task: "finish", minutes: 600 }, NOW);
    const { causes } = await jobCostView(owner, mine.job.id, NOW);
    expect(causes[0]?.kind).toBe("LABOUR");
    const [most] = [...(causes[0]?.effects ?? [])].sort((a, b) => b.minor - a.minor);
    expect(most?.words).toContain(`Finish: ${owner.name} 600 min; planned`);
    for (const { effects, varianceMinor } of causes) {
      expect(effects.reduce((all, { minor }) => all + minor, 0)).toBe(varianceMinor);
    }
    expect(causes.map(({ kind }) => kind)).toContain("TANK_TIME");
  });

  it("takes what was charged, less what was credited, once a statement stands", async () => {
    const { mine } = await sharedRun();
    await database().part.update({ where: { id: mine.part.id }, data: { state: "FINISHED" } });
    const quoted = (await jobCostView(owner, mine.job.id, NOW)).cost.quotedNetMinor ?? 0;
    const extras = [{ label: "A second pass", amountMinor: 1000, taxCode: "standard" }];
    const asked = { jobId: mine.job.id, extras, evenUnfinished: false, idempotencyKey: "one" };
    const statementId = await issueStatement(owner, asked, NOW);
    await creditStatement(
      owner,
      {
        statementId,
        asked: [{ position: 1, grossMinor: 119 }],
        reason: "Agreed",
        idempotencyKey: "two",
      },
      NOW,
    );
    const view = await jobCostView(owner, mine.job.id, NOW);
    expect(view.charged).toBe(true);
    expect(view.cost.quotedNetMinor).toBe(quoted + 1000 - 100);
    expect(view.cost.margin?.inputs[0]?.name).toBe("charged, before tax");
  });

  it("counts a running load by the plan so far and says that it is not settled", async () => {
    const tank = await createTank();
    const { job, part, plan } = await acceptedJob(tank.id);
    const run = await createPulledRun(tank.id, { loadedAt: new Date(NOW.getTime() - 3 * HOUR) });
    await database().run.update({
      where: { id: run.id },
      data: { state: "RUNNING", pulledAt: null, chargeAh: null, energyKwh: null },
    });
    await database().dip.create({ data: { runId: run.id, partId: part.id, planId: plan.id } });
    const view = await jobCostView(owner, job.id, NOW);
    expect(view.settled).toBe(false);
    expect(view.actuals.tankHours).toBeCloseTo(3, 9);
    // 2 A for 3 h of a plan of 10 A·h and 0.2 kW·h
    expect(view.actuals.energyKwh).toBeCloseTo(0.2 * 0.6, 9);
  });

  it("has no margin before a quote is accepted", async () => {
    const tank = await createTank();
    const job = await createJob(owner);
    await createPlannedPart(owner, job.id, tank.id);
    await draftQuote(owner, job.id, TERMS, NOW);
    const view = await jobCostView(owner, job.id, NOW);
    expect(view.estimate).toBe("not accepted");
    expect(view.cost.quotedNetMinor).toBeNull();
    expect(view.cost.estimatedMinor).toBeGreaterThan(0);
  });

  it("shows money to those who may see it, and to nobody of an unknown role", async () => {
    const { mine } = await sharedRun();
    const stranger = { ...owner, role: "VISITOR" } as unknown as Actor;
    for (const actor of [bench, stranger]) {
      await expect(jobCostView(actor, mine.job.id, NOW)).rejects.toMatchObject({
        code: "not-allowed",
      });
      await expect(jobMargins(actor, { skip: 0, take: 5 }, NOW)).rejects.toMatchObject({
        code: "not-allowed",
      });
    }
    await expect(jobLabour(stranger, mine.job.id)).rejects.toMatchObject({ code: "not-allowed" });
    expect(JSON.stringify(await jobLabour(bench, mine.job.id))).not.toContain("costMinor");
  });
});

describe("labour", () => {
  it("is written once for a repeated key, at today's rate", async () => {
    const { mine } = await sharedRun();
    const labour = {
      jobId: mine.job.id,
      task: "other",
      minutes: 25,
      idempotencyKey: "phone-1",
    } as const;
    await Promise.all(Array.from({ length: 8 }, () => recordExtraLabour(bench, labour, NOW)));
    const rows = await database().labourEntry.findMany({ where: { jobId: mine.job.id } });
    expect(rows).toHaveLength(1);
    expect(rows[0]?.costMinor).toBe((RATES.labourPerHourMinor * 25) / 60);
  });

  it("refuses no minutes, more than a day, and another job's part", async () => {
    const { mine, other } = await sharedRun();
    const labour = { jobId: mine.job.id, task: "other" } as const;
    for (const minutes of [0, -5, 1441, Number.NaN]) {
      await expect(recordExtraLabour(bench, { ...labour, minutes }, NOW)).rejects.toMatchObject({
        code: "invalid",
      });
    }
    await expect(
      recordExtraLabour(bench, { ...labour, minutes: 5, partId: other.part.id }, NOW),
    ).rejects.toMatchObject({ code: "not-found" });
  });
});

describe("figures", () => {
  it("list every job's cost as its own page tells it, newest first", async () => {
    const { jobs, total } = await jobMargins(owner, { skip: 0, take: 100 }, NOW);
    expect(total).toBe(await database().job.count());
    const numbers = jobs.map(({ job }) => job.number);
    expect(numbers).toEqual([...numbers].sort((a, b) => b - a));
    for (const { job, cost } of jobs.slice(0, 3)) {
      expect((await jobCostView(owner, job.id, NOW)).cost.actualMinor).toBe(cost.actualMinor);
    }
  });

  it("tell tank hours that agree with the runs in SQL, week by week", async () => {
    const { tank } = await sharedRun();
    const { cells, thisWeek } = await capacityFigures(bench, NOW);
    const week = cells.find((cell) => cell.tankId === tank.id && cell.monday === thisWeek);
    // The run was from 01:00 to 09:00 UTC on Monday; the week began at 23:00 UTC on Sunday.
    const [row] = await database().$queryRaw<{ hours: number }[]>`
      SELECT (extract(epoch FROM sum("pulled_at" - "loaded_at")) / 3600)::float8 AS "hours"
        FROM "run" WHERE "tank_id" = ${tank.id}::uuid`;
    expect(week?.usedHours).toBeCloseTo(row?.hours ?? Number.NaN, 9);
    expect((week?.usedHours ?? 0) + (week?.freeHours ?? 0)).toBeCloseTo(168, 9);

    const page = await tankWeekPage(bench, tank.id, thisWeek, NOW);
    expect(page.runs.reduce((sum, { hours }) => sum + hours, 0)).toBeCloseTo(
      page.week.usedHours,
      9,
    );
  });

  it("tell each anode's wear as its rows add up, and a date with its range", async () => {
    const { tank, anode, mine } = await sharedRun();
    const earlier = new Date(NOW.getTime() - 10 * 24 * HOUR);
    const run = await createPulledRun(tank.id, {
      loadedAt: new Date(earlier.getTime() - 5 * HOUR),
      pulledAt: earlier,
    });
    await database().dip.create({
      data: { runId: run.id, partId: mine.part.id, planId: mine.plan.id },
    });
    await database().anodeWear.create({
      data: { anodeId: anode.id, runId: run.id, chargeAh: 400, lossG: 60, costMinor: 30 },
    });

    const figure = (await anodeFigures(bench, NOW)).find((each) => each.anode.id === anode.id);
    const [row] = await database().$queryRaw<{ loss: number }[]>`
      SELECT sum("loss_g") AS "loss" FROM "anode_wear" WHERE "anode_id" = ${anode.id}::uuid`;
    expect(figure?.lostG).toBeCloseTo(row?.loss ?? Number.NaN, 9);
    // 60 g in one of the twelve whole weeks behind; this week's wear counts as lost, not as usual use.
    expect(figure?.life?.value).toBeCloseTo((1500 - 62.5) / (60 / 12), 6);
    expect(figure?.replaceBy?.p10.getTime()).toBeLessThan(figure?.replaceBy?.p50.getTime() ?? 0);

    const page = await anodePage(bench, anode.id, { skip: 0, take: 25 }, NOW);
    expect(page.runs.reduce((sum, { lossG }) => sum + lossG, 0)).toBeCloseTo(figure?.lostG ?? 0, 9);
  });
});
