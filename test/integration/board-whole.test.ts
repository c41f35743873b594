import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Actor } from "@/lib/access";
import { database } from "@/lib/data/client";
import {
  applyBoard,
  type BoardChange,
  fixRun,
  freeSlots,
  joinRun,
  leaveRun,
  moveRun,
  promisePart,
  proposeBoard,
  waitingParts,
} from "@/lib/services";
import { brokenRules } from "../support/board-rules";
import { createActor, createJob, createShopWithRates } from "../support/factories-money";
import {
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

beforeEach(async () => {
  await database().run.updateMany({
    where: { state: "PLANNED" },
    data: { state: "CANCELLED", cancelledAt: MONDAY },
  });
  await database().tank.updateMany({ data: { retiredAt: MONDAY } });
  await database().part.updateMany({ data: { state: "HANDED_BACK" } });
});

const runOf = (id: string) => database().run.findUniqueOrThrow({ where: { id } });

async function bookedRun(tankId: string, startsAt: Date) {
  const part = await createPlannedSkillet(bench, tankId);
  const { runId } = await book(bench, part.id, tankId, startsAt);
  return { part, run: await runOf(runId) };
}

const moveOf = (
  run: { id: string; sequence: number },
  tankId: string,
  startsAt: Date,
): BoardChange => ({ kind: "move", runId: run.id, tankId, startsAt, sequence: run.sequence });

const placesOf = async (ids: readonly string[]) =>
  (await Promise.all(ids.map(runOf))).map(({ tankId, startsAt }) => ({ tankId, startsAt }));

describe("a change of the whole board", () => {
  it("lets two runs swap their places, and takes it all back", async () => {
    const tank = await createReadyTank();
    const tuesday = hoursAfter(MONDAY, 24);
    const first = await bookedRun(tank.id, MONDAY);
    const second = await bookedRun(tank.id, tuesday);
    const ids = [first.run.id, second.run.id];
    const before = await placesOf(ids);

    const { undo, moved } = await applyBoard(
      bench,
      [moveOf(first.run, tank.id, tuesday), moveOf(second.run, tank.id, MONDAY)],
      MONDAY,
    );
    expect(moved).toBe(2);
    expect(await placesOf(ids)).toEqual([...before].reverse());
    expect(await brokenRules()).toEqual([]);

    await applyBoard(bench, undo, MONDAY);
    expect(await placesOf(ids)).toEqual(before);
  });

  it("is refused as a whole where one of it breaks a rule, was changed since, or is fixed", async () => {
    const tank = await createReadyTank();
    const first = await bookedRun(tank.id, MONDAY);
    const second = await bookedRun(tank.id, hoursAfter(MONDAY, 24));
    const third = await bookedRun(tank.id, hoursAfter(MONDAY, 48));
    const ids = [first.run.id, second.run.id, third.run.id];
    const before = await placesOf(ids);
    const wednesday = hoursAfter(MONDAY, 48);
    const good = moveOf(first.run, tank.id, hoursAfter(MONDAY, 72));

    const clash = [good, moveOf(second.run, tank.id, wednesday)];
    await expect(applyBoard(bench, clash, MONDAY)).rejects.toMatchObject({ code: "tank-busy" });
    const old = [good, { ...moveOf(second.run, tank.id, MONDAY), sequence: 7 } as BoardChange];
    await expect(applyBoard(bench, old, MONDAY)).rejects.toMatchObject({
      code: "conflict",
      message: expect.stringContaining(`Run ${second.run.number}`) as string,
    });
    await fixRun(bench, { runId: second.run.id, fixed: true }, MONDAY);
    const fixed = [good, moveOf(second.run, tank.id, MONDAY)];
    await expect(applyBoard(bench, fixed, MONDAY)).rejects.toMatchObject({ code: "conflict" });
    expect(await placesOf(ids)).toEqual(before);
  });

  it("books what waits, joins loads, and gives the parts back when it is undone", async () => {
    const tank = await createReadyTank();
    const { run } = await bookedRun(tank.id, MONDAY);
    const joins = await createPlannedSkillet(bench, tank.id, {
      part: { lengthMm: 120, widthMm: 120, heightMm: 40, massG: 500 },
    });
    const waits = await createPlannedSkillet(bench, tank.id);

    const { undo } = await applyBoard(
      bench,
      [
        { kind: "join", runId: run.id, partIds: [joins.id] },
        {
          kind: "book",
          partIds: [waits.id],
          tankId: tank.id,
          startsAt: hoursAfter(MONDAY, 48),
          idempotencyKey: `key ${waits.id}`,
        },
      ],
      MONDAY,
    );
    expect(await database().dip.count({ where: { runId: run.id } })).toBe(2);
    const states = async () =>
      (await database().part.findMany({ where: { id: { in: [joins.id, waits.id] } } })).map(
        ({ state }) => state,
      );
    expect(await states()).toEqual(["BOOKED", "BOOKED"]);
    expect((await runOf(run.id)).expectedCurrentA).toBeGreaterThan(run.expectedCurrentA);

    await applyBoard(bench, undo, MONDAY);
    expect(await states()).toEqual(["PLANNED", "PLANNED"]);
    expect((await runOf(run.id)).treatHours).toBeCloseTo(run.treatHours, 9);
    expect(await brokenRules()).toEqual([]);
  });

  it("meets many others at once without a rule broken", async () => {
    const tank = await createReadyTank();
    const other = await createReadyTank();
    const first = await bookedRun(tank.id, MONDAY);
    const second = await bookedRun(tank.id, hoursAfter(MONDAY, 24));
    const swap = [
      moveOf(first.run, tank.id, hoursAfter(MONDAY, 24)),
      moveOf(second.run, tank.id, MONDAY),
    ];
    const answers = await Promise.allSettled([
      applyBoard(bench, swap, MONDAY),
      applyBoard(bench, [...swap].reverse(), MONDAY),
      moveRun(bench, { runId: first.run.id, startsAt: hoursAfter(MONDAY, 24) }, MONDAY),
      moveRun(bench, { runId: second.run.id, startsAt: MONDAY, tankId: other.id }, MONDAY),
    ]);
    for (const answer of answers) {
      if (answer.status === "rejected") expect(answer.reason).toHaveProperty("name", "Refusal");
    }
    expect(answers.some(({ status }) => status === "fulfilled")).toBe(true);
    expect(await brokenRules()).toEqual([]);
  });
});

describe("a move to another tank", () => {
  it("plans the parts anew for it, and back again", async () => {
    const tank = await createReadyTank();
    const other = await createReadyTank();
    const { run, part } = await bookedRun(tank.id, MONDAY);

    const moved = await moveRun(
      bench,
      { runId: run.id, startsAt: MONDAY, tankId: other.id, sequence: run.sequence },
      MONDAY,
    );
    const there = await runOf(run.id);
    expect(there).toMatchObject({ tankId: other.id, supplyId: other.supplyId, sequence: 1 });
    const plans = await database().plan.findMany({ where: { partId: part.id } });
    expect(plans.map(({ tankId }) => tankId)).toEqual([tank.id, other.id]);

    const { startsAtMs, tankId } = moved.before;
    await moveRun(bench, { runId: run.id, startsAt: new Date(startsAtMs), tankId }, MONDAY);
    expect(await runOf(run.id)).toMatchObject({ tankId: tank.id, sequence: 2 });
  });

  it("is refused where that tank does not take it", async () => {
    const tank = await createReadyTank();
    const bare = await createReadyTank({ anode: null });
    const { run } = await bookedRun(tank.id, MONDAY);
    await expect(
      moveRun(bench, { runId: run.id, startsAt: MONDAY, tankId: bare.id }, MONDAY),
    ).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("a stretched run", () => {
  it("holds its tank longer, and is refused shorter than its plans ask or with nobody there", async () => {
    const tank = await createReadyTank();
    const { run } = await bookedRun(tank.id, MONDAY);
    const until = (hours: number) => ({
      runId: run.id,
      startsAt: MONDAY,
      endsAt: hoursAfter(run.endsAt, hours),
    });
    await moveRun(bench, until(24), MONDAY);
    expect((await runOf(run.id)).endsAt).toEqual(hoursAfter(run.endsAt, 24));
    expect((await runOf(run.id)).treatHours).toBeCloseTo(run.treatHours, 9);
    await expect(moveRun(bench, until(-1), MONDAY)).rejects.toMatchObject({ code: "invalid" });
    const midnight = { ...until(0), endsAt: new Date("2030-01-08T23:00:00Z") };
    await expect(moveRun(bench, midnight, MONDAY)).rejects.toMatchObject({ code: "invalid" });
  });
});

describe("a load that is joined and left", () => {
  it("is as it was, and is not emptied", async () => {
    const tank = await createReadyTank();
    const { run, part } = await bookedRun(tank.id, MONDAY);
    const small = { lengthMm: 120, widthMm: 120, heightMm: 40, massG: 500 };
    const joins = await createPlannedSkillet(bench, tank.id, { part: small });
    await joinRun(bench, { runId: run.id, partIds: [joins.id], sequence: 0 }, MONDAY);
    await joinRun(bench, { runId: run.id, partIds: [joins.id] }, MONDAY);
    expect(await database().dip.count({ where: { runId: run.id } })).toBe(2);
    const shares = await database().dip.findMany({ where: { runId: run.id } });
    expect(shares.reduce((sum, { chargeShare }) => sum + chargeShare, 0)).toBeCloseTo(1, 9);

    await leaveRun(bench, { runId: run.id, partIds: [joins.id] }, MONDAY);
    expect(await runOf(run.id)).toMatchObject({ endsAt: run.endsAt });
    await expect(
      leaveRun(bench, { runId: run.id, partIds: [part.id] }, MONDAY),
    ).rejects.toMatchObject({ code: "conflict" });
  });
});

describe("a better board", () => {
  it("is proposed and applied: the job that is due first goes first, a fixed run stays", async () => {
    const tank = await createReadyTank();
    const late = await bookedRun(tank.id, hoursAfter(MONDAY, 72));
    const early = await bookedRun(tank.id, MONDAY);
    const due = async (run: { id: string }, day: string, rush = false) => {
      const [dip] = await database().dip.findMany({
        where: { runId: run.id },
        include: { part: true },
      });
      await database().job.update({
        where: { id: dip?.part.jobId ?? "" },
        data: { promisedFor: new Date(`${day}T00:00:00Z`), rush },
      });
    };
    await due(late.run, "2030-01-08", true);
    await due(early.run, "2030-01-18");
    const waits = await createPlannedSkillet(bench, tank.id);

    const wishes = { withWaiting: true, otherTanks: false };
    const proposal = await proposeBoard(bench, wishes, MONDAY);
    expect(proposal.before.unplaced).toBe(1);
    expect(proposal.after).toMatchObject({ unplaced: 0, weightedTardinessH: 0 });
    expect(proposal.proven).toBe("OPTIMAL");
    expect(proposal.changes.some(({ loadId }) => loadId === late.run.id)).toBe(true);
    await applyBoard(bench, proposal.apply, MONDAY);
    expect((await database().part.findUniqueOrThrow({ where: { id: waits.id } })).state).toBe(
      "BOOKED",
    );
    expect((await runOf(late.run.id)).endsAt < new Date("2030-01-08T23:00:00Z")).toBe(true);
    expect(await brokenRules()).toEqual([]);

    await fixRun(bench, { runId: late.run.id, fixed: true }, MONDAY);
    const again = await proposeBoard(bench, wishes, MONDAY);
    expect(again.changes.map(({ loadId }) => loadId)).not.toContain(late.run.id);
  }, 60_000);

  it("may use other tanks, where it plans the parts anew", async () => {
    const tank = await createReadyTank();
    await createReadyTank();
    const { id: jobId } = await createJob(bench);
    await database().job.update({
      where: { id: jobId },
      data: { promisedFor: new Date("2030-01-07T00:00:00Z") },
    });
    const parts = await Promise.all(
      [1, 2].map(() => createPlannedSkillet(bench, tank.id, { jobId })),
    );
    const proposal = await proposeBoard(bench, { withWaiting: true, otherTanks: true }, MONDAY);
    await applyBoard(bench, proposal.apply, MONDAY);
    const runs = await database().run.findMany({
      where: { dips: { some: { partId: { in: parts.map(({ id }) => id) } } } },
    });
    expect(runs.length === 1 || new Set(runs.map(({ tankId }) => tankId)).size === 2).toBe(true);
    expect(await brokenRules()).toEqual([]);
  }, 60_000);
});

describe("a part that waits", () => {
  it("is promised the first free slot, with why not earlier, and offered free times in every tank", async () => {
    const tank = await createReadyTank();
    const other = await createReadyTank({ anode: null });
    await bookedRun(tank.id, MONDAY);
    const waits = await createPlannedSkillet(bench, tank.id);

    const { promise, notTaken, part } = await promisePart(bench, waits.id, MONDAY);
    expect(part.mark).toBe(waits.mark);
    expect(promise.slot?.loads[0]?.tankId).toBe(tank.id);
    const [why] = promise.whyNotEarlier;
    expect(why?.heldBack.map(({ kind }) => kind)).toContain("TANK_BUSY");
    expect(notTaken.map(({ tankId }) => tankId)).toContain(other.id);

    const offers = await freeSlots(bench, waits.id, MONDAY);
    const own = offers.find(({ tankId }) => tankId === tank.id);
    expect(own).toMatchObject({ planned: true, why: null });
    const [slot] = own?.slots ?? [];
    expect(slot?.startsAtMs).toBe(promise.slot?.loads[0]?.startsAtMs);
    await book(bench, waits.id, tank.id, new Date(slot?.startsAtMs ?? 0));
    expect(await waitingParts(bench, MONDAY)).toEqual([]);
  });

  it("goes in end for end: both ends are booked, never at the same time", async () => {
    const tank = await createReadyTank();
    const long = await createPlannedSkillet(bench, tank.id);
    await database().plan.updateMany({ where: { partId: long.id }, data: { dipCount: 2 } });
    const first = await book(bench, long.id, tank.id);
    expect((await waitingParts(bench, MONDAY)).map(({ partId }) => partId)).toEqual([long.id]);
    const { endsAt } = await runOf(first.runId);
    const second = await book(bench, long.id, tank.id, hoursAfter(MONDAY, 48));
    expect(await waitingParts(bench, MONDAY)).toEqual([]);
    const other = await createReadyTank();
    await database().run.update({ where: { id: second.runId }, data: { tankId: other.id } });
    await expect(
      database().run.update({
        where: { id: second.runId },
        data: { startsAt: hoursAfter(endsAt, -1), endsAt: hoursAfter(endsAt, 3) },
      }),
    ).rejects.toThrow(/part_in_one_place/);
    const dips = await database().dip.findMany({ where: { partId: long.id } });
    expect(dips.map(({ end }) => end).sort()).toEqual([1, 2]);
  });
});
