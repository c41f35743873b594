import { describe, expect, it } from "vitest";
import { type Polarised, prepare, type Scene, solvePolarised, tafel } from "@/lib/field";
import { sceneFrom } from "../support/field-scenes";

/*
 * The Hull cell: a trough whose panel stands aslant before its anode, so that the current density falls along it.
 * Inner measures of the cell of 267 mL, mm (from memory of its drawings): anode 63.5 wide, short side 47.6, long side 127,
 * and so a panel of 101.7; 267 mL stand 48.2 high.
 */
const MM = 0.001;
const [WIDE, SHORT, LONG] = [63.5 * MM, 47.6 * MM, 127 * MM];
const DEEP = 267e-6 / ((WIDE * (SHORT + LONG)) / 2);
const PANEL = Math.hypot(WIDE, LONG - SHORT);

/** Anode at x = 0, panel from the short side's end at y = 0 to the long side's. */
function hullCell(cells: number): Scene {
  const edge = LONG / cells;
  const size = [LONG + 2 * edge, WIDE, DEEP] as const;
  const across = Math.round(WIDE / edge);
  return sceneFrom([...size], [cells + 2, across, 2], (x, y) => {
    if (x < edge) return 0;
    return x - edge > SHORT + (LONG - SHORT) * (y / WIDE) ? 1 : "bath";
  });
}

/**
 * Current density along the panel, A/dm², in bins from the near end on.
 *
 * The stair of cells has more area than the panel: each bin's current is held against the panel's own area.
 */
function alongPanel(scene: Scene, solved: Pick<Polarised, "faceCurrentA">, bins: number): number[] {
  const { grid, faces } = scene;
  const current = Array.from({ length: bins }, () => 0);
  for (let face = 0; face < faces.count; face++) {
    if (faces.electrode[face] !== 1) continue;
    const cell = faces.cell[face] ?? 0;
    const x = ((cell % grid.nx) + 0.5) * grid.hx - grid.hx - SHORT;
    const y = ((Math.floor(cell / grid.nx) % grid.ny) + 0.5) * grid.hy;
    const along = (x * (LONG - SHORT) + y * WIDE) / PANEL;
    const bin = Math.min(bins - 1, Math.max(0, Math.floor((bins * along) / PANEL)));
    current[bin] = (current[bin] ?? 0) + (solved.faceCurrentA[face] ?? 0);
  }
  return current.map((amperes) => amperes / (((PANEL / bins) * DEEP) / 0.01));
}

/** Metal Finishing Guidebook 2013, p. 482, for 267 mL, turned to A/dm² and cm; an average over several baths. */
const handbook = (currentA: number, lengthCm: number): number =>
  currentA * (5.1 - 5.24 * Math.log10(lengthCm));

/** Where the handbook's formula is used, cm. */
const [LEAST_CM, MOST_CM] = [0.635, 8.255];
const BINS = 10;

describe("the Hull cell", () => {
  const scene = hullCell(128);
  const places = Array.from({ length: BINS }, (_, bin) => ((bin + 0.5) * PANEL * 100) / BINS);
  const used = places.flatMap((cm, bin) => (cm > LEAST_CM && cm < MOST_CM ? [bin] : []));

  it("has the handbook's current density along its panel", () => {
    // The handbook's baths are plating baths, which conduct well: about 20 S/m, with usual overvoltages (from memory).
    const solved = solvePolarised(prepare(scene), {
      ...{ conductivitySPerM: 20, currentA: 1 },
      ...{ part: tafel(0.12, 1), anode: tafel(0.04, 1) },
    });
    const found = alongPanel(scene, solved, BINS);
    const densest = handbook(1, LEAST_CM);
    expect(used).toHaveLength(7);
    for (const bin of used) {
      const off = Math.abs((found[bin] ?? 0) - handbook(1, places[bin] ?? 0));
      expect(off).toBeLessThan(0.1 * densest);
    }
    // In the middle of the panel the fit itself is good to a tenth.
    for (const bin of [2, 3, 4]) {
      expect((found[bin] ?? 0) / handbook(1, places[bin] ?? 0)).toBeGreaterThan(0.9);
      expect((found[bin] ?? 0) / handbook(1, places[bin] ?? 0)).toBeLessThan(1.1);
    }
    // All of it adds up to the ampere that flows.
    const all = found.reduce((sum, density) => sum + (density * PANEL * DEEP) / 0.01 / BINS, 0);
    expect(all).toBeCloseTo(1, 4);
  });

  it("falls more steeply without overvoltages: they even the current out", () => {
    const currents = (slopeV: number): number[] =>
      alongPanel(
        scene,
        solvePolarised(prepare(scene), {
          ...{ conductivitySPerM: 20, currentA: 1 },
          ...{ part: tafel(slopeV, 1), anode: tafel(0.04, 1) },
        }),
        BINS,
      );
    const [little, much] = [currents(0.01), currents(0.5)];
    expect(little[0] ?? 0).toBeGreaterThan(much[0] ?? 0);
    expect(little.at(-1) ?? 0).toBeLessThan(much.at(-1) ?? 0);
  });
});
