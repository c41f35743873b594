import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  coaxialShapeLength,
  concentricSpheresShapeLength,
  plateShapeLength,
  rodToPlaneShapeLength,
} from "@/lib/electrolysis";
import { conductanceMatrix, prepare, type Scene, shapeLength, withError } from "@/lib/field";
import { metres, squareMetres } from "@/lib/units";
import { ANODE_AND_PART, sceneFrom } from "../support/field-scenes";

/*
 * The field solution against what does not come from this project. Closed forms: J. Newman and K. E. Thomas-Alyea,
 * Electrochemical Systems, ch. 18; W. R. Smythe, Static and Dynamic Electricity (both from memory).
 */

const TIGHT = { tolerance: 1e-10 };
const lengthOf = (scene: Scene): number => shapeLength(prepare(scene), TIGHT);

describe("plates that fill the ends of a trough", () => {
  it("has R = d/(κA) on any grid: 2.14592 Ω for 0.2 m, 0.04 m² and 2.33 S/m", () => {
    const scene = sceneFrom([0.24, 0.2, 0.2], [12, 10, 10], (x) =>
      x < 0.02 ? 0 : x > 0.22 ? 1 : "bath",
    );
    expect(lengthOf(scene)).toBeCloseTo(plateShapeLength(squareMetres(0.04), metres(0.2)), 9);
    const { electrodeCurrentA } = prepare(scene).solve(
      { conductivitySPerM: 2.33, potentialsV: [1, 0] },
      TIGHT,
    );
    expect(1 / (electrodeCurrentA[1] ?? 0)).toBeCloseTo(2.14592, 5);
  });
});

/** Relative errors on grids each twice as fine. */
function errors(exact: number, on: readonly number[], scene: (cells: number) => Scene): number[] {
  return on.map((cells) => Math.abs(lengthOf(scene(cells)) / exact - 1));
}
/** Mean power with which errors fall as cells are halved. */
const orderOf = (found: readonly number[]): number =>
  Math.log2((found[0] ?? 0) / (found.at(-1) ?? 1)) / (found.length - 1);

describe("a rod on the axis of a tube", () => {
  const exact = coaxialShapeLength(metres(0.02), metres(0.1), metres(0.055));
  const scene = (n: number): Scene =>
    sceneFrom([0.22, 0.22, 0.055], [n, n, n / 4], (x, y) => {
      const r = Math.hypot(x - 0.11, y - 0.11);
      return r > 0.1 ? 0 : r < 0.02 ? 1 : "bath";
    });

  it("comes to 2πL/ln(b/a), with the second order", () => {
    const found = errors(exact, [32, 64, 128], scene);
    expect(found.at(-1)).toBeLessThan(0.0005);
    expect(orderOf(found)).toBeGreaterThan(1.6);
  });

  it("has an error within what two grids say", () => {
    const [coarse, fine] = [lengthOf(scene(48)), lengthOf(scene(96))];
    const { error } = withError(coarse, fine, 2);
    expect(Math.abs(fine - exact)).toBeLessThan(error);
  });
});

describe("a sphere in the middle of another", () => {
  it("comes to 4π/(1/a − 1/b)", () => {
    const exact = concentricSpheresShapeLength(metres(0.05), metres(0.15));
    const found = errors(exact, [24, 48, 96], (n) =>
      sceneFrom([0.32, 0.32, 0.32], [n, n, n], (x, y, z) => {
        const r = Math.hypot(x - 0.16, y - 0.16, z - 0.16);
        return r > 0.15 ? 0 : r < 0.05 ? 1 : "bath";
      }),
    );
    expect(found.at(-1)).toBeLessThan(0.001);
    expect(orderOf(found)).toBeGreaterThan(1.5);
  });
});

describe("a rod before a wide plate", () => {
  it("comes near 2πL/acosh(h/a) where the bath is wide", () => {
    const exact = rodToPlaneShapeLength(metres(0.02), metres(0.08), metres(0.05));
    // Half of it, cut along the plane of symmetry, in a bath ten times as wide as the distance.
    const half = (n: number): Scene =>
      sceneFrom([0.8, 0.8, 0.05], [n, n, n / 16], (x, y) =>
        x < 0.01 ? 0 : Math.hypot(x - 0.09, y) < 0.02 ? 1 : "bath",
      );
    // The bath ends somewhere, which costs a little.
    const share = (2 * lengthOf(half(160))) / exact;
    expect(share).toBeGreaterThan(0.97);
    expect(share).toBeLessThan(1.001);
  });
});

