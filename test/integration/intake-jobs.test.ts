import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  addCustomer,
  addPart,
  cancelJob,
  changeCustomer,
  changeJob,
  closeJob,
  customerById,
  customerList,
  jobById,
  jobList,
  jobTags,
  reopenJob,
  takeInJob,
  taxChoices,
} from "@/lib/services";
import {
  createCustomer,
  createIntakeJob,
  createPart,
  CUSTOMER,
  SKILLET,
} from "../support/factories-intake";
import { createActor, createShopWithRates, NOW } from "../support/factories-money";

const JOB = { customer: CUSTOMER, promisedFor: null, notes: "" };
const UNKNOWN = "00000000-0000-4000-8000-000000000000";

let desk: Actor;

beforeAll(async () => {
  await createShopWithRates();
  desk = await createActor("FRONT_DESK");
});

const lastNumber = async (): Promise<number> =>
  (await database().counter.findUniqueOrThrow({ where: { name: "job" } })).value;

describe("taking in", () => {
  it("numbers jobs without a gap when twenty come in at once", async () => {
    const before = await lastNumber();
    const ids = await Promise.all(Array.from({ length: 20 }, () => createIntakeJob(desk)));
    const rows = await database().job.findMany({ where: { id: { in: ids } } });
    const numbers = rows.map(({ number }) => number).sort((a, b) => a - b);
    expect(numbers).toEqual(Array.from({ length: 20 }, (_, index) => before + 1 + index));
  });

  it("gives the number back when the job cannot be taken in", async () => {
    const before = await lastNumber();
    const unknown = { ...JOB, customer: { id: UNKNOWN } };
    await expect(takeInJob(desk, unknown, NOW)).rejects.toMatchObject({ code: "not-found" });
    expect(await lastNumber()).toBe(before);
  });

  it("keeps one customer for two jobs, and writes down who took each in", async () => {
    const customerId = await createCustomer(desk, { name: "Ida Twice" });
    const first = await createIntakeJob(desk, { customerId });
    const second = await createIntakeJob(desk, { customerId });
    const { rows } = await customerList(desk, { search: "ida twice", page: 1 });
    expect(rows).toMatchObject([{ id: customerId, jobs: 2, openJobs: 2 }]);
    const noted = await database().auditEntry.findMany({
      where: { action: "job.taken-in", subjectId: { in: [first, second] } },
    });
    expect(noted.map(({ personId }) => personId)).toEqual([desk.personId, desk.personId]);
  });

  it("refuses a promise for a day that is over, in the shop's own zone", async () => {
    const yesterday = new Date("2030-01-06T00:00:00Z");
    const refused = takeInJob(desk, { ...JOB, promisedFor: yesterday }, NOW);
    await expect(refused).rejects.toMatchObject({
      code: "invalid",
      fields: { promisedFor: /later/ },
    });
  });

  it("lets the notes of a late job change without a new promise", async () => {
    const monday = new Date("2030-01-07T00:00:00Z");
    const id = await createIntakeJob(desk, { promisedFor: monday });
    const nextWeek = new Date("2030-01-14T09:00:00Z");
    await changeJob(desk, id, { promisedFor: monday, notes: "rang twice" }, nextWeek);
    expect(await jobById(desk, id)).toMatchObject({ promisedFor: monday, notes: "rang twice" });
  });
});

describe("finding", () => {
  it("finds jobs by number, customer and part", async () => {
    const jobId = await createIntakeJob(desk);
    const { number } = await jobById(desk, jobId);
    await createPart(desk, { jobId, description: "brass-free weathercock" });
    const find = async (search: string) =>
      (await jobList(desk, { which: "open", search, page: 1 }, NOW)).rows.map(({ id }) => id);
    expect(await find(`#${number}`)).toEqual([jobId]);
    expect(await find("  weathercock ")).toEqual([jobId]);
    expect(await find("no such thing")).toEqual([]);
    expect(await find("a\0b")).toEqual([]);
  });

  it("counts as due what was promised for today, tomorrow or before, while it is open", async () => {
    const customerId = await createCustomer(desk, { name: "Due Dora" });
    const on = (day: string) =>
      createIntakeJob(desk, { customerId, promisedFor: new Date(`2030-01-${day}T00:00:00Z`) });
    const [today, soon, later, closed] = [
      await on("07"),
      await on("08"),
      await on("28"),
      await on("07"),
    ];
    await closeJob(desk, closed, NOW);
    const due = await jobList(desk, { which: "due", search: "due dora", page: 1 }, NOW);
    expect(due.rows.map(({ id }) => id)).toEqual([today, soon]);
    expect(due.rows.map(({ id }) => id)).not.toContain(later);
  });

  it("shows the last page for one beyond it", async () => {
    const last = await jobList(desk, { which: "all", search: "", page: 999 }, NOW);
    expect(last.page).toBe(last.pages);
    expect(last.rows.length).toBeGreaterThan(0);
  });
});

