import { type Axis, type CellMesh, type Crossings, crossingsOf, ROW_AXES } from "./crossings";
import { BATH, type Grid } from "./scene";

/** Where the rows along x, y and z pass through one solid. */
export type Rows = readonly [Crossings, Crossings, Crossings];

/** A wall may stand off its cell by this much beside it, in lengths of a cell. */
const FURTHEST_GAP = 1.5;
/** What a gap counts as at least: nearer would only spoil the numbers. */
const LEAST_GAP = 0.05;

export const rowsThrough = (mesh: CellMesh, grid: Grid): Rows => [
  crossingsOf(mesh, grid, 0),
  crossingsOf(mesh, grid, 1),
  crossingsOf(mesh, grid, 2),
];

/** How far a cell's index moves along each axis. */
export const stepsOf = ({ nx, ny }: Grid): readonly [number, number, number] => [1, nx, nx * ny];

/**
 * Fills the bath cells whose middles lie in a solid: where the surface has been crossed inwards more often than
 * outwards on the way along x, which holds for solids that overlap as well.
 */
export function fillSolid(
  { nx, ny, nz }: Grid,
  [rows]: Rows,
  codes: Uint8Array,
  code: number,
): void {
  const { first, at, turn } = rows;
  for (let row = 0; row < ny * nz; row++) {
    let depth = 0;
    for (let place = first[row]!; place + 1 < first[row + 1]!; place++) {
      depth += turn[place]!;
      if (depth <= 0) continue;
      const from = Math.max(0, Math.ceil(at[place]! - 0.5));
      const to = Math.min(nx, Math.ceil(at[place + 1]! - 0.5));
      for (let i = from; i < to; i++) {
        if (codes[i + nx * row] === BATH) codes[i + nx * row] = code;
      }
    }
  }
}

/**
 * Closes the walls that are thinner than a cell.
 *
 * Where a surface passes between two neighbouring middles with bath on both sides, the cell whose middle it is
 * nearer to becomes metal. No two bath cells side by side then have a wall between them, so nothing that has no
 * opening has one here; and an opening that a row passes through stays. The wall's true place is not lost: it is
 * in the gap (`gapOf`), and its true area in the faces.
 */
export function closeWalls(grid: Grid, rows: Rows, codes: Uint8Array, code: number): void {
  const counts = [grid.nx, grid.ny, grid.nz] as const;
  const steps = stepsOf(grid);
  for (const axis of [0, 1, 2] as const) {
    const { first, at } = rows[axis];
    const [b, c] = ROW_AXES[axis];
    for (let row = 0; row + 1 < first.length; row++) {
      if (first[row] === first[row + 1]) continue;
      const start = steps[b] * (row % counts[b]) + steps[c] * Math.floor(row / counts[b]);
      for (let place = first[row]!; place < first[row + 1]!; place++) {
        const before = Math.floor(at[place]! - 0.5);
        if (before < 0 || before + 1 >= counts[axis]) continue;
        const cell = start + steps[axis] * before;
        const beyond = cell + steps[axis];
        if (codes[cell] !== BATH || codes[beyond] !== BATH) continue;
        codes[at[place]! - before < 1 ? cell : beyond] = code;
      }
    }
  }
}

/**
 * Makes a bath cell metal that a surface runs through with no cell of that metal about: a bar so thin that every
 * row passes it by.
 *
 * @param i j k the cell's place; may lie outside the grid
 */
export function fillThinBar(
  { nx, ny, nz }: Grid,
  codes: Uint8Array,
  code: number,
  i: number,
  j: number,
  k: number,
): void {
  if (i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz) return;
  const cell = i + nx * (j + ny * k);
  if (codes[cell] !== BATH) return;
  for (let z = Math.max(0, k - 1); z <= Math.min(nz - 1, k + 1); z++) {
    for (let y = Math.max(0, j - 1); y <= Math.min(ny - 1, j + 1); y++) {
      const row = nx * (y + ny * z);
      for (let x = Math.max(0, i - 1); x <= Math.min(nx - 1, i + 1); x++) {
        if (codes[row + x] === code) return;
      }
    }
  }
  codes[cell] = code;
}

/**
 * From the middle of a bath cell to the surface that it meets on one side, in lengths of the cell; half a length
 * where none is found, as beside a cell that was filled for a wall across.
 *
 * @param place the cell's place along each axis
 */
export function gapOf(
  rows: Rows,
  grid: Grid,
  i: number,
  j: number,
  k: number,
  side: number,
): number {
  const axis = (side >> 1) as Axis;
  const { first, at } = rows[axis];
  const row = axis === 0 ? j + grid.ny * k : axis === 1 ? i + grid.nx * k : i + grid.nx * j;
  const middle = (axis === 0 ? i : axis === 1 ? j : k) + 0.5;
  let nearest = Infinity;
  for (let index = first[row]!; index < first[row + 1]!; index++) {
    const gap = side % 2 === 1 ? at[index]! - middle : middle - at[index]!;
    if (gap >= 0 && gap < nearest) nearest = gap;
  }
  return nearest > FURTHEST_GAP ? 0.5 : Math.max(LEAST_GAP, nearest);
}
