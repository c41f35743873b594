import {
  BATH,
  type Electrode,
  type Faces,
  FIRST_ELECTRODE,
  type Grid,
  INSULATOR,
  type Scene,
} from "@/lib/field";

/** What is at a place: bath, an insulator, or the electrode of that number. */
export type Stuff = "bath" | "insulator" | number;

export const ANODE_AND_PART: readonly Electrode[] = [
  { kind: "ANODE", id: "anode", name: "anode" },
  { kind: "PART", id: "part", name: "part" },
];

/**
 * A scene cut from a formula: what is at the middle of a cell fills it. Faces have the area of a cell's side.
 *
 * @param size lengths of the block, m
 * @param cells along each axis
 */
export function sceneFrom(
  size: readonly [number, number, number],
  [nx, ny, nz]: readonly [number, number, number],
  at: Formula,
  electrodes: readonly Electrode[] = ANODE_AND_PART,
): Scene {
  const grid: Grid = { nx, ny, nz, hx: size[0] / nx, hy: size[1] / ny, hz: size[2] / nz };
  const cells = new Uint8Array(nx * ny * nz);
  for (let index = 0; index < cells.length; index++) {
    const [i, j, k] = [index % nx, Math.floor(index / nx) % ny, Math.floor(index / (nx * ny))];
    const stuff = at((i + 0.5) * grid.hx, (j + 0.5) * grid.hy, (k + 0.5) * grid.hz);
    cells[index] =
      stuff === "bath" ? BATH : stuff === "insulator" ? INSULATOR : FIRST_ELECTRODE + stuff;
  }
  return { grid, cells, electrodes, faces: facesOf(grid, cells, at) };
}

type Formula = (x: number, y: number, z: number) => Stuff;

/** Share of the way from a place in the bath to one beyond, a cell's length off, at which the bath ends. */
function gapBetween(at: Formula, from: Place, to: Place): number {
  let [bath, metal] = [0, 1];
  for (let halving = 0; halving < 30; halving++) {
    const middle = (bath + metal) / 2;
    const place = from.map((value, axis) => value + middle * ((to[axis] ?? 0) - value)) as Place;
    if (at(...place) === "bath") bath = middle;
    else metal = middle;
  }
  return metal;
}

type Place = [number, number, number];

/** Every side on which bath meets an electrode, each with the area of the cell's side. */
function facesOf({ nx, ny, nz, hx, hy, hz }: Grid, cells: Uint8Array, at: Formula): Faces {
  const middle = (i: number, j: number, k: number): Place => [
    (i + 0.5) * hx,
    (j + 0.5) * hy,
    (k + 0.5) * hz,
  ];
  const found: { cell: number; side: number; electrode: number; gap: number }[] = [];
  const sides = [
    [-1, 0, 0],
    [1, 0, 0],
    [0, -1, 0],
    [0, 1, 0],
    [0, 0, -1],
    [0, 0, 1],
  ] as const;
  cells.forEach((code, cell) => {
    if (code !== BATH) return;
    const [i, j, k] = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    sides.forEach(([dx, dy, dz], side) => {
      const [x, y, z] = [i + dx, j + dy, k + dz];
      if (x < 0 || y < 0 || z < 0 || x >= nx || y >= ny || z >= nz) return;
      const other = cells[x + nx * (y + ny * z)] ?? INSULATOR;
      if (other < FIRST_ELECTRODE) return;
      const gap = gapBetween(at, middle(i, j, k), middle(x, y, z));
      found.push({ cell, side, electrode: other - FIRST_ELECTRODE, gap });
    });
  });
  const areas = [hy * hz, hy * hz, hx * hz, hx * hz, hx * hy, hx * hy];
  return {
    count: found.length,
    cell: Uint32Array.from(found, ({ cell }) => cell),
    side: Uint8Array.from(found, ({ side }) => side),
    electrode: Uint8Array.from(found, ({ electrode }) => electrode),
    gap: Float64Array.from(found, ({ gap }) => gap),
    areaM2: Float64Array.from(found, ({ side }) => areas[side] ?? 0),
  };
}
