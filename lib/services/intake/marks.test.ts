import { describe, expect, it } from "vitest";
import { nextMark } from "./marks";

describe("nextMark", () => {
  it("goes from A to Z and on to AA", () => {
    const marks: string[] = [];
    for (let count = 0; count < 30; count += 1) marks.push(nextMark(marks));
    expect(marks.slice(0, 3)).toEqual(["A", "B", "C"]);
    expect(marks.slice(24, 29)).toEqual(["Y", "Z", "AA", "AB", "AC"]);
    expect(nextMark(["ZZ"])).toBe("AAA");
  });

  it("does not use a removed part's mark again", () => {
    expect(nextMark(["A", "C"])).toBe("D");
  });
});
