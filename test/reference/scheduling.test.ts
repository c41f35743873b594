import { readFileSync } from "node:fs";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import {
  type Board,
  buildSchedule,
  improveSchedule,
  lowerBound,
  type MipSolver,
  type Score,
  solveExactly,
} from "@/lib/scheduling";
import { loadSolver } from "@/lib/scheduling/solver";
import { boardOf, dipOf, HOUR_MS, jobOf, MIDNIGHT_MS } from "../support/board-of";
import { shopBoard, SMALL } from "../support/boards";

/*
 * Textbook machines are boards that never shut, whose loads take no time to load and pull, with hands for everybody and
 * a step of an hour. "From memory" says that the text was not at hand.
 */
const ONE_HOUR = { stepMs: HOUR_MS };
const tankNames = (count: number): string[] =>
  Array.from({ length: count }, (_, index) => `t${index}`);

/** Jobs of so many hours on so many equal tanks. */
function machines(count: number, hours: readonly number[], own: Partial<Board> = {}): Board {
  const ids = tankNames(count);
  return boardOf({
    ...ONE_HOUR,
    tanks: ids.map((id) => ({ id, supplyId: "s0" })),
    dips: hours.map((length, index) => dipOf(`j${index}`, { hours: length, currentA: 1 }, ids)),
    jobs: hours.map((_, index) => jobOf(`j${index}`)),
    ...own,
  });
}

const improve = (board: Board, maxTries = 3000) =>
  improveSchedule(board, [], { seed: 1, now: () => 0, budgetMs: 1, maxTries });

let solver: MipSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

function* permutations(items: readonly number[]): Generator<readonly number[]> {
  if (items.length === 0) yield [];
  for (const [index, item] of items.entries()) {
    const rest = items.filter((_, other) => other !== index);
    for (const tail of permutations(rest)) yield [item, ...tail];
  }
}

