import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  addPart,
  bookRun,
  cancelJob,
  changePart,
  closeJob,
  handBackPart,
  jobById,
  jobTags,
  makePlan,
  overruleVerdict,
  partById,
  partTag,
  removePart,
  takeBackPart,
} from "@/lib/services";
import { createIntakeJob, createPart, SKILLET } from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { createOpeningHours, createReadyTank } from "../support/factories-tanks";
import { outcomes } from "../support/people";

const CHOICE = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
const REASON = "The customer wants the zinc gone and has said so in writing.";

let owner: Actor;
let desk: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  owner = await createActor("OWNER");
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

beforeEach(async () => {
  await database().tank.updateMany({ data: { retiredAt: NOW } });
});

const setState = (id: string, state: "FINISHED" | "BOOKED"): Promise<unknown> =>
  database().part.update({ where: { id }, data: { state } });

describe("taking a part in", () => {
  it("marks parts A, B, C though they are added at once, and never twice the same", async () => {
    const jobId = await createIntakeJob(desk);
    await Promise.all(Array.from({ length: 6 }, () => createPart(desk, { jobId })));
    const { parts } = await jobById(desk, jobId);
    expect(parts.map(({ mark }) => mark)).toEqual(["A", "B", "C", "D", "E", "F"]);
  });

  it("refuses measures that cannot be and keeps nothing", async () => {
    const jobId = await createIntakeJob(desk);
    const part = { ...SKILLET, lengthMm: -4 };
    await expect(addPart(desk, jobId, part, NOW)).rejects.toMatchObject({
      code: "invalid",
      message: expect.stringContaining("-4"),
    });
    expect((await jobById(desk, jobId)).parts).toEqual([]);
  });

  it("prints a tag for each part, and one alone", async () => {
    const jobId = await createIntakeJob(desk);
    await expect(jobTags(desk, jobId, NOW)).rejects.toMatchObject({ code: "not-found" });
    const partId = await createPart(desk, { jobId });
    const { bytes } = await jobTags(bench, jobId, NOW);
    expect(new TextDecoder().decode(bytes.subarray(0, 5))).toBe("%PDF-");
    expect(await partTag(bench, partId, NOW)).toMatchObject({ mark: "A" });
  });
});

describe("verdict", () => {
  it("is decided and kept with its reasons when the part comes in", async () => {
    const part = await partById(desk, await createPart(desk, { material: "ALUMINIUM" }));
    expect(part.state).toBe("REFUSED");
    expect(part.verdict?.findings).toMatchObject({ outcome: "REFUSE", absolute: true });
  });

  it("is made anew when the part is changed, and the earlier one stays on record", async () => {
    const id = await createPart(desk, { material: "UNKNOWN" });
    await changePart(desk, id, SKILLET, NOW);
    expect((await partById(desk, id)).state).toBe("TAKEN_IN");
    expect(await database().verdict.count({ where: { partId: id } })).toBe(2);
  });

  it("can be overruled by the owner alone, and only with a reason", async () => {
    const gate = await createPart(desk, { material: "GALVANISED_STEEL" });
    for (const actor of [desk, bench]) {
      const refused = overruleVerdict(actor, gate, REASON, NOW);
      await expect(refused).rejects.toMatchObject({ code: "not-allowed" });
    }
    await expect(overruleVerdict(owner, gate, "no", NOW)).rejects.toMatchObject({
      code: "invalid",
      fields: { reason: expect.any(String) },
    });
    await overruleVerdict(owner, gate, REASON, NOW);
    expect(await partById(desk, gate)).toMatchObject({
      state: "TAKEN_IN",
      verdict: { overruled: true, overruleReason: REASON },
    });
    await expect(overruleVerdict(owner, gate, REASON, NOW)).rejects.toMatchObject({
      code: "conflict",
    });
  });

  it("cannot be overruled by anybody where harm is certain", async () => {
    const pan = await createPart(desk, { material: "ALUMINIUM" });
    await expect(overruleVerdict(owner, pan, REASON, NOW)).rejects.toThrow(/Aluminium dissolves/);
    expect(await partById(desk, pan)).toMatchObject({
      state: "REFUSED",
      verdict: { overruled: false },
    });
  });

  it("does not stay overruled when the part is changed", async () => {
    const gate = await createPart(desk, { material: "GALVANISED_STEEL" });
    await overruleVerdict(owner, gate, REASON, NOW);
    const later = new Date(NOW.getTime() + 1000);
    await changePart(desk, gate, { ...SKILLET, material: "GALVANISED_STEEL" }, later);
    expect(await partById(desk, gate)).toMatchObject({
      state: "REFUSED",
      verdict: { overruled: false },
    });
  });
});

