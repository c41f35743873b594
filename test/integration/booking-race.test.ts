import { randomUUID } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import { bookRun, cancelRun, loadRun, moveRun, offerSlots } from "@/lib/services";
import { createActor, createJob, createShopWithRates } from "../support/factories-money";
import {
  ALL_CHECKS,
  book,
  createOpeningHours,
  createPlannedSkillet,
  createReadyTank,
  hoursAfter,
  MONDAY,
} from "../support/factories-tanks";

let bench: Actor;

beforeAll(async () => {
  await createShopWithRates();
  await createOpeningHours();
  bench = await createActor("BENCH");
});

const stateOf = async (partId: string): Promise<string> =>
  (await database().part.findUniqueOrThrow({ where: { id: partId } })).state;

describe("the race for a tank", () => {
  it("lets exactly one of fifty callers have the slot, and refuses forty-nine with tank-busy", async () => {
    const tank = await createReadyTank();
    const { id: jobId } = await createJob(bench);
    const parts = await Promise.all(
      Array.from({ length: 50 }, () => createPlannedSkillet(bench, tank.id, { jobId })),
    );

    const answers = await Promise.allSettled(parts.map(({ id }) => book(bench, id, tank.id)));

    const won = answers.filter((answer) => answer.status === "fulfilled");
    const lost = answers.filter((answer) => answer.status === "rejected");
    expect(won).toHaveLength(1);
    expect(lost).toHaveLength(49);
    for (const { reason } of lost) expect(reason).toMatchObject({ code: "tank-busy" });
    expect(await database().run.count({ where: { tankId: tank.id } })).toBe(1);
    const states = await Promise.all(parts.map(({ id }) => stateOf(id)));
    expect(states.filter((state) => state === "BOOKED")).toHaveLength(1);
    expect(states.filter((state) => state === "PLANNED")).toHaveLength(49);
  }, 90_000);

  it("leaves no gap in the run numbers for those who lost", async () => {
    const numbers = await database().run.findMany({ orderBy: { number: "asc" } });
    expect(numbers.map(({ number }) => number)).toEqual(numbers.map((_, index) => index + 1));
  });

  it("gives one part one booking, however many book it at once in free tanks of time", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const days = [0, 1, 2, 3, 4].map((day) => hoursAfter(MONDAY, 24 * day));

    const answers = await Promise.allSettled(
      days.map((startsAt) => book(bench, part.id, tank.id, startsAt)),
    );

    expect(answers.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    expect(await database().run.count({ where: { tankId: tank.id } })).toBe(1);
  });

  it("gives a repeat under the same key the first booking, one after the other and at once", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const booking = {
      partIds: [part.id],
      tankId: tank.id,
      startsAt: MONDAY,
      notes: "",
      idempotencyKey: randomUUID(),
    };

    const atOnce = await Promise.all([1, 2, 3].map(() => bookRun(bench, booking, MONDAY)));
    const later = await bookRun(bench, booking, hoursAfter(MONDAY, 1));

    expect(new Set([...atOnce, later].map(({ runId }) => runId)).size).toBe(1);
  });
});

