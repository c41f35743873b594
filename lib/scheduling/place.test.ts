import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  boardOf,
  dipOf,
  HOUR_MS,
  jobOf,
  loadOf,
  MIDNIGHT_MS,
  MINUTE_MS,
} from "../../test/support/board-of";
import { compareScores, completions, scoreOf, stretchAt, timelineOf, timesOf } from "./index";

const at = (hour: number): number => MIDNIGHT_MS + hour * HOUR_MS;
const needs = { hours: 2, currentA: 1 };

describe("scoreOf", () => {
  const board = boardOf({
    jobs: [jobOf("a", 10, 3), jobOf("b", 20), jobOf("c")],
    dips: [dipOf("a", needs), dipOf("a2", needs, ["t0"], { jobId: "a" }), dipOf("b", needs)],
  });

  it("weighs the hours that a job's last dip is late", () => {
    const loads = [loadOf("a", 2, 4), loadOf("a2", 10, 12), loadOf("b", 15, 19)];
    expect(scoreOf(board, { loads, unplaced: [] })).toEqual({
      unplaced: 0,
      weightedTardinessH: 6,
      makespanH: 19,
    });
    expect(completions(board, { loads, unplaced: [] })).toEqual(
      new Map([
        ["a", at(12)],
        ["b", at(19)],
      ]),
    );
  });

  it("counts the bench, not the pull, as the end of a job", () => {
    const loads = [loadOf("b", 15, 19, { benchUntilMs: at(21.5) })];
    const score = scoreOf(board, { loads, unplaced: ["a", "a2"] });
    expect(score.makespanH).toBe(21.5);
    expect(score.weightedTardinessH).toBe(1.5 + 3 * (168 - 10));
    expect(score.unplaced).toBe(2);
  });

  it("counts a job that runs already, and none that has nothing to do", () => {
    const running = { ...jobOf("r", 5, 2), heldUntilMs: at(8) };
    const idle = jobOf("i", 1);
    const own = boardOf({ jobs: [running, idle] });
    expect(scoreOf(own, { loads: [], unplaced: [] }).weightedTardinessH).toBe(6);
  });
});

describe("compareScores", () => {
  const score = fc.record({
    unplaced: fc.integer({ min: 0, max: 2 }),
    weightedTardinessH: fc.integer({ min: 0, max: 3 }),
    makespanH: fc.integer({ min: 0, max: 3 }),
  });

  it("orders by places, then lateness, then end", () => {
    const best = { unplaced: 0, weightedTardinessH: 1, makespanH: 9 };
    expect(compareScores(best, { ...best, unplaced: 1, weightedTardinessH: 0 })).toBeLessThan(0);
    expect(compareScores(best, { ...best, weightedTardinessH: 2, makespanH: 1 })).toBeLessThan(0);
    expect(compareScores(best, { ...best, makespanH: 8 })).toBeGreaterThan(0);
    expect(compareScores(best, { ...best, weightedTardinessH: 1 + 1e-9 })).toBe(0);
  });

  it("is the same seen from the other side", () => {
    fc.assert(
      fc.property(score, score, (a, b) => {
        expect(Math.sign(compareScores(a, b)) + Math.sign(compareScores(b, a))).toBe(0);
      }),
    );
  });
});

describe("stretchAt", () => {
  const openings = [
    { fromMs: at(8), untilMs: at(17) },
    { fromMs: at(32), untilMs: at(41) },
  ];
  const board = boardOf({ openings, loadMinutes: 15, pullMinutes: 15 });

  it("finds what the timeline finds on an empty board", () => {
    const timeline = timelineOf(board);
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 160 }),
        fc.integer({ min: 1, max: 80 }),
        fc.constantFrom(0, 20, 45),
        (quarter, quarters, bench) => {
          const wanted = { hours: quarters / 4 - 0.05, currentA: 1 };
          const fromStep = timeline.stepAt(board.nowMs) + quarter;
          const found = timeline.earliest(0, wanted, bench, fromStep);
          const startsAtMs = timeline.msOf(fromStep);
          const own = stretchAt(board, wanted, bench, startsAtMs);
          const times = found && timesOf(board, timeline, found, bench);
          if (times?.startsAtMs === startsAtMs) expect(own).toEqual(times);
          else expect(own).toBeNull();
        },
      ),
    );
  });

  it("begins where it is told, on a step or not, and pulls on a step", () => {
    expect(stretchAt(board, needs, 30, at(9) + 5 * MINUTE_MS)).toEqual({
      startsAtMs: at(9) + 5 * MINUTE_MS,
      pullAtMs: at(11.5),
      endsAtMs: at(11.75),
      benchUntilMs: at(12.25),
    });
    expect(stretchAt(board, needs, 30, at(20))).toBeNull();
  });
});

describe("timelineOf", () => {
  it("keeps what lies on the board out of the way", () => {
    const board = boardOf({ dips: [dipOf("a", needs)] });
    const timeline = timelineOf(board, [loadOf("a", 1, 3)]);
    const found = timeline.earliest(0, needs, 0, timeline.stepAt(board.nowMs));
    expect(found && timeline.msOf(found.startStep)).toBe(at(3));
  });
});
