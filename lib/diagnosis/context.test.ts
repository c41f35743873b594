import { describe, expect, it } from "vitest";
import { type Cause, CAUSES } from "./causes";
import { priorOf } from "./context";
import type { Expectation } from "./expectation";
import { EXPECTED } from "./fixtures";

const prior = (change: Partial<Expectation> = {}) => priorOf({ ...EXPECTED, ...change });
const odds = (cause: Cause, change: Partial<Expectation>): number =>
  prior(change)[cause] / prior(change).AS_IT_SHOULD;

describe("priorOf", () => {
  it("adds up to 1, and nothing is impossible", () => {
    const all = prior();
    expect(CAUSES.reduce((sum, cause) => sum + all[cause], 0)).toBeCloseTo(1, 9);
    for (const cause of CAUSES) expect(all[cause]).toBeGreaterThan(0);
    expect(all.AS_IT_SHOULD).toBeGreaterThan(0.5);
  });

  it("takes the base rates where nothing is known of anode and clamps", () => {
    const unknown = { anodeWearShare: null, clampHours: null, brushedHours: null };
    expect(odds("ANODE_WORN", unknown)).toBeCloseTo(0.03 / 0.6, 9);
    expect(odds("LEAD_CORRODED", unknown)).toBeCloseTo(0.03 / 0.6, 9);
    expect(odds("LEAD_OPEN", unknown)).toBeCloseTo(0.02 / 0.6, 9);
    expect(odds("ANODE_PASSIVE", unknown)).toBeCloseTo(0.04 / 0.6, 9);
    expect(odds("BATH_WEAK", unknown)).toBeCloseTo(0.03 / 0.6, 9);
  });

  it.each<[Cause, (value: number) => Partial<Expectation>, number, number, number]>([
    // odds by value: at the middle of the rise they are known, below few, above more
    ["BATH_SPENT", (bathChargeAhPerL) => ({ bathChargeAhPerL }), 20, 0.03 * 3.03, 2],
    ["ANODE_WORN", (anodeWearShare) => ({ anodeWearShare }), 0.95, 0.03 * 3.03, 0.06],
    ["LEAD_CORRODED", (clampHours) => ({ clampHours }), 60, 0.03, 20],
    ["LEAD_OPEN", (clampHours) => ({ clampHours }), 60, 0.02, 20],
    ["ANODE_PASSIVE", (brushedHours) => ({ brushedHours }), 60, 0.04, 20],
  ])(
    "makes %s likelier the more there was of what brings it",
    (cause, of, middle, weight, width) => {
      expect(odds(cause, of(middle))).toBeCloseTo(weight / 0.6, 9);
      const [little, much] = [
        odds(cause, of(middle - 5 * width)),
        odds(cause, of(middle + 5 * width)),
      ];
      expect(little).toBeLessThan(0.5 * (weight / 0.6));
      expect(much).toBeGreaterThan(1.5 * (weight / 0.6));
      // One width above the middle of the rise: 0.731 of it, from 0.03 or 0.4 on.
      const [floor, rise] = width === 20 ? [0.4, 1.2] : [0.03, 6];
      const known = weight / (floor + rise / 2) / 0.6;
      for (const [widths, share] of [
        [1, 0.7310585786],
        [-1, 0.2689414214],
        [-2, 0.119202922],
      ] as const) {
        const expected = known * (floor + rise * share);
        expect(odds(cause, of(middle + widths * width))).toBeCloseTo(expected, 9);
      }
    },
  );
});
