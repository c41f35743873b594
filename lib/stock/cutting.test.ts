import { describe, expect, it } from "vitest";
import {
  checkCutting,
  cutBar,
  cuttingProofText,
  type CuttingProblem,
  leastNewBars,
  quickCutting,
  solveCutting,
} from ".";

const problem: CuttingProblem = {
  pieces: [
    { lengthMm: 1400, count: 3 },
    { lengthMm: 700, count: 1 },
  ],
  bars: [
    { id: "new", kind: "BAR", lengthMm: 3000, count: 4, worthPerMm: 1 },
    { id: "end", kind: "OFFCUT", lengthMm: 800, count: 1, worthPerMm: 1 },
  ],
  kerfMm: 2,
  leastOffcutMm: 150,
};
const [bar] = problem.bars;
const nobody = () => ({ status: "STOPPED", values: null, bound: 0 }) as const;

describe("one bar", () => {
  const cut = (pieces: readonly number[]) => bar && cutBar(bar, pieces, problem);

  it("gives its pieces, chips, and what is left", () => {
    expect(cut([1400, 1400])).toMatchObject({ chipsMm: 4, offcutMm: 196, scrapMm: 0 });
    expect(cut([1400, 1500])).toMatchObject({ chipsMm: 4, offcutMm: 0, scrapMm: 96 });
  });

  it("turns to chips what is no longer than the last cut, and holds no more than it is long", () => {
    expect(cut([1499, 1499])).toMatchObject({ chipsMm: 2, offcutMm: 0, scrapMm: 0 });
    expect(cut([1498, 1499])).toMatchObject({ chipsMm: 3, offcutMm: 0, scrapMm: 0 });
    expect(cut([3000])).toMatchObject({ chipsMm: 0, offcutMm: 0, scrapMm: 0 });
    expect(cut([1500, 1499])).toBeNull();
  });
});

describe("the quick plan", () => {
  it("takes from offcuts first", () => {
    const plan = quickCutting(problem) ?? [];
    expect(plan.map(({ barId, pieces }) => [barId, pieces])).toEqual([
      ["end", [700]],
      ["new", [1400, 1400]],
      ["new", [1400]],
    ]);
    expect(checkCutting(problem, plan)).toEqual([]);
    expect(leastNewBars(problem)).toBe(2);
  });

  it("is none where there is not enough", () => {
    expect(quickCutting({ ...problem, bars: [] })).toBeNull();
  });

  it("refuses what is no length", () => {
    const pieces = [{ lengthMm: 0, count: 1 }];
    expect(() => quickCutting({ ...problem, pieces })).toThrow(RangeError);
    expect(() => quickCutting({ ...problem, kerfMm: -1 })).toThrow("kerf");
    expect(() => quickCutting({ ...problem, leastOffcutMm: 0 })).toThrow("offcut");
  });
});

describe("the check", () => {
  const plan = quickCutting(problem) ?? [];
  const change = (by: object, at = 1) =>
    checkCutting(
      problem,
      plan.map((one, index) => (index === at ? { ...one, ...by } : one)),
    ).join("; ");

  it("finds what does not add up", () => {
    expect(change({ pieces: [1400] })).toMatch(/missing.*does not add up/);
    expect(change({ lengthMm: 2999 })).toMatch("not on the rack");
    expect(change({ chipsMm: 6, offcutMm: 194 })).toMatch("another number of cuts");
    expect(change({ chipsMm: 0, offcutMm: 200 })).toMatch("another number of cuts");
    expect(change({ offcutMm: 0, scrapMm: 196 })).toMatch("throws away");
    expect(change({ offcutMm: 100, scrapMm: 96 })).toMatch("not worth keeping");
    expect(change({ pieces: [] })).toMatch("taken for nothing");
    expect(change({ scrapMm: -1, offcutMm: 197 })).toMatch("less than nothing");
    expect(checkCutting(problem, [...plan, ...plan]).join()).toMatch(/too many.*more often/);
  });
});

describe("how far to trust a plan", () => {
  it("is said as it is", () => {
    const quick = solveCutting(problem, { timeLimitS: 1, solver: nobody });
    expect(quick).toMatchObject({ proof: "FOUND", leastNewBars: 2 });
    expect(cuttingProofText(quick)).toMatch(/fewer new bars: that is proven/);
    expect(cuttingProofText({ ...quick, proof: "PROVEN" })).toMatch(/^Proven best/);
    expect(cuttingProofText({ ...quick, leastNewBars: 1 })).toMatch(/at most 100 % off/);
    const none = solveCutting({ ...problem, bars: [] }, { timeLimitS: 1, solver: nobody });
    expect(cuttingProofText(none)).toMatch(/^No way was found/);
    expect(cuttingProofText({ ...none, proof: "PROVEN" })).toMatch(/^Proven: these pieces do not/);
  });

  it("needs no model where one whole bar gives all", () => {
    const one = {
      ...problem,
      pieces: [{ lengthMm: 900, count: 2 }],
      bars: problem.bars.slice(0, 1),
    };
    expect(solveCutting(one, { timeLimitS: 1, solver: nobody }).proof).toBe("PROVEN");
  });
});
