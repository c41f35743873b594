import type { Bathful } from "./bathful";
import { BATH, type Faces, FIRST_ELECTRODE, type Grid } from "./scene";
import { stripAreas, wallBeside } from "./strips";
import { middleOf } from "./vessel";
import { gapOf, type Rows, stepsOf } from "./voxels";

export type FoundFaces = {
  readonly faces: Faces;
  /** First face of each cell, −1 where it has none; a cell's faces follow one another. */
  readonly firstFace: Int32Array;
};

/**
 * Finds every side on which a bath cell meets an electrode, and how far off the metal is there. Strips get their
 * areas; those of the others are still 0.
 *
 * @param rows of each electrode that has a mesh
 */
export function facesOf(
  { vessel, anodes }: Bathful,
  grid: Grid,
  codes: Uint8Array,
  rows: ReadonlyMap<number, Rows>,
): FoundFaces {
  const cell: number[] = [];
  const side: number[] = [];
  const electrode: number[] = [];
  const gap: number[] = [];
  const slopes: number[] = [];
  const firstFace = new Int32Array(codes.length).fill(-1);
  const lengths = [grid.hx, grid.hy, grid.hz] as const;
  eachSide(grid, codes, (at, i, j, k, where, metal) => {
    if (firstFace[at] === -1) firstFace[at] = cell.length;
    cell.push(at);
    side.push(where);
    electrode.push(metal);
    const through = rows.get(metal);
    if (through) {
      gap.push(gapOf(through, grid, i, j, k, where));
      slopes.push(0);
      return;
    }
    const axis = (where >> 1) as 0 | 1 | 2;
    const step = where % 2 === 1 ? lengths[axis] : -lengths[axis];
    const wall = wallBeside(vessel, middleOf(grid, i, j, k), axis, step);
    gap.push(wall.gap);
    slopes.push(wall.slope);
  });
  const faces = {
    count: cell.length,
    cell: Uint32Array.from(cell),
    side: Uint8Array.from(side),
    electrode: Uint8Array.from(electrode),
    gap: Float64Array.from(gap),
    areaM2: new Float64Array(cell.length),
  };
  anodes.forEach(({ form }, number) => {
    if (form.kind === "STRIPS") stripAreas(vessel, form, grid, number, faces, slopes);
  });
  return { faces, firstFace };
}

type Meet = (
  cell: number,
  i: number,
  j: number,
  k: number,
  side: number,
  electrode: number,
) => void;

/** Calls for each side of a bath cell behind which metal lies, cell by cell, sides in the order of `SIDES`. */
function eachSide(grid: Grid, codes: Uint8Array, meet: Meet): void {
  const { nx, ny, nz } = grid;
  const [, row, layer] = stepsOf(grid);
  let cell = 0;
  for (let k = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      for (let i = 0; i < nx; i++, cell++) {
        if (codes[cell] !== BATH) continue;
        const west = codeAt(codes, i > 0, cell - 1);
        const east = codeAt(codes, i < nx - 1, cell + 1);
        const south = codeAt(codes, j > 0, cell - row);
        const north = codeAt(codes, j < ny - 1, cell + row);
        const below = codeAt(codes, k > 0, cell - layer);
        const above = codeAt(codes, k < nz - 1, cell + layer);
        if (west >= FIRST_ELECTRODE) meet(cell, i, j, k, 0, west - FIRST_ELECTRODE);
        if (east >= FIRST_ELECTRODE) meet(cell, i, j, k, 1, east - FIRST_ELECTRODE);
        if (south >= FIRST_ELECTRODE) meet(cell, i, j, k, 2, south - FIRST_ELECTRODE);
        if (north >= FIRST_ELECTRODE) meet(cell, i, j, k, 3, north - FIRST_ELECTRODE);
        if (below >= FIRST_ELECTRODE) meet(cell, i, j, k, 4, below - FIRST_ELECTRODE);
        if (above >= FIRST_ELECTRODE) meet(cell, i, j, k, 5, above - FIRST_ELECTRODE);
      }
    }
  }
}

/** What is in a neighbouring cell; nothing that matters outside the grid. */
const codeAt = (codes: Uint8Array, isInGrid: boolean, cell: number): number =>
  isInGrid ? codes[cell]! : BATH;