describe("plan", () => {
  it("is refused while there is no tank, and says so", async () => {
    const partId = await createPart(desk);
    await expect(makePlan(bench, { partId, ...CHOICE }, NOW)).rejects.toThrow(/no tank yet/);
    expect(await database().plan.count({ where: { partId } })).toBe(0);
  });

  it("is kept whole with its figures, and planned again as the next version", async () => {
    await createReadyTank();
    const partId = await createPart(desk);
    await makePlan(bench, { partId, ...CHOICE }, NOW);
    await makePlan(bench, { partId, ...CHOICE, goal: "STRIP_TO_METAL" }, NOW);
    const part = await partById(bench, partId);
    expect(part).toMatchObject({ state: "PLANNED", goal: "STRIP_TO_METAL", plan: { version: 2 } });
    const { plan } = part;
    expect(plan?.hoursP90).toBeGreaterThan(plan?.hoursP50 ?? Infinity);
    expect(plan?.result.figures.currentA.value).toBeCloseTo(plan?.currentA ?? 0, 9);
    expect(await database().plan.count({ where: { partId } })).toBe(2);
  });

  it("takes the tank that was asked for, or says why that one does not do", async () => {
    const [first, second] = [await createReadyTank(), await createReadyTank()];
    const partId = await createPart(desk);
    for (const { id } of [second, first]) {
      await makePlan(bench, { partId, ...CHOICE, tankId: id }, NOW);
      expect((await partById(bench, partId)).plan?.tankId).toBe(id);
    }
    const trough = await createPart(desk, { lengthMm: 560, widthMm: 560, heightMm: 250 });
    await expect(
      makePlan(bench, { partId: trough, ...CHOICE, tankId: first.id }, NOW),
    ).rejects.toMatchObject({ code: "conflict", message: expect.stringContaining(first.name) });
  });

  it("is not made for a part that must not go in", async () => {
    await createReadyTank();
    const partId = await createPart(desk, { hazards: ["HELD_FUEL"] });
    await expect(makePlan(bench, { partId, ...CHOICE }, NOW)).rejects.toThrow(/verdict/);
  });

  it("no longer counts once the part is changed", async () => {
    await createReadyTank();
    const partId = await createPart(desk);
    await makePlan(bench, { partId, ...CHOICE }, NOW);
    await changePart(desk, partId, { ...SKILLET, massG: 2400 }, NOW);
    expect((await partById(desk, partId)).state).toBe("TAKEN_IN");
  });
});

