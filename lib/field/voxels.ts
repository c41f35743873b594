import { type Crossings, crossingsOf, ROW_AXES } from "./crossings";
import type { Mesh } from "./mesh";
import type { Grid } from "./scene";
import { middleOfCorners, smallTriangles } from "./small-triangles";

/** A closed mesh cut into the cells of a grid. */
export type Voxels = {
  /** 1 in the cells that count as metal. */
  readonly metal: Uint8Array;
  /** Along x, y and z. */
  readonly crossings: readonly [Crossings, Crossings, Crossings];
};

/** A wall may stand off its cell by this much beside it, in lengths of a cell. */
const FURTHEST_GAP = 1.5;
/** What a gap counts as at least: nearer would only spoil the numbers. */
const LEAST_GAP = 0.05;

/**
 * Cells that a solid fills.
 *
 * A cell is metal when its middle lies in the solid: when the surface has been crossed inwards more often than
 * outwards on the way to it, which holds for solids that overlap as well. A wall that passes between two middles
 * without holding either is thinner than a cell: the cell whose middle it passes nearer to becomes metal in its
 * place, so that no two bath cells side by side have a wall between them. The wall's true place is not lost: it
 * is in the gap (`gapOf`), and its true area in the faces. A bar so thin that every row passes it by fills the
 * cells that its surface runs through.
 */
export function voxelsOf(mesh: Mesh, grid: Grid): Voxels {
  const crossings = [
    crossingsOf(mesh, grid, 0),
    crossingsOf(mesh, grid, 1),
    crossingsOf(mesh, grid, 2),
  ] as const;
  const metal = new Uint8Array(grid.nx * grid.ny * grid.nz);
  fillInside(grid, crossings[0], metal);
  for (const axis of [0, 1, 2] as const) closeWalls(grid, crossings[axis], axis, metal);
  fillThinBars(mesh, grid, metal);
  return { metal, crossings };
}

function fillInside({ nx, ny, nz }: Grid, { first, at, turn }: Crossings, metal: Uint8Array): void {
  for (let row = 0; row < ny * nz; row++) {
    let next = first[row]!;
    const end = first[row + 1]!;
    if (next === end) continue;
    let depth = 0;
    for (let i = 0; i < nx; i++) {
      while (next < end && at[next]! < i + 0.5) depth += turn[next++]!;
      if (depth > 0) metal[i + nx * row] = 1;
    }
  }
}

/** How far a cell's index moves along each axis. */
export const stepsOf = ({ nx, ny }: Grid): readonly [number, number, number] => [1, nx, nx * ny];

function closeWalls(
  grid: Grid,
  { first, at }: Crossings,
  axis: 0 | 1 | 2,
  metal: Uint8Array,
): void {
  const counts = [grid.nx, grid.ny, grid.nz] as const;
  const steps = stepsOf(grid);
  const [b, c] = ROW_AXES[axis];
  for (let row = 0; row + 1 < first.length; row++) {
    const start = steps[b] * (row % counts[b]) + steps[c] * Math.floor(row / counts[b]);
    for (let place = first[row]!; place < first[row + 1]!; place++) {
      const before = Math.floor(at[place]! - 0.5);
      if (before < 0 || before + 1 >= counts[axis]) continue;
      const cell = start + steps[axis] * before;
      const beyond = cell + steps[axis];
      if (metal[cell] === 1 || metal[beyond] === 1) continue;
      metal[at[place]! - 0.5 - before < 0.5 ? cell : beyond] = 1;
    }
  }
}

function fillThinBars(mesh: Mesh, grid: Grid, metal: Uint8Array): void {
  const { nx, ny, nz, hx, hy, hz } = grid;
  for (const small of smallTriangles(mesh, Math.min(hx, hy, hz))) {
    const [x, y, z] = middleOfCorners(small);
    const [i, j, k] = [Math.floor(x / hx), Math.floor(y / hy), Math.floor(z / hz)];
    if (i < 1 || j < 1 || k < 1 || i > nx - 2 || j > ny - 2 || k > nz - 2) continue;
    if (!metalAbout(metal, i + nx * (j + ny * k), nx, nx * ny)) metal[i + nx * (j + ny * k)] = 1;
  }
}

function metalAbout(metal: Uint8Array, cell: number, row: number, layer: number): boolean {
  for (let up = -layer; up <= layer; up += layer) {
    for (let across = -row; across <= row; across += row) {
      for (let along = -1; along <= 1; along++) {
        if (metal[cell + up + across + along] === 1) return true;
      }
    }
  }
  return false;
}

/**
 * From the middle of a bath cell to the surface that it meets on one side, in lengths of the cell; half a length
 * where none is found, as beside a cell that was filled for a wall across.
 *
 * @param place the cell's place along each axis
 */
export function gapOf(
  { crossings }: Voxels,
  grid: Grid,
  place: readonly [number, number, number],
  side: number,
): number {
  const axis = (side >> 1) as 0 | 1 | 2;
  const [b, c] = ROW_AXES[axis];
  const row = place[b] + [grid.nx, grid.ny, grid.nz][b]! * place[c];
  const { first, at } = crossings[axis];
  const middle = place[axis] + 0.5;
  let nearest = Infinity;
  for (let index = first[row]!; index < first[row + 1]!; index++) {
    const gap = side % 2 === 1 ? at[index]! - middle : middle - at[index]!;
    if (gap >= 0 && gap < nearest) nearest = gap;
  }
  return nearest > FURTHEST_GAP ? 0.5 : Math.max(LEAST_GAP, nearest);
}
