import { describe, expect, it } from "vitest";
import { blockMesh, boxOf, moved } from "./mesh";
import { restingPose, type Turn } from "./poses";

const block = blockMesh([1, 1, 1], [1.3, 1.2, 1.1]);
const place = { x: 0.05, y: -0.02, lowestZ: 0.04 };

describe("a resting part", () => {
  it.each<[Turn, readonly number[]]>([
    ["xyz", [0.3, 0.2, 0.1]],
    ["xzy", [0.3, 0.1, 0.2]],
    ["yxz", [0.2, 0.3, 0.1]],
    ["yzx", [0.2, 0.1, 0.3]],
    ["zxy", [0.1, 0.3, 0.2]],
    ["zyx", [0.1, 0.2, 0.3]],
  ])("laid %s has its edges along, across and up, and stands where it should", (turn, edges) => {
    const { least, most } = boxOf(moved(block, restingPose(block, turn, 0, place)));
    edges.forEach((edge, axis) => {
      expect((most[axis] ?? 0) - (least[axis] ?? 0)).toBeCloseTo(edge, 12);
    });
    expect((least[0] + most[0]) / 2).toBeCloseTo(0.05, 12);
    expect((least[1] + most[1]) / 2).toBeCloseTo(-0.02, 12);
    expect(least[2]).toBeCloseTo(0.04, 12);
  });

  it("is raised at the end towards +x by a tilt", () => {
    const laid = moved(block, restingPose(block, "xyz", 30, place));
    const { least, most } = boxOf(laid);
    const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    expect(most[0] - least[0]).toBeCloseTo(0.3 * c + 0.1 * s, 12);
    expect(most[2] - least[2]).toBeCloseTo(0.3 * s + 0.1 * c, 12);
    const highest = laid.positions.findIndex((value, at) => at % 3 === 2 && value > most[2] - 1e-9);
    expect(laid.positions[highest - 2]).toBeGreaterThan(0.05);
  });
});
