import { describe, expect, it } from "vitest";
import { prepare, type Scene } from "@/lib/field";
import { sceneFrom } from "../support/field-scenes";

/*
 * How the current dies away inside a deep hollow. Between metal walls w apart, at one potential, every solution of
 * ∇²φ = 0 is a sum of sin(nπx/w)·exp(−nπz/w); deep down only n = 1 is left, so that wall and depth see
 * j ∝ exp(−πz/w), whatever the mouth looks like: W. R. Smythe, Static and Dynamic Electricity; J. Newman and
 * K. E. Thomas-Alyea, Electrochemical Systems, ch. 18 (both from memory). In a hollow of a by b the slowest is
 * exp(−πz·√(1/a² + 1/b²)).
 */

const TIGHT = { tolerance: 1e-12, mostIterations: 400 };

/** Current into the part's walls, level by level from the floor, A. */
function byLevel(scene: Scene): number[] {
  const { faceCurrentA } = prepare(scene).solve(
    { conductivitySPerM: 1, potentialsV: [1, 0] },
    TIGHT,
  );
  const { grid, faces } = scene;
  const levels = Array.from({ length: grid.nz }, () => 0);
  faces.cell.forEach((cell, face) => {
    if (faces.electrode[face] !== 1 || (faces.side[face] ?? 5) > 3) return;
    const level = Math.floor(cell / (grid.nx * grid.ny));
    levels[level] = (levels[level] ?? 0) + (faceCurrentA[face] ?? 0);
  });
  return levels;
}

/** Decay per metre between two heights, m. */
function decayBetween(levels: readonly number[], edgeM: number, low: number, high: number): number {
  const at = (height: number): number => levels[Math.floor(height / edgeM)] ?? NaN;
  const steps = Math.floor(high / edgeM) - Math.floor(low / edgeM);
  return Math.log(at(high) / at(low)) / (steps * edgeM);
}

const WIDE_M = 0.08;
const MOUTH_M = 0.2;

/** A slot as long as the bath, the anode over a part of it only: its mouth lies askew in the field. */
function slot(across: number): Scene {
  const edge = WIDE_M / across;
  const nx = across + 8;
  return sceneFrom([nx * edge, 8 * edge, 0.32], [nx, 8, Math.round(0.32 / edge)], (x, _y, z) => {
    if (z > 0.32 - edge && x < nx * edge * 0.5) return 0;
    if (z > MOUTH_M) return "bath";
    return x < 4 * edge || x > 4 * edge + WIDE_M || z < edge ? 1 : "bath";
  });
}

describe("a deep slot between metal walls", () => {
  it("gets less and less as exp(−πz/w), within 1 % at 16 cells across and nearer the finer it is", () => {
    const exact = Math.PI / WIDE_M;
    const errors = [8, 16, 32].map((across) => {
      const levels = byLevel(slot(across));
      // From 1.25 to 0.75 widths under the mouth, and as far above the floor.
      return decayBetween(levels, WIDE_M / across, 0.1, 0.14) / exact - 1;
    });
    expect(Math.abs(errors[0] ?? 1)).toBeLessThan(0.03);
    expect(Math.abs(errors[1] ?? 1)).toBeLessThan(0.01);
    expect(Math.abs(errors[2] ?? 1)).toBeLessThan(0.005);
  });

  it("gets 4 % a width down of what it gets at the same place before: exp(−π) = 0.0432", () => {
    const levels = byLevel(slot(32));
    const edge = WIDE_M / 32;
    const share = (levels[Math.floor(0.07 / edge)] ?? 0) / (levels[Math.floor(0.15 / edge)] ?? 1);
    expect(share).toBeCloseTo(0.0432, 3);
  });
});

describe("a deep hollow with four walls", () => {
  it("gets less as exp(−πz·√(1/a² + 1/b²))", () => {
    const [a, b, edge] = [0.08, 0.12, 0.005];
    const scene = sceneFrom([a + 4 * edge, b + 4 * edge, 0.24], [20, 28, 48], (x, y, z) => {
      if (z > 0.24 - edge && x < 0.05) return 0;
      if (z > 0.18) return "bath";
      const inX = x > 2 * edge && x < 2 * edge + a;
      const inY = y > 2 * edge && y < 2 * edge + b;
      return inX && inY && z > edge ? "bath" : 1;
    });
    const exact = Math.PI * Math.hypot(1 / a, 1 / b);
    expect(decayBetween(byLevel(scene), edge, 0.0825, 0.1225) / exact).toBeCloseTo(1, 1);
    expect(Math.abs(decayBetween(byLevel(scene), edge, 0.0725, 0.1025) / exact - 1)).toBeLessThan(
      0.02,
    );
  });
});