describe("once something hangs on a part", () => {
  it("a booked one is neither changed nor removed", async () => {
    const id = await createPart(desk);
    await setState(id, "BOOKED");
    await expect(changePart(desk, id, SKILLET, NOW)).rejects.toMatchObject({ code: "conflict" });
    await expect(removePart(desk, id, NOW)).rejects.toThrow(/Cancel the run/);
    await expect(handBackPart(desk, id, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("one on a quote that was sent is not removed; without it, it goes whole", async () => {
    const jobId = await createIntakeJob(desk);
    const [offered, mistake] = [
      await createPart(desk, { jobId }),
      await createPart(desk, { jobId }),
    ];
    await createSentQuote(jobId, offered);
    await expect(removePart(desk, offered, NOW)).rejects.toThrow(/quote/);
    await removePart(desk, mistake, NOW);
    expect((await jobById(desk, jobId)).parts.map(({ id }) => id)).toEqual([offered]);
    expect(await database().verdict.count({ where: { partId: mistake } })).toBe(0);
  });
});

async function createSentQuote(jobId: string, partId: string): Promise<void> {
  const { id } = await database().quote.create({
    data: {
      number: 900,
      jobId,
      createdAt: NOW,
      versions: {
        create: {
          version: 1,
          madeAt: NOW,
          validUntil: new Date("2030-02-06T00:00:00Z"),
          currency: "EUR",
          options: {
            create: {
              position: 0,
              name: "As planned",
              netMinor: 1000,
              taxMinor: 190,
              totalMinor: 1190,
              lowMinor: 1190,
              highMinor: 1190,
              taxes: [],
              estimate: {},
              lines: {
                create: {
                  position: 0,
                  partId,
                  label: "skillet",
                  netMinor: 1000,
                  taxMinor: 190,
                  taxCode: "standard",
                },
              },
            },
          },
        },
      },
    },
  });
  await database().quoteVersion.updateMany({
    where: { quoteId: id },
    data: { state: "SENT", sentAt: NOW },
  });
}

describe("handing back", () => {
  it("gives one part back before the others, and takes it up again", async () => {
    const jobId = await createIntakeJob(desk);
    const id = await createPart(desk, { jobId });
    await createPart(desk, { jobId });
    await setState(id, "FINISHED");
    await handBackPart(desk, id, NOW);
    const { parts } = await jobById(desk, jobId);
    expect(parts.map(({ state }) => state)).toEqual(["HANDED_BACK", "TAKEN_IN"]);
    await expect(handBackPart(desk, id, NOW)).rejects.toMatchObject({ code: "conflict" });
    await takeBackPart(desk, id, NOW);
    expect((await partById(desk, id)).state).toBe("TAKEN_IN");
    await expect(takeBackPart(desk, id, NOW)).rejects.toMatchObject({ code: "conflict" });
  });

  it("is refused, alone and with the job, until the relief bake is over", async () => {
    const jobId = await createIntakeJob(desk);
    const partId = await createPart(desk, { jobId });
    await setState(partId, "FINISHED");
    const bake = await database().reliefBake.create({
      data: { partId, temperatureC: 200, hours: 8, mustStartBy: NOW },
    });
    await expect(handBackPart(desk, partId, NOW)).rejects.toThrow(/relief bake/);
    await expect(closeJob(desk, jobId, NOW)).rejects.toThrow(/relief bake/);
    expect((await partById(desk, partId)).state).toBe("FINISHED");
    await database().reliefBake.update({
      where: { id: bake.id },
      data: { startedAt: NOW, endedAt: NOW },
    });
    await closeJob(desk, jobId, NOW);
    expect((await partById(desk, partId)).state).toBe("HANDED_BACK");
  });

  it("lets either the booking or the end of the job win, never both", async () => {
    const tank = await createReadyTank();
    for (let round = 0; round < 5; round += 1) {
      const jobId = await createIntakeJob(desk);
      const partId = await createPart(desk, { jobId });
      await makePlan(bench, { partId, ...CHOICE, tankId: tank.id }, NOW);
      const startsAt = new Date(Date.UTC(2030, 0, 8 + 7 * round, 8));
      const booking = { partIds: [partId], tankId: tank.id, startsAt, notes: "" };
      const { done } = await outcomes([
        bookRun(bench, { ...booking, idempotencyKey: `round ${round}` }, NOW),
        cancelJob(desk, jobId, NOW),
      ]);
      expect(done).toBe(1);
      const job = await jobById(desk, jobId);
      const ended = [job.state, job.parts[0]?.state].join(" ");
      expect(["OPEN BOOKED", "CANCELLED HANDED_BACK"]).toContain(ended);
    }
  });
});

describe("who may", () => {
  it("is nobody with a role that is not known", async () => {
    const stranger = { ...desk, role: "VISITOR" } as unknown as Actor;
    const jobId = await createIntakeJob(desk);
    const partId = await createPart(desk, { jobId });
    const calls = [
      () => addPart(stranger, jobId, SKILLET, NOW),
      () => changePart(stranger, partId, SKILLET, NOW),
      () => removePart(stranger, partId, NOW),
      () => handBackPart(stranger, partId, NOW),
      () => takeBackPart(stranger, partId, NOW),
      () => makePlan(stranger, { partId, ...CHOICE }, NOW),
      () => overruleVerdict(stranger, partId, REASON, NOW),
      () => partById(stranger, partId),
      () => partTag(stranger, partId, NOW),
    ];
    for (const call of calls) await expect(call()).rejects.toMatchObject({ code: "not-allowed" });
    expect((await partById(desk, partId)).state).toBe("TAKEN_IN");
  });
});
