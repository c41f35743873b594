import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { boardOf, dipOf, HOUR_MS, jobOf, loadOf, MIDNIGHT_MS } from "../../test/support/board-of";
import { bestByBruteForce } from "../../test/support/brute-force";
import { FULL, shopBoard, SMALL } from "../../test/support/boards";
import {
  type Board,
  compareScores,
  faultsOf,
  improveSchedule,
  lowerBound,
  type MipSolver,
  type Score,
  solveExactly,
  Timeline,
  timesOf,
} from "./index";
import { loadSolver } from "./solver";

let solver: MipSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const prove = (board: Board, searchTries?: number) =>
  solveExactly(board, {
    timeLimitS: 30,
    solver,
    ...(searchTries === undefined ? {} : { searchTries }),
  });

const at = (hour: number): number => MIDNIGHT_MS + hour * HOUR_MS;

/** A day of eleven hourly steps with a break at noon, two tanks on one supply, three dips. */
const tiny: fc.Arbitrary<Board> = fc
  .record({
    hands: fc.integer({ min: 1, max: 2 }),
    ratingA: fc.integer({ min: 3, max: 8 }),
    noon: fc.boolean(),
    chain: fc.boolean(),
    dips: fc.array(
      fc.record({
        hours: fc.integer({ min: 1, max: 3 }),
        more: fc.integer({ min: 0, max: 1 }),
        currentA: fc.integer({ min: 1, max: 3 }),
        both: fc.boolean(),
        release: fc.integer({ min: 0, max: 3 }),
        due: fc.option(fc.integer({ min: 2, max: 9 })),
        weight: fc.constantFrom(1, 3),
        bench: fc.constantFrom(0, 60),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  })
  .map(({ hands, ratingA, noon, chain, dips }) =>
    boardOf({
      horizonMs: at(11),
      stepMs: HOUR_MS,
      hands,
      loadMinutes: 60,
      openings: noon
        ? [
            { fromMs: at(0), untilMs: at(4) },
            { fromMs: at(5), untilMs: at(11) },
          ]
        : [{ fromMs: at(0), untilMs: at(11) }],
      tanks: [
        { id: "t0", supplyId: "s0" },
        { id: "t1", supplyId: "s0" },
      ],
      supplies: [{ id: "s0", ratingA }],
      jobs: dips.map((dip, index) => jobOf(`d${index}`, dip.due, dip.weight)),
      dips: dips.map((dip, index) => ({
        ...dipOf(`d${index}`, dip, ["t0"], {
          releaseMs: at(dip.release),
          benchMinutes: dip.bench,
          afterId: chain && index === 1 ? "d0" : null,
        }),
        tanks: new Map([
          ["t0", { hours: dip.hours, currentA: dip.currentA }],
          ...(dip.both
            ? [["t1", { hours: dip.hours + dip.more, currentA: dip.currentA }] as const]
            : []),
        ]),
      })),
    }),
  );

const expectBound = (board: Board, best: Score): void => {
  const bound = lowerBound(board);
  expect(bound.weightedTardinessH).toBeLessThanOrEqual(best.weightedTardinessH + 1e-9);
  expect(bound.makespanH).toBeLessThanOrEqual(best.makespanH + 1e-9);
};

describe("solveExactly", () => {
  it("finds what trying every start and every pull finds; no bound is above it", () => {
    fc.assert(
      fc.property(tiny, (board) => {
        const best = bestByBruteForce(board);
        if (best.unplaced > 0) return;
        const { status, schedule, score } = prove(board, 0);
        if (score.unplaced > 0) return;
        expect(status).toBe("OPTIMAL");
        expect(compareScores(score, best)).toBe(0);
        for (const load of schedule.loads)
          expect(faultsOf(board, schedule.loads, load)).toEqual([]);
        expectBound(board, best);
      }),
      { numRuns: 40, seed: 20_261_125 },
    );
  });

  it.each([5, 6, 21])("agrees with every order and tank of the five dips of board %i", (seed) => {
    const board = { ...shopBoard({ ...SMALL, parts: 4 }, seed), hands: 99, share: () => null };
    const found = prove(board, 500);
    expect(found.status).toBe("OPTIMAL");
    const best = bestOfSequences(board);
    expect(compareScores(found.score, best)).toBe(0);
    expectBound(board, best);
  });

  it.each([4, 8])("proves what the search finds on board %i", (seed) => {
    const board = shopBoard(SMALL, seed);
    const { status, score, bound } = prove(board);
    expect(status).toBe("OPTIMAL");
    expect(bound.weightedTardinessH).toBeCloseTo(score.weightedTardinessH, 6);
    expect(bound.makespanH).toBeCloseTo(score.makespanH, 6);
    expectBound(board, score);
  });

  it("keeps booked loads together, and lets what waits join them", () => {
    const needs = { hours: 4, currentA: 1 };
    const board = boardOf({
      stepMs: HOUR_MS,
      jobs: [jobOf("a", 30), jobOf("b", 30), jobOf("c", 30)],
      dips: ["a", "b", "c"].map((id) => dipOf(id, needs)),
      share: (_, dipIds) => ({ hours: 3 + dipIds.length, currentA: 1 }),
    });
    const booked = {
      ...loadOf("run", 10, 15, { needs: { hours: 5, currentA: 1 } }),
      dipIds: ["a", "b"],
    };
    const found = solveExactly(board, { timeLimitS: 20, solver, current: [booked] });
    expect(found).toMatchObject({
      status: "OPTIMAL",
      score: { unplaced: 0, weightedTardinessH: 0, makespanH: 6 },
      schedule: { loads: [{ id: "run", dipIds: ["a", "b", "c"] }] },
    });
    const apart = { ...board, share: () => null };
    const alone = solveExactly(apart, { timeLimitS: 20, solver, current: [booked] });
    expect(alone).toMatchObject({ status: "OPTIMAL", score: { makespanH: 9 } });
  });

  it("says that a board is too large", () => {
    const board = shopBoard({ ...FULL, parts: 60 }, 1);
    const { status, schedule } = solveExactly(board, { timeLimitS: 1, solver, searchTries: 0 });
    expect(status).toBe("TOO_LARGE");
    expect(schedule.unplaced).toEqual([]);
  });

  it("gives the best it has and a bound when time runs out", () => {
    const { status, score, bound } = solveExactly(shopBoard(SMALL, 24), {
      timeLimitS: 0.02,
      solver,
      searchTries: 0,
    });
    expect(status).toBe("FOUND");
    expect(bound.weightedTardinessH).toBeLessThanOrEqual(score.weightedTardinessH);
  });
});

describe("lowerBound", () => {
  it("is never above what the search finds", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const board = shopBoard(SMALL, seed);
        const options = { seed: 1, now: () => 0, budgetMs: 1, maxTries: 200 };
        expectBound(board, improveSchedule(board, [], options).score);
      }),
      { numRuns: 60 },
    );
  });

  const needs = (hours: number, currentA = 1) => ({ hours, currentA });

  it.each([
    ["LONGEST", 9, [dipOf("a", needs(9)), dipOf("b", needs(2), ["t1"])]],
    ["RELEASE", 12, [dipOf("a", needs(9)), dipOf("b", needs(2), ["t1"], { releaseMs: at(10) })]],
    ["TANKS", 9, [4, 6, 3, 5].map((hours) => dipOf(`d${hours}`, needs(hours), ["t0", "t1"]))],
    [
      "ENERGY",
      12,
      [4, 4, 4].map((hours, index) => dipOf(`d${index}`, needs(hours, 6), ["t0", "t1"])),
    ],
    [
      "HANDS",
      13.75,
      [0, 1, 2, 3].map((index) =>
        dipOf(`d${index}`, needs(1), ["t0", "t1"], { benchMinutes: 200 }),
      ),
    ],
  ] as const)("names what binds the makespan: %s", (kind, hours, dips) => {
    const board = boardOf({
      tanks: [
        { id: "t0", supplyId: "s0" },
        { id: "t1", supplyId: "s0" },
      ],
      supplies: [{ id: "s0", ratingA: 6 }],
      hands: kind === "HANDS" ? 1 : 99,
      dips,
      jobs: dips.map(({ id }) => jobOf(id)),
    });
    const { makespanH, makespanBy } = lowerBound(board);
    expect(makespanBy).toBe(kind);
    expect(makespanH).toBeCloseTo(hours, 6);
  });

  it("knows that not all can come first", () => {
    const dips = [2, 3, 4].map((hours) => dipOf(`d${hours}`, needs(hours)));
    const board = boardOf({ dips, jobs: dips.map(({ id }) => jobOf(id, 4)) });
    // Done after 2, 5 and 9 hours in the best order: 1 + 5 hours late.
    expect(lowerBound(board)).toMatchObject({ weightedTardinessH: 6, tardinessBy: "QUEUE" });
  });
});

