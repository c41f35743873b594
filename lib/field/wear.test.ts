import { describe, expect, it } from "vitest";
import { sceneFrom } from "@/test/support/field-scenes";
import { prepare } from "./potential";
import { wearByHeight } from "./wear";

/** An anode at x = 0 before a part that is nearer to it below half of the height. */
const stepped = (near: number) =>
  sceneFrom([0.32, 0.08, 0.16], [32, 8, 16], (x, _y, z) =>
    x < 0.02 ? 0 : x > (z > 0.08 ? 0.3 : near) ? 1 : "bath",
  );
const wearOf = (near: number, bands: number) => {
  const scene = stepped(near);
  const { faceCurrentA } = prepare(scene).solve({ conductivitySPerM: 1, potentialsV: [1, 0] });
  return wearByHeight(scene, faceCurrentA, 0, bands);
};

describe("wear of an anode by height", () => {
  it("is even before a flat part", () => {
    const bands = wearOf(0.3, 4);
    expect(bands.map(({ fromM }) => fromM)).toEqual([0, 0.04, 0.08, 0.12]);
    for (const { ratio } of bands) expect(ratio).toBeCloseTo(1, 5);
  });

  it("is more before the nearer half, and its mean is 1", () => {
    const bands = wearOf(0.1, 4);
    const [low, , , high] = bands.map(({ ratio }) => ratio);
    expect(low).toBeGreaterThan(1.25 * (high ?? 1));
    const mean = bands.reduce((sum, { ratio }) => sum + ratio / bands.length, 0);
    expect(mean).toBeCloseTo(1, 9);
  });

  it("refuses no bands", () => {
    expect(() => wearOf(0.3, 0)).toThrow(/bands/);
  });
});
