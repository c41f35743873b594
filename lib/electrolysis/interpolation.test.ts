import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { monotoneCurve, solveIncreasing, type TablePoint } from "./interpolation";

describe("monotoneCurve", () => {
  it("passes through every point", () => {
    const points: TablePoint[] = [
      [0, 0],
      [1, 3],
      [2, 3],
      [5, 9],
    ];
    const curve = monotoneCurve(points);
    for (const [x, y] of points) expect(curve(x)).toBeCloseTo(y, 12);
  });

  it("keeps a straight line straight", () => {
    const line = monotoneCurve([
      [0, 1],
      [1, 3],
      [4, 9],
    ]);
    for (const x of [0.3, 1.7, 3.9]) expect(line(x)).toBeCloseTo(1 + 2 * x, 12);
  });

  it("never falls between the points of a rising table", () => {
    const steps = fc.array(
      fc.tuple(
        fc.double({ min: 0.01, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
      ),
      { minLength: 2, maxLength: 8 },
    );
    fc.assert(
      fc.property(steps, fc.double({ min: 0, max: 1, noNaN: true }), (rises, share) => {
        let [x, y] = [0, 0];
        const points = rises.map(([dx, dy]): TablePoint => [(x += dx), (y += dy)]);
        const curve = monotoneCurve(points);
        const [first, last] = [points[0]?.[0] ?? 0, points.at(-1)?.[0] ?? 0];
        const from = first + share * (last - first);
        const to = from + (last - from) / 7;
        expect(curve(to)).toBeGreaterThanOrEqual(curve(from) - 1e-9);
      }),
    );
  });

  it("refuses to leave its table, and a table that does not go forward", () => {
    const curve = monotoneCurve([
      [0, 0],
      [1, 1],
    ]);
    expect(() => curve(1.01)).toThrow("x must be from 0 to 1, got 1.01");
    expect(() => curve(Number.NaN)).toThrow(RangeError);
    expect(() => monotoneCurve([[0, 0]])).toThrow("at least 2 points");
    expect(() =>
      monotoneCurve([
        [1, 0],
        [1, 2],
      ]),
    ).toThrow("x must increase");
  });
});

describe("solveIncreasing", () => {
  it("undoes an increasing function", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 10, noNaN: true }), (x) => {
        const cube = (value: number): number => value ** 3 + value;
        expect(solveIncreasing(cube, cube(x), 0, 10)).toBeCloseTo(x, 9);
      }),
    );
  });

  it("refuses a target it cannot reach", () => {
    expect(() => solveIncreasing((x) => x, 11, 0, 10)).toThrow(
      "target must be from 0 to 10, got 11",
    );
  });
});
