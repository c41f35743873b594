import { describe, expect, it } from "vitest";
import { tubesAlong } from "./tubes";

describe("bars along lines", () => {
  it("keep their radius round a straight line and a bend", () => {
    const { positions, normals, indices } = tubesAlong(
      [{ points: [0, 0, 0, 1, 0, 0, 1, 1, 0] }],
      0.01,
    );
    expect(positions).toHaveLength(3 * 6 * 3);
    expect(indices).toHaveLength(2 * 6 * 6);
    for (let corner = 0; corner < 6; corner++) {
      const [x, y, z] = positions.subarray(3 * corner, 3 * corner + 3);
      expect(x).toBeCloseTo(0, 6);
      expect(Math.hypot(y ?? 0, z ?? 0)).toBeCloseTo(0.01, 6);
      expect(Math.hypot(...normals.subarray(3 * corner, 3 * corner + 3))).toBeCloseTo(1, 6);
    }
    expect(Math.max(...indices)).toBeLessThan(18);
  });

  it("meet their beginning when closed", () => {
    const { positions } = tubesAlong(
      [{ points: [0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0], closed: true }],
      0.01,
    );
    expect(positions).toHaveLength(5 * 6 * 3);
    const mid = (ring: number, axis: number): number =>
      [0, 1, 2, 3, 4, 5].reduce((sum, at) => sum + (positions[18 * ring + 3 * at + axis] ?? 0), 0) /
      6;
    for (const axis of [0, 1, 2]) expect(mid(4, axis)).toBeCloseTo(mid(0, axis), 6);
  });

  it("carry an arrow half-way where there is room for one", () => {
    const rings = (length: number): number =>
      tubesAlong([{ points: [0, 0, 0, length, 0, 0], arrow: true }], 0.01).positions.length / 18;
    expect(rings(1)).toBe(5);
    expect(rings(0.1)).toBe(2);
    const { positions } = tubesAlong([{ points: [0, 0, 0, 1, 0, 0], arrow: true }], 0.01);
    const girth = (ring: number): number =>
      Math.hypot(positions[18 * ring + 1] ?? 0, positions[18 * ring + 2] ?? 0);
    // Pointed towards the first point, where the current goes.
    expect(girth(1)).toBeCloseTo(0.01, 5);
    expect(girth(2)).toBeCloseTo(0.034, 5);
    expect(positions[18]).toBeLessThan(positions[36] ?? 0);
  });
});
