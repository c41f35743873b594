import { describe, expect, it } from "vitest";
import type { FieldLook } from "@/lib/field";
import { areaShares, hoursBetween } from "./summary";

/** Four triangles of 0.5 m² of a part, one of them dry, and one of an anode. */
const ONE = [0, 0, 0, 1, 0, 0, 0, 1, 0];
const look = {
  electrodes: [
    { kind: "ANODE", id: "a", name: "a" },
    { kind: "PART", id: "p", name: "p" },
  ],
  surface: {
    corners: Float32Array.from([...ONE, ...ONE, ...ONE, ...ONE, ...ONE]),
    ratio: Float32Array.from([2, 1, 0.1, Number.NaN, Number.NaN]),
    electrode: Uint8Array.from([1, 1, 1, 1, 0]),
    inside: new Uint8Array(5),
  },
} satisfies Pick<FieldLook, "electrodes" | "surface">;

/** Twice the current takes half the time. */
const hours = (ratio: number): number => 6 / ratio;

describe("what a picture says in figures", () => {
  it("shares the wet area out over the steps, and the dry over the whole", () => {
    const { shares, dryShare } = areaShares(look, hours, [4, 12]);
    [1 / 3, 1 / 3, 1 / 3].forEach((share, step) => expect(shares[step]).toBeCloseTo(share, 6));
    expect(dryShare).toBeCloseTo(1 / 4, 6);
  });

  it("loses no area, however the steps lie", () => {
    for (const limits of [[1], [100], [3, 6, 60]]) {
      const { shares } = areaShares(look, hours, limits);
      expect(shares).toHaveLength(limits.length + 1);
      expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 6);
    }
  });

  it("chooses the steps for all but the quickest and slowest twentieth of both sides", () => {
    const side = (from: number, to: number) => ({
      areaM2: 1,
      quantiles: Array.from({ length: 21 }, (_, at) => from + ((to - from) * at) / 20),
    });
    const part = { outside: side(1, 2), inside: side(0.1, 0.5) };
    const [quick, slow] = hoursBetween({ parts: [part] } as unknown as FieldLook, hours);
    expect(quick).toBeCloseTo(6 / 1.95, 6);
    expect(slow).toBeCloseTo(6 / 0.12, 6);
  });
});
