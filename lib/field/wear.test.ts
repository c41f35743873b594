import { describe, expect, it } from "vitest";
import { sceneFrom } from "@/test/support/field-scenes";
import { linear, solvePolarised } from "./polarised";
import { prepare } from "./potential";
import type { Scene } from "./scene";
import { wearByHeight } from "./wear";

const plates = sceneFrom([0.24, 0.2, 0.2], [12, 10, 10], (x) =>
  x < 0.02 ? 0 : x > 0.22 ? 1 : "bath",
);
/** A part whose upper half is near the anode and whose lower half is far. */
const stepped = sceneFrom([0.32, 0.16, 0.32], [16, 8, 16], (x, _y, z) =>
  x < 0.02 ? 0 : x > (z < 0.16 ? 0.3 : 0.08) ? 1 : "bath",
);
/** The anode reaches from a quarter to three quarters of the height only. */
const short = sceneFrom([0.24, 0.16, 0.16], [12, 8, 8], (x, _y, z) =>
  x < 0.02 ? (z > 0.04 && z < 0.12 ? 0 : "insulator") : x > 0.22 ? 1 : "bath",
);

const primary = (scene: Scene): Float64Array =>
  prepare(scene).solve({ conductivitySPerM: 1, potentialsV: [1, 0] }, { tolerance: 1e-9 })
    .faceCurrentA;
const polarised = (scene: Scene, ohmM2: number): Float64Array =>
  solvePolarised(prepare(scene), {
    ...{ conductivitySPerM: 1, currentA: 1 },
    ...{ part: linear(1e-6), anode: linear(ohmM2) },
  }).faceCurrentA;

describe("wear by height", () => {
  it("is even between plates, in as many bands as are asked for from floor to level", () => {
    const bands = wearByHeight(plates, primary(plates), 0, 5);
    expect(bands.map(({ fromM }) => fromM)).toEqual(
      [0, 0.04, 0.08, 0.12, 0.16].map((height) => expect.closeTo(height, 12) as number),
    );
    bands.forEach(({ fromM, toM, ratio }) => {
      expect(toM - fromM).toBeCloseTo(0.04, 12);
      expect(ratio).toBeCloseTo(1, 6);
    });
  });

  it("is more beside the nearer half, and evens out where the anode holds much against the current", () => {
    const [low, high] = wearByHeight(stepped, primary(stepped), 0, 2);
    expect(high?.ratio).toBeGreaterThan(1.15);
    expect(low?.ratio).toBeLessThan(0.85);
    const held = wearByHeight(stepped, polarised(stepped, 1), 0, 2);
    expect(held[1]?.ratio).toBeGreaterThan(1);
    expect(held[1]?.ratio).toBeLessThan(1.08);
  });

  it.each([2, 4, 8])("has a mean by area of 1 over %i bands", (count) => {
    for (const scene of [plates, stepped]) {
      const bands = wearByHeight(scene, polarised(scene, 0.01), 0, count);
      // The anode is a plate over the whole height: every band has as much of it.
      expect(bands).toHaveLength(count);
      const mean = bands.reduce((sum, { ratio }) => sum + ratio / count, 0);
      expect(mean).toBeCloseTo(1, 7);
    }
  });

  it("weighs bands by their area: a band that is half full counts half", () => {
    // Sixteen rows in three bands of 5, 6 and 5 rows.
    const bands = wearByHeight(stepped, primary(stepped), 0, 3);
    const mean = [5, 6, 5].reduce(
      (sum, rows, at) => sum + (rows / 16) * (bands[at]?.ratio ?? 0),
      0,
    );
    expect(mean).toBeCloseTo(1, 7);
    expect(bands[0]?.ratio).toBeLessThan(bands[2]?.ratio ?? 0);
  });

  it("is current over true area, whatever the cells' sides are", () => {
    // The lower half of the plate stands for three times its area, as a wavy sheet does.
    const { faces, grid } = plates;
    const row = (face: number): number => Math.floor((faces.cell[face] ?? 0) / (grid.nx * grid.ny));
    const areaM2 = faces.areaM2.map((area, face) => (row(face) < 5 ? 3 * area : area));
    const current = areaM2.map((area, face) => -area * (row(face) < 5 ? 10 : 30));
    const bands = wearByHeight({ ...plates, faces: { ...faces, areaM2 } }, current, 0, 2);
    // (3·10 + 1·30)/4 = 15 A/m² on the mean.
    expect(bands.map(({ ratio }) => ratio)).toEqual([
      expect.closeTo(10 / 15, 9),
      expect.closeTo(2, 9),
    ]);
  });

  it("leaves out bands without anode", () => {
    const bands = wearByHeight(short, primary(short), 0, 4);
    expect(bands.map(({ fromM }) => fromM)).toEqual([
      expect.closeTo(0.04, 12),
      expect.closeTo(0.08, 12),
    ]);
    bands.forEach(({ ratio }) => expect(ratio).toBeCloseTo(1, 6));
  });

  it("refuses a number of bands that cannot be", () => {
    expect(() => wearByHeight(plates, primary(plates), 0, 0)).toThrow(/bands must be from 1/);
    expect(() => wearByHeight(plates, primary(plates), 0, 101)).toThrow(RangeError);
  });
});
