import { rectangleFits } from "@/lib/tanks";
import { describe, expect, it } from "vitest";

/*
 * W. B. Carver, Amer. Math. Monthly 64 (1957) 114: when a rectangle lies in another. The checks are special cases
 * that follow from plain geometry, so that they do not lean on the formula they test.
 */
describe("a rectangle in a rectangle, Carver 1957", () => {
  it("lets a rod in up to the diagonal", () => {
    // A rod without thickness is as long as the diagonal at most: 3, 4, 5.
    expect(rectangleFits(4.999, 1e-9, 4, 3)).toBe(true);
    expect(rectangleFits(5.001, 1e-9, 4, 3)).toBe(false);
  });

  it("lets the square in a square turned by 45° be no larger than the square", () => {
    expect(rectangleFits(1, 1, 1, 1)).toBe(true);
    expect(rectangleFits(1.001, 1.001, 1, 1)).toBe(false);
  });

  it("lets a strip in a unit square at 45° exactly when length and breadth add up to the diagonal", () => {
    // At 45° a strip p × q takes (p + q)/√2 of each side.
    const breadth = 0.2;
    const most = Math.SQRT2 - breadth;
    expect(rectangleFits(most - 1e-6, breadth, 1, 1)).toBe(true);
    expect(rectangleFits(most + 1e-6, breadth, 1, 1)).toBe(false);
  });

  it("does not let in what is larger in area, or broader than the room is wide", () => {
    expect(rectangleFits(2, 1.01, 2, 1)).toBe(false);
    expect(rectangleFits(1.2, 1.2, 10, 1)).toBe(false);
  });
});
