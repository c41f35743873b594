import { describe, expect, it } from "vitest";
import { solveSystem } from "./small-system";

describe("a small system", () => {
  it("is solved, also where a pivot is nothing at first", () => {
    expect(solveSystem([[4]], [10])).toEqual([2.5]);
    const found = solveSystem(
      [
        [0, 2, 1],
        [3, 0, 1],
        [1, 1, 1],
      ],
      [7, 6, 6],
    );
    [1, 2, 3].forEach((value, unknown) => expect(found[unknown]).toBeCloseTo(value, 12));
  });

  it("is refused where its rows do not tell the unknowns apart", () => {
    const alike = [
      [1, 2],
      [2, 4],
    ];
    expect(() => solveSystem(alike, [1, 2])).toThrow(/unknown 2 of 2/);
  });
});