describe("one tank", () => {
  it("Smith 1956: Σ wC is least in order of weight over hours (section 13 of the facts, by brute force)", () => {
    const hours = [3, 1, 2, 4];
    const weights = [6, 4, 1, 4];
    // Due at the beginning, a job is late by exactly when it is done.
    const jobs = weights.map((weight, index) => jobOf(`j${index}`, 0, weight));
    const board = machines(1, hours, { jobs });
    const { score, schedule } = improve(board);
    expect(score.weightedTardinessH).toBe(70);
    expect(schedule.loads.flatMap(({ dipIds }) => dipIds)).toEqual(["j1", "j0", "j3", "j2"]);
    expect(solveExactly(board, { timeLimitS: 20, solver, searchTries: 0 })).toMatchObject({
      status: "OPTIMAL",
      score: { weightedTardinessH: 70 },
    });
  });

  it("Smith's rule holds for any hours and weights", () => {
    const row = fc.record({
      hours: fc.integer({ min: 1, max: 9 }),
      weight: fc.integer({ min: 1, max: 9 }),
    });
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 7 }), (rows) => {
        const jobs = rows.map(({ weight }, index) => jobOf(`j${index}`, 0, weight));
        const board = machines(
          1,
          rows.map(({ hours }) => hours),
          { jobs },
        );
        let doneH = 0;
        let sum = 0;
        for (const { hours, weight } of [...rows].sort(
          (a, b) => b.weight / b.hours - a.weight / a.hours,
        )) {
          doneH += hours;
          sum += weight * doneH;
        }
        expect(improve(board, 400).score.weightedTardinessH).toBe(sum);
      }),
      { numRuns: 40 },
    );
  });

  it("Jackson 1955: if anything is in time for all, the order of due dates is (from memory)", () => {
    const job = fc.record({
      hours: fc.integer({ min: 1, max: 6 }),
      slack: fc.integer({ min: 0, max: 5 }),
    });
    fc.assert(
      fc.property(fc.array(job, { minLength: 1, maxLength: 12 }), (rows) => {
        let doneH = 0;
        const jobs = rows.map(({ hours, slack }, index) =>
          jobOf(`j${index}`, (doneH += hours) + slack),
        );
        const board = machines(
          1,
          rows.map(({ hours }) => hours),
          { jobs: jobs.reverse() },
        );
        expect(buildSchedule(board, []).score.weightedTardinessH).toBe(0);
      }),
    );
  });

  it("Moore and Hodgson 1968: fewest late jobs (textbook example from memory, checked by brute force)", () => {
    const hours = [10, 3, 4, 8, 10, 6];
    const due = [15, 6, 9, 23, 20, 30];
    // A job that is late counts the same however late: its hours are past a wall that nothing is placed behind.
    const lateOf = (order: readonly number[]): number => {
      let doneH = 0;
      return order.filter((job) => (doneH += hours[job] ?? 0) > (due[job] ?? 0)).length;
    };
    const fewest = Math.min(...[...permutations([0, 1, 2, 3, 4, 5])].map(lateOf));
    expect(mooreHodgson(hours, due)).toBe(fewest);
    expect(fewest).toBe(2);
    // What the rule keeps is in time for the engine too; with any job more, something is late.
    const kept = [1, 2, 3, 5];
    const lateness = (jobs: readonly number[]): number =>
      improve(
        machines(
          1,
          jobs.map((job) => hours[job] ?? 1),
          {
            jobs: jobs.map((job, index) => jobOf(`j${index}`, due[job] ?? null)),
          },
        ),
        500,
      ).score.weightedTardinessH;
    expect(lateness(kept)).toBe(0);
    for (const more of [0, 4]) expect(lateness([...kept, more])).toBeGreaterThan(0);
  });

  it("Carlier 1982: min r + Σp + min q bounds one machine with heads and tails (from memory)", () => {
    // Heads are releases; tails are hours on the bench, where everybody has hands of their own.
    const rows = [
      { head: 10, hours: 5, tail: 7 },
      { head: 13, hours: 6, tail: 26 },
      { head: 11, hours: 7, tail: 24 },
      { head: 20, hours: 4, tail: 21 },
      { head: 30, hours: 3, tail: 8 },
      { head: 0, hours: 6, tail: 17 },
      { head: 30, hours: 2, tail: 0 },
    ];
    const board = machines(1, [], {
      dips: rows.map(({ head, hours, tail }, index) =>
        dipOf(`j${index}`, { hours, currentA: 1 }, ["t0"], {
          releaseMs: MIDNIGHT_MS + head * HOUR_MS,
          benchMinutes: tail * 60,
        }),
      ),
      jobs: rows.map((_, index) => jobOf(`j${index}`)),
    });
    const set = [1, 2, 3].flatMap((index) => rows[index] ?? []);
    const byHand =
      Math.min(...set.map(({ head }) => head)) +
      set.reduce((sum, { hours }) => sum + hours, 0) +
      Math.min(...set.map(({ tail }) => tail));
    expect(byHand).toBe(49);
    let best = Number.POSITIVE_INFINITY;
    for (const order of permutations(rows.map((_, index) => index))) {
      let freeH = 0;
      let lastH = 0;
      for (const index of order) {
        const { head, hours, tail } = rows[index] ?? { head: 0, hours: 0, tail: 0 };
        freeH = Math.max(freeH, head) + hours;
        lastH = Math.max(lastH, freeH + tail);
      }
      best = Math.min(best, lastH);
    }
    const bound = lowerBound(board).makespanH;
    expect(bound).toBeGreaterThanOrEqual(byHand);
    expect(bound).toBeLessThanOrEqual(best);
    expect(improve(board).score.makespanH).toBe(best);
    const proven = solveExactly(board, { timeLimitS: 20, solver, searchTries: 10 });
    expect(proven).toMatchObject({ status: "OPTIMAL", score: { makespanH: best } });
  });
});

