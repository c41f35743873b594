import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import type { PartInput } from "@/lib/data";
import { database } from "@/lib/data/client";
import {
  addPart,
  addPhoto,
  cancelJob,
  changePart,
  closeJob,
  customerList,
  jobById,
  jobList,
  makePlan,
  overruleVerdict,
  partById,
  photoImage,
  removePart,
  reopenJob,
  takeInJob,
} from "@/lib/services";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";
import { createReadyTank } from "../support/factories-tanks";

const SKILLET: PartInput = {
  description: "skillet",
  quantity: 1,
  notes: "",
  shape: "PAN",
  lengthMm: 260,
  widthMm: 260,
  heightMm: 50,
  wallMm: 4,
  massG: 2200,
  areaOverrideM2: null,
  material: "CAST_IRON",
  hardnessHrc: null,
  tensileMpa: null,
  rustGrade: "C",
  coatings: [],
  hazards: [],
  goal: "RUST_ONLY",
};
const NOBODY = { name: "Nobody Yet", email: "", phone: "", address: "", notes: "" };
const JOB = { customer: NOBODY, promisedFor: null, notes: "" };

let owner: Actor;
let desk: Actor;
let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  owner = await createActor("OWNER");
  desk = await createActor("FRONT_DESK");
  bench = await createActor("BENCH");
});

async function job(): Promise<string> {
  return takeInJob(desk, JOB, NOW);
}

describe("taking in", () => {
  it("numbers jobs without a gap when twenty come in at once", async () => {
    const before = await database().counter.findUniqueOrThrow({ where: { name: "job" } });
    const ids = await Promise.all(Array.from({ length: 20 }, job));
    const rows = await database().job.findMany({ where: { id: { in: ids } } });
    const numbers = rows.map(({ number }) => number).sort((a, b) => a - b);
    expect(numbers).toEqual(Array.from({ length: 20 }, (_, index) => before.value + 1 + index));
  });

  it("gives the number back when the job cannot be taken in", async () => {
    const before = await database().counter.findUniqueOrThrow({ where: { name: "job" } });
    const unknown = { ...JOB, customer: { id: "00000000-0000-4000-8000-000000000000" } };
    await expect(takeInJob(desk, unknown, NOW)).rejects.toMatchObject({ code: "not-found" });
    const after = await database().counter.findUniqueOrThrow({ where: { name: "job" } });
    expect(after.value).toBe(before.value);
  });

  it("marks parts A, B, C though they are added at once, and never twice the same", async () => {
    const jobId = await job();
    await Promise.all(Array.from({ length: 6 }, () => addPart(desk, jobId, SKILLET, NOW)));
    const { parts } = await jobById(desk, jobId);
    expect(parts.map(({ mark }) => mark)).toEqual(["A", "B", "C", "D", "E", "F"]);
  });

  it("refuses a promise for a day that is over, in the shop's own zone", async () => {
    const yesterday = new Date("2030-01-06T00:00:00Z");
    const refused = takeInJob(desk, { ...JOB, promisedFor: yesterday }, NOW);
    await expect(refused).rejects.toMatchObject({
      code: "invalid",
      fields: { promisedFor: /later/ },
    });
  });

  it("refuses measures that cannot be and keeps nothing", async () => {
    const jobId = await job();
    const part = { ...SKILLET, lengthMm: -4 };
    await expect(addPart(desk, jobId, part, NOW)).rejects.toMatchObject({
      code: "invalid",
      message: expect.stringContaining("-4"),
    });
    expect((await jobById(desk, jobId)).parts).toEqual([]);
  });

  it("finds jobs by number, customer and part, and pages the rest", async () => {
    const jobId = await job();
    const { number } = await jobById(desk, jobId);
    await addPart(desk, jobId, { ...SKILLET, description: "brass-free weathercock" }, NOW);
    const find = async (search: string) =>
      (await jobList(desk, { which: "open", search, page: 1 }, NOW)).rows.map(({ id }) => id);
    expect(await find(`#${number}`)).toEqual([jobId]);
    expect(await find("weathercock")).toEqual([jobId]);
    expect(await find("no such thing")).toEqual([]);
    const last = await jobList(desk, { which: "all", search: "", page: 999 }, NOW);
    expect(last.page).toBe(last.pages);
    expect((await customerList(desk, { search: "nobody", page: 1 })).total).toBeGreaterThan(0);
  });
});

describe("verdict", () => {
  it("is decided and kept with its reasons when the part comes in", async () => {
    const id = await addPart(desk, await job(), { ...SKILLET, material: "ALUMINIUM" }, NOW);
    const part = await partById(desk, id);
    expect(part.state).toBe("REFUSED");
    expect(part.verdict?.findings).toMatchObject({ outcome: "REFUSE", absolute: true });
  });

  it("is made anew when the part is changed, and the earlier one stays on record", async () => {
    const id = await addPart(desk, await job(), { ...SKILLET, material: "UNKNOWN" }, NOW);
    await changePart(desk, id, SKILLET, NOW);
    expect((await partById(desk, id)).state).toBe("TAKEN_IN");
    expect(await database().verdict.count({ where: { partId: id } })).toBe(2);
  });

  it("can be overruled by the owner with a reason, unless it is absolute", async () => {
    const jobId = await job();
    const gate = await addPart(desk, jobId, { ...SKILLET, material: "GALVANISED_STEEL" }, NOW);
    const pan = await addPart(desk, jobId, { ...SKILLET, material: "ALUMINIUM" }, NOW);
    const reason = "The customer wants the zinc gone and has said so in writing.";
    await expect(overruleVerdict(desk, gate, reason, NOW)).rejects.toMatchObject({
      code: "not-allowed",
    });
    await expect(overruleVerdict(owner, gate, "no", NOW)).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(overruleVerdict(owner, pan, reason, NOW)).rejects.toThrow(/Aluminium dissolves/);
    await overruleVerdict(owner, gate, reason, NOW);
    expect(await partById(desk, gate)).toMatchObject({
      state: "TAKEN_IN",
      verdict: { overruled: true, overruleReason: reason },
    });
  });
});