/** An uneven little bath with three electrodes, a wall and a pocket that nothing reaches. */
function uneven(scale = 1): Scene {
  return sceneFrom(
    [0.16 * scale, 0.14 * scale, 0.12 * scale],
    [8, 7, 6],
    (x, y, z) => {
      const [i, j, k] = [x, y, z].map((at) => Math.floor(at / scale / 0.02)) as [
        number,
        number,
        number,
      ];
      if (i === 0 && j < 5) return 0;
      if (i === 5 && j > 1 && k > 1) return 1;
      if (i === 7 && j === 6 && k === 0) return 2;
      if (i === 3 && k < 4 && j < 6) return "insulator";
      // Shut in on all sides.
      if (j === 0 && k === 0 && i > 5) return i === 6 ? "insulator" : "bath";
      if ((i === 7 && j === 1 && k === 0) || (i === 7 && j === 0 && k === 1)) return "insulator";
      return "bath";
    },
    [...ANODE_AND_PART, { kind: "ANODE", id: "rod", name: "rod" }],
  );
}

describe("an uneven bath of three electrodes", () => {
  it("gives what a dense solution of its balance gives (ml-matrix, LU)", () => {
    const scene = uneven();
    const potentialsV = [1.5, 0, -0.7];
    const { potentialV } = prepare(scene).solve({ conductivitySPerM: 2, potentialsV }, TIGHT);
    const dense = denseSolution(scene, potentialsV);
    for (const [cell, volts] of dense) expect(potentialV[cell]).toBeCloseTo(volts, 8);
    expect(dense.size).toBeGreaterThan(200);
  });

  it("is reciprocal, conserves, and goes with κ and with length", () => {
    const matrix = conductanceMatrix(prepare(uneven()), 2, TIGHT);
    const twice = conductanceMatrix(prepare(uneven(2)), 2, TIGHT);
    const dense = conductanceMatrix(prepare(uneven()), 6, TIGHT);
    const most = Math.max(...matrix.flat().map(Math.abs));
    matrix.forEach((row, i) => {
      expect(Math.abs(row.reduce((sum, value) => sum + value, 0))).toBeLessThan(1e-6 * most);
      row.forEach((value, j) => {
        expect(Math.abs(value - (matrix[j]?.[i] ?? 0))).toBeLessThan(1e-6 * most);
        expect(Math.abs((twice[i]?.[j] ?? 0) / value - 2)).toBeLessThan(1e-6);
        expect(Math.abs((dense[i]?.[j] ?? 0) / value - 3)).toBeLessThan(1e-6);
      });
    });
  });

  it("keeps a pocket that no electrode reaches out of it", () => {
    const { potentialV } = prepare(uneven()).solve({
      conductivitySPerM: 1,
      potentialsV: [1, 2, 3],
    });
    expect(potentialV[7]).toBe(0);
  });
});

/** The balance of each cell, put together from its definition: Σ κ·A/d·(φ_n − φ) = 0, half the distance to a metal. */
function denseSolution(scene: Scene, potentialsV: readonly number[]): Map<number, number> {
  const { grid, cells } = scene;
  const { nx, ny, nz, hx, hy, hz } = grid;
  const bath: number[] = [];
  cells.forEach((code, cell) => {
    if (code === 0 && cell !== 7) bath.push(cell); // 7 is the pocket
  });
  const place = new Map(bath.map((cell, index) => [cell, index]));
  const left = Matrix.zeros(bath.length, bath.length);
  const right = Matrix.zeros(bath.length, 1);
  for (const [cell, row] of place) {
    const at = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    const per = [(hy * hz) / hx, (hx * hz) / hy, (hx * hy) / hz];
    for (const axis of [0, 1, 2]) {
      for (const step of [-1, 1]) {
        const to = at.map((value, index) => value + (index === axis ? step : 0));
        const [i, j, k] = to as [number, number, number];
        if (i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz) continue;
        const other = i + nx * (j + ny * k);
        const code = cells[other] ?? 1;
        const column = place.get(other);
        const link = (per[axis] ?? 0) * (code >= 2 ? 2 : 1);
        if (code === 1 || (code === 0 && column === undefined)) continue;
        left.set(row, row, left.get(row, row) + link);
        if (column !== undefined) left.set(row, column, left.get(row, column) - link);
        else right.set(row, 0, right.get(row, 0) + link * (potentialsV[code - 2] ?? 0));
      }
    }
  }
  const solved = solve(left, right);
  return new Map([...place].map(([cell, row]) => [cell, solved.get(row, 0)]));
}