/** The rule itself: by due date, throwing out the longest so far whenever one would be late. */
function mooreHodgson(hours: readonly number[], due: readonly number[]): number {
  const order = hours.map((_, job) => job).sort((a, b) => (due[a] ?? 0) - (due[b] ?? 0));
  let kept: number[] = [];
  for (const job of order) {
    kept.push(hours[job] ?? 0);
    const doneH = kept.reduce((sum, own) => sum + own, 0);
    if (doneH > (due[job] ?? 0)) {
      const longest = Math.max(...kept);
      kept = kept.filter((_, index) => index !== kept.indexOf(longest));
    }
  }
  return hours.length - kept.length;
}

describe("equal tanks side by side (Graham 1966, 1969; section 13 of the facts, by exhaustion)", () => {
  it.each([
    { tanks: 2, hours: [3, 3, 2, 2, 2], byRule: 7, best: 6 },
    { tanks: 4, hours: [7, 7, 6, 6, 5, 5, 4, 4, 4], byRule: 15, best: 12 },
    { tanks: 3, hours: [5, 5, 4, 4, 3, 3, 3], byRule: 11, best: 9 },
    { tanks: 3, hours: [1, 1, 1, 1, 1, 1, 3], byRule: 5, best: 3, inOrder: true },
  ])("$hours on $tanks: the rule alone takes $byRule h, the search $best h", (textbook) => {
    const { tanks, hours, byRule, best, inOrder } = textbook;
    expect(byList(tanks, inOrder ? hours : [...hours].sort((a, b) => b - a))).toBe(byRule);
    expect(byRule / best).toBeLessThanOrEqual(
      (inOrder ? 2 - 1 / tanks : 4 / 3 - 1 / (3 * tanks)) + 1e-9,
    );
    const board = machines(tanks, hours);
    expect(improve(board).score.makespanH).toBe(best);
    expect(lowerBound(board).makespanH).toBeLessThanOrEqual(best);
    const proven = solveExactly(board, { timeLimitS: 20, solver, searchTries: 0 });
    expect(proven).toMatchObject({ status: "OPTIMAL", score: { makespanH: best } });
  });

  it("no schedule of the rules is past Graham's bounds of the best", () => {
    const hours = fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 4 }), hours, (tanks, own) => {
        const board = machines(tanks, own);
        const best = improve(board, 300).score.makespanH;
        const { makespanH } = buildSchedule(board, []).score;
        expect(makespanH).toBeLessThanOrEqual((4 / 3 - 1 / (3 * tanks)) * best + 1e-9);
      }),
      { numRuns: 40 },
    );
  });
});

/** Each job on the machine that is free first. */
function byList(tanks: number, hours: readonly number[]): number {
  const free = Array.from({ length: tanks }, () => 0);
  for (const own of hours) {
    const first = free.indexOf(Math.min(...free));
    free[first] = (free[first] ?? 0) + own;
  }
  return Math.max(...free);
}

describe("two stages (Johnson 1954; section 13 of the facts, checked against the optimum)", () => {
  const jobs = [
    [5, 2],
    [1, 6],
    [9, 7],
    [3, 8],
    [10, 4],
  ] as const;

  it("one tank and then one pair of hands: 30 h, in the order 2, 4, 3, 5, 1", () => {
    expect(johnson(jobs)).toEqual([1, 3, 2, 4, 0]);
    expect(twoStages(jobs, johnson(jobs))).toBe(30);
    const orders = [...permutations([0, 1, 2, 3, 4])].map((order) => twoStages(jobs, order));
    expect(Math.min(...orders)).toBe(30);
    /*
     * On the board a finished part leaves its tank only to be worked on at once, so a part waits in its tank for the
     * hands: a flow line without a shelf between. Johnson's value is then a bound, and a line without a shelf
     * (Gilmore and Gomory 1964, from memory) has an optimum of its own, found here over all orders.
     */
    const noShelf = [...permutations([0, 1, 2, 3, 4])].map((order) => withoutShelf(jobs, order));
    const board = machines(1, [], {
      hands: 1,
      dips: jobs.map(([tank, bench], index) =>
        dipOf(`j${index}`, { hours: tank, currentA: 1 }, ["t0"], { benchMinutes: 60 * bench }),
      ),
      jobs: jobs.map((_, index) => jobOf(`j${index}`)),
    });
    const best = Math.min(...noShelf);
    expect(best).toBeGreaterThanOrEqual(30);
    expect(improve(board).score.makespanH).toBe(best);
    const proven = solveExactly(board, { timeLimitS: 30, solver, searchTries: 10 });
    expect(proven).toMatchObject({ status: "OPTIMAL", score: { makespanH: best } });
  });

  it("with a tank for each part nothing blocks, and Johnson's 30 h need the first stage alone", () => {
    // First stages one after another are releases in Johnson's order; the hands are the one machine behind them.
    let doneH = 0;
    const dips = johnson(jobs).map((job) => {
      const [tank, bench] = jobs[job] ?? [0, 0];
      const releaseMs = MIDNIGHT_MS + doneH * HOUR_MS;
      doneH += tank;
      const own = { releaseMs, benchMinutes: 60 * bench };
      return dipOf(`j${job}`, { hours: tank, currentA: 1 }, tankNames(5), own);
    });
    const board = machines(5, [], { hands: 1, dips, jobs: dips.map(({ id }) => jobOf(id)) });
    expect(improve(board).score.makespanH).toBe(30);
  });
});