describe("plan", () => {
  const choice = { goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;

  it("is refused while there is no tank, and says so", async () => {
    const partId = await addPart(desk, await job(), SKILLET, NOW);
    await database().tank.updateMany({ data: { retiredAt: NOW } });
    await expect(makePlan(bench, { partId, ...choice }, NOW)).rejects.toThrow(/no tank yet/);
    expect(await database().plan.count({ where: { partId } })).toBe(0);
  });

  it("is kept whole with its figures, and planned again as the next version", async () => {
    await createReadyTank();
    const partId = await addPart(desk, await job(), SKILLET, NOW);
    await makePlan(bench, { partId, ...choice }, NOW);
    await makePlan(bench, { partId, ...choice, goal: "STRIP_TO_METAL" }, NOW);
    const part = await partById(bench, partId);
    expect(part).toMatchObject({ state: "PLANNED", goal: "STRIP_TO_METAL", plan: { version: 2 } });
    const { plan } = part;
    expect(plan?.hoursP90).toBeGreaterThan(plan?.hoursP50 ?? Infinity);
    expect(plan?.result.figures.currentA.value).toBeCloseTo(plan?.currentA ?? 0, 9);
  });

  it("is not made for a part that must not go in", async () => {
    const partId = await addPart(desk, await job(), { ...SKILLET, hazards: ["HELD_FUEL"] }, NOW);
    await expect(makePlan(bench, { partId, ...choice }, NOW)).rejects.toThrow(/verdict/);
  });
});

describe("photos", () => {
  it("are turned, shrunk and stripped of the camera's notes", async () => {
    const partId = await addPart(desk, await job(), SKILLET, NOW);
    const camera = await sharp({
      create: { width: 3000, height: 2000, channels: 3, background: "#a33" },
    })
      .withExif({ IFD0: { Artist: "somebody" } })
      .jpeg()
      .toBuffer();
    const id = await addPhoto(bench, { partId, moment: "BEFORE", caption: "", bytes: camera }, NOW);
    const kept = await sharp(await photoImage(desk, id, "full")).metadata();
    const small = await sharp(await photoImage(desk, id, "thumb")).metadata();
    expect(kept).toMatchObject({ format: "jpeg", width: 1600 });
    expect(kept.exif).toBeUndefined();
    expect(small.width).toBe(320);
  });

  it("refuse what is not a picture, and what is empty or too large", async () => {
    const partId = await addPart(desk, await job(), SKILLET, NOW);
    const files = [
      new TextEncoder().encode("<svg"),
      new Uint8Array(0),
      new Uint8Array(11 * 1024 * 1024),
    ];
    for (const bytes of files) {
      const upload = { partId, moment: "BEFORE", caption: "", bytes } as const;
      await expect(addPhoto(bench, upload, NOW)).rejects.toMatchObject({ code: "invalid" });
    }
    expect(await database().photo.count({ where: { partId } })).toBe(0);
  });
});

describe("ending a job", () => {
  it("hands finished parts back, and can be taken up again", async () => {
    const jobId = await job();
    const partId = await addPart(desk, jobId, SKILLET, NOW);
    await database().part.update({ where: { id: partId }, data: { state: "FINISHED" } });
    await closeJob(desk, jobId, NOW);
    expect((await partById(desk, partId)).state).toBe("HANDED_BACK");
    await expect(closeJob(desk, jobId, NOW)).rejects.toMatchObject({ code: "conflict" });
    await reopenJob(desk, jobId, NOW);
    expect((await jobById(desk, jobId)).state).toBe("OPEN");
  });

  it("is refused while a part is booked or at work", async () => {
    const jobId = await job();
    const partId = await addPart(desk, jobId, SKILLET, NOW);
    await database().part.update({ where: { id: partId }, data: { state: "IN_BATH" } });
    await expect(cancelJob(desk, jobId, NOW)).rejects.toThrow(/part A/);
    await expect(removePart(desk, partId, NOW)).rejects.toMatchObject({ code: "conflict" });
    await expect(changePart(desk, partId, SKILLET, NOW)).rejects.toMatchObject({
      code: "conflict",
    });
  });
});

describe("who may", () => {
  it("is nobody with a role that is not known", async () => {
    const stranger = { ...desk, role: "VISITOR" } as unknown as Actor;
    const jobId = await job();
    const partId = await addPart(desk, jobId, SKILLET, NOW);
    const plan = { partId, goal: "RUST_ONLY", saltGrade: "SODA_ASH_LIGHT" } as const;
    const calls = [
      () => takeInJob(stranger, JOB, NOW),
      () => addPart(stranger, jobId, SKILLET, NOW),
      () => changePart(stranger, partId, SKILLET, NOW),
      () => removePart(stranger, partId, NOW),
      () => makePlan(stranger, plan, NOW),
      () => closeJob(stranger, jobId, NOW),
      () => jobById(stranger, jobId),
      () => partById(stranger, partId),
      () => jobList(stranger, { which: "all", search: "", page: 1 }, NOW),
      () => customerList(stranger, { search: "", page: 1 }),
    ];
    for (const call of calls) await expect(call()).rejects.toMatchObject({ code: "not-allowed" });
  });
});