describe("customers", () => {
  it("are changed as a whole", async () => {
    const id = await createCustomer(desk);
    await changeCustomer(desk, id, { ...CUSTOMER, phone: "555 0100" }, NOW);
    expect(await customerById(desk, id)).toMatchObject({ phone: "555 0100" });
    await expect(changeCustomer(desk, UNKNOWN, CUSTOMER, NOW)).rejects.toMatchObject({
      code: "not-found",
    });
  });
});

describe("how a customer is taxed", () => {
  it("is one of the ways of the card in force, or as usual", async () => {
    const codes = (await taxChoices(desk, NOW)).map(({ code }) => code);
    expect(codes).toEqual(["standard", "none"]);
    const id = await addCustomer(desk, { ...CUSTOMER, taxCode: "none" }, NOW);
    expect(await customerById(desk, id)).toMatchObject({ taxCode: "none" });
    await expect(
      changeCustomer(desk, id, { ...CUSTOMER, taxCode: "odd" }, NOW),
    ).rejects.toMatchObject({ code: "invalid", fields: { taxCode: expect.any(String) as string } });
    expect(await customerById(desk, id)).toMatchObject({ taxCode: "none" });
  });
});

describe("ending a job", () => {
  it("hands its parts back, and can be taken up again", async () => {
    const jobId = await createIntakeJob(desk);
    const done = await createPart(desk, { jobId });
    await createPart(desk, { jobId, description: "left as it came" });
    await createPart(desk, { jobId, material: "ALUMINIUM" });
    await database().part.update({ where: { id: done }, data: { state: "FINISHED" } });
    await closeJob(desk, jobId, NOW);
    const closed = await jobById(desk, jobId);
    expect(closed).toMatchObject({ state: "CLOSED", closedAt: NOW });
    expect(closed.parts.map(({ state }) => state)).toEqual([
      "HANDED_BACK",
      "HANDED_BACK",
      "REFUSED",
    ]);
    await expect(closeJob(desk, jobId, NOW)).rejects.toMatchObject({ code: "conflict" });
    await expect(addPart(desk, jobId, SKILLET, NOW)).rejects.toMatchObject({ code: "conflict" });
    await reopenJob(desk, jobId, NOW);
    expect(await jobById(desk, jobId)).toMatchObject({ state: "OPEN", closedAt: null });
  });

  it("is refused whole while one part is booked or at work", async () => {
    const jobId = await createIntakeJob(desk);
    const finished = await createPart(desk, { jobId });
    const bathing = await createPart(desk, { jobId });
    await database().part.update({ where: { id: finished }, data: { state: "FINISHED" } });
    await database().part.update({ where: { id: bathing }, data: { state: "IN_BATH" } });
    await expect(cancelJob(desk, jobId, NOW)).rejects.toThrow(/part B/);
    const kept = await jobById(desk, jobId);
    expect(kept.state).toBe("OPEN");
    expect(kept.parts.map(({ state }) => state)).toEqual(["FINISHED", "IN_BATH"]);
  });
});

describe("who may", () => {
  it("is nobody with a role that is not known", async () => {
    const stranger = { ...desk, role: "VISITOR" } as unknown as Actor;
    const jobId = await createIntakeJob(desk);
    const customerId = await createCustomer(desk);
    const agreed = { promisedFor: null, notes: "" };
    const before = await database().auditEntry.count();
    const calls = [
      () => addCustomer(stranger, CUSTOMER, NOW),
      () => changeCustomer(stranger, customerId, CUSTOMER, NOW),
      () => customerById(stranger, customerId),
      () => customerList(stranger, { search: "", page: 1 }),
      () => takeInJob(stranger, JOB, NOW),
      () => changeJob(stranger, jobId, agreed, NOW),
      () => closeJob(stranger, jobId, NOW),
      () => cancelJob(stranger, jobId, NOW),
      () => reopenJob(stranger, jobId, NOW),
      () => jobById(stranger, jobId),
      () => jobList(stranger, { which: "all", search: "", page: 1 }, NOW),
      () => jobTags(stranger, jobId, NOW),
    ];
    for (const call of calls) await expect(call()).rejects.toMatchObject({ code: "not-allowed" });
    expect(await database().auditEntry.count()).toBe(before);
  });
});
