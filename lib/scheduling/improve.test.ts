import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { boardOf, dipOf, HOUR_MS, jobOf, loadOf, MIDNIGHT_MS } from "../../test/support/board-of";
import { bookedBoard, shopBoard, SMALL } from "../../test/support/boards";
import {
  type Board,
  type BoardLoad,
  buildSchedule,
  compareScores,
  faultsOf,
  improveSchedule,
  type Schedule,
  scoreOf,
} from "./index";

const never = (): number => 0;
const improve = (board: Board, current: readonly BoardLoad[] = [], maxTries = 300, seed = 1) =>
  improveSchedule(board, current, { seed, now: never, budgetMs: 1, maxTries });

/** Each dip in one load or without a place, nothing broken, what shares allowed to. */
function expectSound(board: Board, current: readonly BoardLoad[], schedule: Schedule): void {
  const { loads, unplaced } = schedule;
  const placed = [...loads.flatMap(({ dipIds }) => dipIds), ...unplaced];
  expect([...placed].sort()).toEqual(board.dips.map(({ id }) => id).sort());
  expect(new Set(loads.map(({ id }) => id)).size).toBe(loads.length);
  for (const load of loads) {
    expect(faultsOf(board, loads, load)).toEqual([]);
    const booked = current.find(({ id }) => id === load.id);
    if (booked?.dipIds.length === load.dipIds.length && booked.tankId === load.tankId) {
      expect(load.needs).toEqual(booked.needs);
      continue;
    }
    const [only] = load.dipIds;
    const alone = board.dips.find(({ id }) => id === only)?.tanks.get(load.tankId);
    const allowed =
      load.dipIds.length === 1 ? alone : board.share(load.tankId, [...load.dipIds].sort());
    expect(load.needs).toEqual(allowed);
  }
  for (const booked of current) {
    const own = loads.find(({ id }) => id === booked.id);
    if (own) expect(own.dipIds).toEqual(expect.arrayContaining([...booked.dipIds]));
    else expect(unplaced).toEqual(expect.arrayContaining([...booked.dipIds]));
  }
}

const size = fc.record({
  parts: fc.integer({ min: 1, max: 12 }),
  tanks: fc.integer({ min: 1, max: 4 }),
  days: fc.integer({ min: 3, max: 12 }),
  tanksASupply: fc.integer({ min: 1, max: 3 }),
  stepMinutes: fc.constantFrom(5, 15, 30),
});