type TwoStages = readonly (readonly [number, number])[];

/** Short first stages first, by them; then the others, by falling second stages. */
function johnson(jobs: TwoStages): number[] {
  const all = jobs.map(([first, second], job) => ({ first, second, job }));
  const early = all.filter(({ first, second }) => first < second).sort((a, b) => a.first - b.first);
  const late = all
    .filter(({ first, second }) => first >= second)
    .sort((a, b) => b.second - a.second);
  return [...early, ...late].map(({ job }) => job);
}

function twoStages(jobs: TwoStages, order: readonly number[]): number {
  let first = 0;
  let second = 0;
  for (const job of order) {
    const [a, b] = jobs[job] ?? [0, 0];
    first += a;
    second = Math.max(first, second) + b;
  }
  return second;
}

/** The same where a part stays in the first stage until the second is free. */
function withoutShelf(jobs: TwoStages, order: readonly number[]): number {
  let leavesFirst = 0;
  let leavesSecond = 0;
  for (const job of order) {
    const [a, b] = jobs[job] ?? [0, 0];
    leavesFirst = Math.max(leavesFirst + a, leavesSecond);
    leavesSecond = leavesFirst + b;
  }
  return leavesSecond;
}

type Optimum = Score & { readonly seed: number; readonly dips: number };

describe("thirty boards of 8 parts and 3 tanks, proven by HiGHS (npm run bench:boards -- --prove)", () => {
  const optima = JSON.parse(
    readFileSync(new URL("./board-optima.json", import.meta.url), "utf8"),
  ) as Optimum[];

  it("the search is best in at least 27 and never over 3 % off", { timeout: 120_000 }, () => {
    expect(optima.map(({ seed }) => seed)).toEqual(
      Array.from({ length: 30 }, (_, index) => index + 1),
    );
    const gaps = optima.map((best) => {
      const board = shopBoard(SMALL, best.seed);
      expect(board.dips).toHaveLength(best.dips);
      const { score } = improve(board, 10_000);
      expect(score.unplaced).toBe(0);
      const bound = lowerBound(board);
      expect(bound.weightedTardinessH).toBeLessThanOrEqual(best.weightedTardinessH + 1e-6);
      const isLate = best.weightedTardinessH > 1e-6;
      if (!isLate) expect(score.weightedTardinessH).toBeLessThan(1e-6);
      const gap = isLate
        ? score.weightedTardinessH / best.weightedTardinessH - 1
        : score.makespanH / best.makespanH - 1;
      // Nothing is better than a proven best.
      expect(gap).toBeGreaterThan(-1e-6);
      return gap;
    });
    expect(gaps.filter((gap) => gap < 1e-6).length).toBeGreaterThanOrEqual(27);
    expect(Math.max(...gaps)).toBeLessThan(0.03);
  });
});