describe("booking", () => {
  it("lets one load go in the moment another comes out", async () => {
    const tank = await createReadyTank();
    const first = await createPlannedSkillet(bench, tank.id);
    const second = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, first.id, tank.id);
    const { endsAt } = await database().run.findUniqueOrThrow({ where: { id: runId } });

    await expect(book(bench, second.id, tank.id, hoursAfter(endsAt, -0.02))).rejects.toMatchObject({
      code: "tank-busy",
    });
    await expect(book(bench, second.id, tank.id, endsAt)).resolves.toMatchObject({
      number: expect.any(Number) as number,
    });
  });

  it("refuses a start when nobody is there, and one in the past", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const night = new Date("2030-01-07T21:00:00Z");
    const sunday = new Date("2030-01-13T10:00:00Z");

    for (const startsAt of [night, sunday, hoursAfter(MONDAY, -1)]) {
      await expect(book(bench, part.id, tank.id, startsAt)).rejects.toMatchObject({
        code: "invalid",
      });
    }
    expect(await stateOf(part.id)).toBe("PLANNED");
  });

  it("refuses a tank that the plan does not name, and a part whose verdict says no", async () => {
    const [tank, other] = [await createReadyTank(), await createReadyTank()];
    const part = await createPlannedSkillet(bench, tank.id);
    await expect(book(bench, part.id, other.id)).rejects.toMatchObject({ code: "invalid" });

    await database().verdict.updateMany({
      where: { partId: part.id },
      data: { outcome: "REFUSE" },
    });
    await expect(book(bench, part.id, tank.id)).rejects.toMatchObject({ code: "conflict" });
  });

  it("puts several parts in one load: charges add, currents nearly, and shares of the charge come to one", async () => {
    const tank = await createReadyTank();
    const small = { lengthMm: 120, widthMm: 120, heightMm: 30, massG: 500 };
    const parts = [
      await createPlannedSkillet(bench, tank.id, { part: small }),
      await createPlannedSkillet(bench, tank.id, { part: small }),
    ];
    const { runId } = await bookRun(
      bench,
      {
        partIds: parts.map(({ id }) => id),
        tankId: tank.id,
        startsAt: MONDAY,
        notes: "",
        idempotencyKey: randomUUID(),
      },
      MONDAY,
    );
    const run = await database().run.findUniqueOrThrow({
      where: { id: runId },
      include: { dips: { include: { plan: true } } },
    });
    expect(run.dips.reduce((sum, dip) => sum + dip.chargeShare, 0)).toBeCloseTo(1, 12);
    const sum = (value: (plan: { currentA: number; chargeAh: number }) => number): number =>
      run.dips.reduce((total, dip) => total + value(dip.plan), 0);
    expect(run.targetChargeAh).toBeCloseTo(
      sum((plan) => plan.chargeAh),
      9,
    );
    // They share the way through the bath.
    expect(run.expectedCurrentA).toBeLessThan(sum((plan) => plan.currentA));
    expect(run.expectedCurrentA).toBeGreaterThan(0.6 * sum((plan) => plan.currentA));
  });

  it("offers slots that can be booked as they are", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const offer = await offerSlots(bench, { partId: part.id, withPartIds: [] }, MONDAY);
    expect(offer.hindrance).toBeNull();
    const [slot] = offer.slots;
    expect(slot).toBeDefined();
    await book(bench, part.id, tank.id, new Date(slot?.startsAtMs ?? 0));
    expect(await stateOf(part.id)).toBe("BOOKED");
  });
});

describe("moving and cancelling", () => {
  it("moves a booking, frees its old time, and refuses a taken one", async () => {
    const tank = await createReadyTank();
    const first = await createPlannedSkillet(bench, tank.id);
    const second = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, first.id, tank.id);
    const tuesday = hoursAfter(MONDAY, 24);

    await moveRun(bench, { runId, startsAt: tuesday }, MONDAY);
    const other = await book(bench, second.id, tank.id);

    await expect(
      moveRun(bench, { runId: other.runId, startsAt: tuesday }, MONDAY),
    ).rejects.toMatchObject({ code: "tank-busy" });
  });

  it("gives a cancelled booking's part and tank back, once", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, part.id, tank.id);

    await Promise.all([cancelRun(bench, runId, MONDAY), cancelRun(bench, runId, MONDAY)]);

    expect(await stateOf(part.id)).toBe("PLANNED");
    await expect(book(bench, part.id, tank.id)).resolves.toBeDefined();
    const cancelled = await database().auditEntry.count({
      where: { action: "run.cancelled", subjectId: runId },
    });
    expect(cancelled).toBe(1);
  });

  it("refuses to cancel or move what is loaded", async () => {
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(bench, part.id, tank.id);
    await loadRun(bench, { runId, acknowledged: ALL_CHECKS }, MONDAY);
    await expect(cancelRun(bench, runId, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    await expect(
      moveRun(bench, { runId, startsAt: hoursAfter(MONDAY, 24) }, MONDAY),
    ).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("who may", () => {
  it("fails closed for a role that nobody has", async () => {
    const nobody = { ...bench, role: "CUSTOMER" as Actor["role"] };
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    await expect(book(nobody, part.id, tank.id)).rejects.toMatchObject({ code: "not-allowed" });
    await expect(
      offerSlots(nobody, { partId: part.id, withPartIds: [] }, MONDAY),
    ).rejects.toMatchObject({ code: "not-allowed" });
  });

  it("lets the front desk book but not load", async () => {
    const desk = await createActor("FRONT_DESK");
    const tank = await createReadyTank();
    const part = await createPlannedSkillet(bench, tank.id);
    const { runId } = await book(desk, part.id, tank.id);
    await expect(loadRun(desk, { runId, acknowledged: ALL_CHECKS }, MONDAY)).rejects.toMatchObject({
      code: "not-allowed",
    });
  });
});