describe("improveSchedule", () => {
  it("breaks no rule, loses no dip, and tells the score of what it made", () => {
    fc.assert(
      fc.property(size, fc.integer({ min: 1, max: 1e6 }), (own, seed) => {
        const board = shopBoard(own, seed);
        const built = buildSchedule(board, []);
        const { schedule, score } = improve(board);
        expectSound(board, [], schedule);
        expect(score).toEqual(scoreOf(board, schedule));
        expect(compareScores(score, built.score)).toBeLessThanOrEqual(0);
      }),
      { numRuns: 60 },
    );
  });

  it("is never worse than what was booked, and keeps each booked load one load", () => {
    fc.assert(
      fc.property(
        size,
        fc.integer({ min: 1, max: 1e6 }),
        fc.integer({ min: 0, max: 12 }),
        (own, seed, some) => {
          const { board, current: all } = bookedBoard(own, seed);
          const current = all.filter((_, index) => index < some);
          const withFirst = current.filter(({ dipIds }) =>
            dipIds.every((dipId) => {
              const after = board.dips.find(({ id }) => id === dipId)?.afterId ?? null;
              return after === null || current.some((load) => load.dipIds.includes(after));
            }),
          );
          const { schedule, score, before } = improve(board, withFirst, 100);
          expectSound(board, withFirst, schedule);
          expect(compareScores(score, before)).toBeLessThanOrEqual(0);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("gives the same for the same seed and tries", () => {
    const board = shopBoard(SMALL, 3);
    expect(improve(board, [], 500, 4)).toEqual(improve(board, [], 500, 4));
  });

  it("ends when it is told to, and says what it found on the way", () => {
    const board = shopBoard(SMALL, 10);
    let clock = 0;
    const progress: number[] = [];
    const { tries, score } = improveSchedule(board, [], {
      seed: 1,
      now: () => (clock += 1),
      budgetMs: 200,
      onProgress: ({ score: better }) => progress.push(better.weightedTardinessH),
    });
    expect(tries).toBeLessThan(2000);
    expect(progress.at(-1)).toBeCloseTo(score.weightedTardinessH, 9);
    const cancelled = improveSchedule(board, [], {
      seed: 1,
      now: never,
      budgetMs: 1,
      cancelled: () => true,
    });
    expect(cancelled.tries).toBe(0);
    expect(() => improveSchedule(board, [], { seed: 1, now: never, budgetMs: -1 })).toThrow(
      RangeError,
    );
  });

  it("has nothing to do on an empty board", () => {
    expect(improve(boardOf())).toEqual({
      schedule: { loads: [], unplaced: [] },
      score: { unplaced: 0, weightedTardinessH: 0, makespanH: 0 },
      before: { unplaced: 0, weightedTardinessH: 0, makespanH: 0 },
      moves: [],
      tries: 0,
    });
  });
});

describe("what happens to booked loads", () => {
  const needs = { hours: 4, currentA: 1 };
  const at = (hour: number): number => MIDNIGHT_MS + hour * HOUR_MS;

  it("does not touch a booked board that is as good as it can be", () => {
    const board = boardOf({
      jobs: [jobOf("a", 30), jobOf("b", 30)],
      dips: [dipOf("a", needs), dipOf("b", needs, ["t0"], { releaseMs: at(12) })],
    });
    const current = [loadOf("a", 7, 11, { needs }), loadOf("b", 12, 16, { needs })];
    expect(improve(board, current, 1000).moves).toEqual([]);
  });

  it("moves what is in the way of a rush job, and no more", () => {
    const board = boardOf({
      jobs: [jobOf("a", 40), jobOf("rush", 5, 3)],
      dips: [dipOf("a", needs), dipOf("rush", needs)],
    });
    const current = [loadOf("a", 0, 4, { needs })];
    const { moves, score, before } = improve(board, current, 200);
    expect(score.weightedTardinessH).toBe(0);
    expect(before.unplaced).toBe(1);
    expect(moves).toEqual([
      {
        loadId: "new-rush",
        from: null,
        to: { tankId: "t0", startsAtMs: at(0) },
        joinedDipIds: ["rush"],
      },
      {
        loadId: "a",
        from: { tankId: "t0", startsAtMs: at(0) },
        to: { tankId: "t0", startsAtMs: at(4) },
        joinedDipIds: [],
      },
    ]);
  });

  it("lets a waiting dip join a booked load where that is better", () => {
    const board = boardOf({
      jobs: [jobOf("a", 5), jobOf("b", 5)],
      dips: [dipOf("a", needs), dipOf("b", needs)],
      share: () => ({ hours: 5, currentA: 2 }),
    });
    const { moves, score } = improve(board, [loadOf("a", 0, 4, { needs })], 300);
    expect(score).toEqual({ unplaced: 0, weightedTardinessH: 0, makespanH: 5 });
    expect(moves).toMatchObject([{ loadId: "a", joinedDipIds: ["b"] }]);
  });

  it("mends what breaks a rule", () => {
    const board = boardOf({ jobs: [], dips: [dipOf("a", needs), dipOf("b", needs)] });
    const current = [loadOf("a", 0, 4, { needs }), loadOf("b", 2, 6, { needs })];
    const { schedule, moves } = improve(board, current, 100);
    expectSound(board, [], schedule);
    expect(moves).toHaveLength(1);
  });

  it("says what found no place before the horizon", () => {
    const board = boardOf({
      horizonMs: at(6),
      dips: [dipOf("a", needs), dipOf("b", needs)],
      jobs: [jobOf("a", 3), jobOf("b", 3)],
    });
    const { schedule, score } = improve(board, [], 100);
    expect(schedule.unplaced).toHaveLength(1);
    expect(score.weightedTardinessH).toBe(1 + 3);
  });
});