/** The best of placing dips one after another, over all orders and tanks; right where hands never run short. */
function bestOfSequences(board: Board): Score {
  let best: Score | null = null;
  const timeline = new Timeline(board);
  const left = new Set(board.dips);
  const done: { dueMs: number | null; weight: number; jobId: string; doneMs: number }[] = [];
  const outOf = new Map<string, number>();
  const place = (): void => {
    if (left.size === 0) {
      const byJob = board.jobs.map(({ id, dueMs, weight }) => {
        const doneMs = Math.max(
          0,
          ...done.filter(({ jobId }) => jobId === id).map((one) => one.doneMs),
        );
        return dueMs === null ? 0 : (weight * Math.max(0, doneMs - dueMs)) / HOUR_MS;
      });
      const lastMs = Math.max(...done.map(({ doneMs }) => doneMs));
      const score = {
        unplaced: 0,
        weightedTardinessH: byJob.reduce((sum, late) => sum + late, 0),
        makespanH: (lastMs - board.nowMs) / HOUR_MS,
      };
      if (!best || compareScores(score, best) < 0) best = score;
      return;
    }
    for (const dip of [...left]) {
      const from = dip.afterId === null ? 0 : outOf.get(dip.afterId);
      if (from === undefined) continue;
      left.delete(dip);
      for (const [tankId, needs] of dip.tanks) {
        const fromStep = timeline.stepAt(Math.max(board.nowMs, dip.releaseMs, from));
        const found = timeline.earliest(timeline.tankAt(tankId), needs, dip.benchMinutes, fromStep);
        if (!found) continue;
        const { endsAtMs, benchUntilMs } = timesOf(board, timeline, found, dip.benchMinutes);
        timeline.put(found);
        outOf.set(dip.id, endsAtMs);
        done.push({ dueMs: null, weight: 0, jobId: dip.jobId, doneMs: benchUntilMs });
        place();
        done.pop();
        outOf.delete(dip.id);
        timeline.take(found);
      }
      left.add(dip);
    }
  };
  place();
  return best ?? { unplaced: board.dips.length, weightedTardinessH: 0, makespanH: 0 };
}
