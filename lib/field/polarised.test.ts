import { describe, expect, it } from "vitest";
import { sceneFrom } from "@/test/support/field-scenes";
import { linear, solvePolarised, tafel, wagnerNumber } from "./polarised";
import { prepare } from "./potential";
import { Cancelled } from "./scene";

/** Two plates 0.2 m apart in a trough of 0.04 m². */
const plates = () =>
  prepare(sceneFrom([0.24, 0.2, 0.2], [12, 10, 10], (x) => (x < 0.02 ? 0 : x > 0.22 ? 1 : "bath")));
/** A far and a near half of a stepped part before one anode. */
const stepped = () =>
  prepare(
    sceneFrom([0.32, 0.16, 0.16], [16, 8, 8], (x, y) =>
      x < 0.02 ? 0 : x > (y > 0.08 ? 0.3 : 0.16) ? 1 : "bath",
    ),
  );

const halves = (solved: { readonly faceCurrentA: Float64Array }): number => {
  const { faces, grid } = stepped().scene;
  const sums = [0, 0];
  faces.cell.forEach((cell, face) => {
    if (faces.electrode[face] !== 1 || faces.side[face] !== 1) return;
    const near = Math.floor(cell / grid.nx) % grid.ny < 4 ? 0 : 1;
    sums[near] = (sums[near] ?? 0) + (solved.faceCurrentA[face] ?? 0);
  });
  return (sums[0] ?? 0) / (sums[1] ?? 1);
};

describe("a polarised bath", () => {
  it("adds the plates' overvoltages to the bath's volts: U = I·d/(κA) + η_c + η_a", () => {
    const [part, anode] = [tafel(0.12, 0.01), tafel(0.1, 0.03)];
    const { drivingV, electrodeCurrentA } = solvePolarised(plates(), {
      conductivitySPerM: 2,
      currentA: 0.8,
      part,
      anode,
    });
    const j = 0.8 / 0.04;
    const bathV = (0.8 * 0.2) / (2 * 0.04);
    expect(drivingV).toBeCloseTo(bathV + part(j).overvoltageV + anode(j).overvoltageV, 4);
    expect(electrodeCurrentA[1]).toBeCloseTo(0.8, 6);
    expect(electrodeCurrentA[0]).toBeCloseTo(-0.8, 4);
  });

  it("spreads as if there were no polarisation where that is small, and evenly where it is large", () => {
    const prepared = stepped();
    const primary = halves(prepared.solve({ conductivitySPerM: 1, potentialsV: [1, 0] }));
    const at = (ohmM2: number): number =>
      halves(
        solvePolarised(prepared, {
          conductivitySPerM: 1,
          currentA: 1,
          part: linear(ohmM2),
          anode: linear(1e-6),
        }),
      );
    expect(primary).toBeGreaterThan(1.5);
    expect(at(1e-5)).toBeCloseTo(primary, 1);
    expect(at(10)).toBeCloseTo(1, 1);
    const middle = at(0.1);
    expect(middle).toBeGreaterThan(1.02);
    expect(middle).toBeLessThan(primary - 0.02);
  });

  it("follows Haring and Blum's two paths: currents as far over near resistance, each with its polarisation", () => {
    // Anode between a near and a far cathode, 0.06 m and 0.3 m of bath: M = (L_far + κr)/(L_near + κr).
    const lone = prepare(
      sceneFrom(
        [0.4, 0.08, 0.08],
        [40, 8, 8],
        (x) => (x < 0.01 ? 1 : x > 0.07 && x < 0.08 ? 0 : x > 0.38 ? 2 : "bath"),
        [
          { kind: "ANODE", id: "a", name: "anode" },
          { kind: "PART", id: "n", name: "near" },
          { kind: "PART", id: "f", name: "far" },
        ],
      ),
    );
    const r = 0.02;
    const { electrodeCurrentA } = solvePolarised(lone, {
      conductivitySPerM: 2,
      currentA: 1,
      part: linear(r),
      anode: linear(1e-9),
    });
    const ratio = (electrodeCurrentA[1] ?? 0) / (electrodeCurrentA[2] ?? 1);
    expect(ratio).toBeCloseTo((0.3 + 2 * r) / (0.06 + 2 * r), 2);
  });

  it("ends when told to, and refuses what cannot be", () => {
    const drive = { conductivitySPerM: 2, currentA: 1, part: linear(0.1), anode: linear(0.1) };
    expect(() => solvePolarised(plates(), drive, { cancel: { cancelled: true } })).toThrow(
      Cancelled,
    );
    expect(() => solvePolarised(plates(), { ...drive, currentA: 0 })).toThrow(
      /current .* A, got 0/,
    );
    expect(() => linear(0)).toThrow(/polarisation resistance .*Ω·m²/);
    expect(() => tafel(0, 1)).toThrow(/Tafel slope .* V/);
    expect(() => tafel(0.1, 0)).toThrow(/exchange current density .*A\/m²/);
  });
});

describe("Wagner number", () => {
  it("is κ·(dη/dj)/l: 1.214, 0.1214 and 0.01214 at 1, 10 and 100 A/m² (IUPAC C01456, worked by hand)", () => {
    const slope = (j: number): number => 0.12 / Math.LN10 / j;
    expect(wagnerNumber(2.33, slope(1), 0.1)).toBeCloseTo(1.214, 3);
    expect(wagnerNumber(2.33, slope(10), 0.1)).toBeCloseTo(0.1214, 4);
    expect(wagnerNumber(2.33, slope(100), 0.1)).toBeCloseTo(0.01214, 5);
  });
});
