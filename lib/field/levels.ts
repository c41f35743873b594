import { BATH, type Grid, type Scene } from "./scene";

/*
 * The bath as a pyramid of grids, each of cells twice as long as those of the one above it.
 *
 * Every array has a margin of one cell all round and an even number of cells along each axis. Conductances are geometry
 * alone, in metres (siemens over κ). This is how the grids are worked out; board.ts lays them out for the solver.
 */

/** One grid of the pyramid: conductance from each cell to the next along each axis, m. */
export type Links = {
  readonly shape: Shape;
  readonly toX: Float32Array;
  readonly toY: Float32Array;
  readonly toZ: Float32Array;
};

export type Levels = {
  /** From the finest down. */
  readonly links: readonly Links[];
  /** Of each grid, the sum of a cell's conductances to other cells, m; above 0 where there is bath. */
  readonly sums: readonly Float64Array[];
  /** Bath cell of each face in the arrays of each grid; −1 where the bath is cut off from every electrode. */
  readonly faceCells: readonly Int32Array[];
  /** Of the finest grid, between two bath cells along each axis, m. */
  readonly perAxis: readonly [number, number, number];
};

/** Fewest cells along an axis that are still worth halving. */
const LEAST_CELLS = 4;

/** Length of a cell over the area of its side, for each side, 1/m: what a cell's length of bath resists, times κ. */
export function cellLengths({ hx, hy, hz }: Grid): readonly number[] {
  const [x, y, z] = [hx / (hy * hz), hy / (hx * hz), hz / (hx * hy)];
  return [x, x, y, y, z, z];
}

/**
 * Builds all grids of a scene, without the conductances to the electrodes.
 *
 * Between two coarse cells half the sum of the fine conductances across counts: twice the length, four times
 * the area, and each fine one is in the sum once.
 */
export function buildLevels(scene: Scene): Levels {
  const { grid } = scene;
  const perAxis = [
    (grid.hy * grid.hz) / grid.hx,
    (grid.hx * grid.hz) / grid.hy,
    (grid.hx * grid.hy) / grid.hz,
  ] as const;
  const shape = shapeOf(grid.nx, grid.ny, grid.nz);
  const bath = reachedBath(scene, shape);
  let last = linksOf(shape, bath, perAxis);
  const links = [last];
  const sums = [sumOfNeighbours(shape, bath, perAxis)];
  const faceCells = [cellsOfFaces(scene, shape, bath)];
  while (Math.min(last.shape.nx, last.shape.ny, last.shape.nz) > LEAST_CELLS) {
    const next = coarser(last);
    faceCells.push(halved(faceCells.at(-1)!, last.shape, next.shape));
    links.push(next);
    sums.push(sumOfLinks(next));
    last = next;
  }
  return { links, sums, faceCells, perAxis };
}

export type Shape = {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  readonly row: number;
  readonly layer: number;
  readonly size: number;
};

/** Even numbers of cells with a margin of one all round. */
function shapeOf(cellsX: number, cellsY: number, cellsZ: number): Shape {
  const even = (cells: number): number => cells + (cells % 2);
  const [nx, ny, nz] = [even(cellsX), even(cellsY), even(cellsZ)];
  const row = nx + 2;
  const layer = row * (ny + 2);
  return { nx, ny, nz, row, layer, size: layer * (nz + 2) };
}

/**
 * 1 where there is bath that some electrode reaches. Bath shut in a pocket has no potential of its own, and
 * carries nothing: it counts as an insulator.
 */
function reachedBath({ grid, cells, faces }: Scene, shape: Shape): Uint8Array {
  const { nx, ny, nz } = grid;
  const { row, layer, size } = shape;
  const open = new Uint8Array(size);
  for (let k = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      const from = nx * (j + ny * k);
      const to = 1 + row * (j + 1) + layer * (k + 1);
      for (let i = 0; i < nx; i++) open[to + i] = cells[from + i] === BATH ? 1 : 0;
    }
  }
  const reached = new Uint8Array(size);
  const queue = new Int32Array(size);
  const steps = [-1, 1, -row, row, -layer, layer];
  let end = 0;
  const reach = (cell: number): void => {
    if (open[cell] !== 1 || reached[cell] === 1) return;
    reached[cell] = 1;
    queue[end++] = cell;
  };
  for (let face = 0; face < faces.count; face++) reach(placeOf(faces.cell[face]!, grid, shape));
  for (let start = 0; start < end; start++) {
    const cell = queue[start]!;
    for (const step of steps) reach(cell + step);
  }
  return reached;
}

/** A cell of the scene in arrays with a margin. */
function placeOf(cell: number, { nx, ny }: Grid, { row, layer }: Shape): number {
  const i = cell % nx;
  const j = Math.floor(cell / nx) % ny;
  const k = Math.floor(cell / (nx * ny));
  return 1 + i + row * (j + 1) + layer * (k + 1);
}

function cellsOfFaces({ grid, faces }: Scene, shape: Shape, bath: Uint8Array): Int32Array {
  return Int32Array.from(faces.cell.subarray(0, faces.count), (cell) => {
    const place = placeOf(cell, grid, shape);
    return bath[place] === 1 ? place : -1;
  });
}

function linksOf(
  shape: Shape,
  bath: Uint8Array,
  [perX, perY, perZ]: readonly [number, number, number],
): Links {
  const { row, layer, size } = shape;
  const toX = new Float32Array(size);
  const toY = new Float32Array(size);
  const toZ = new Float32Array(size);
  // The margin holds no bath, so no link leads out of the grid.
  for (let cell = layer; cell < size - layer; cell++) {
    if (bath[cell] !== 1) continue;
    if (bath[cell + 1] === 1) toX[cell] = perX;
    if (bath[cell + row] === 1) toY[cell] = perY;
    if (bath[cell + layer] === 1) toZ[cell] = perZ;
  }
  return { shape, toX, toY, toZ };
}

/** As `sumOfLinks`, in double precision: this is what is solved. */
function sumOfNeighbours(
  { row, layer, size }: Shape,
  bath: Uint8Array,
  [perX, perY, perZ]: readonly [number, number, number],
): Float64Array {
  const sums = new Float64Array(size);
  for (let cell = layer; cell < size - layer; cell++) {
    if (bath[cell] !== 1) continue;
    sums[cell] =
      perX * (bath[cell - 1]! + bath[cell + 1]!) +
      perY * (bath[cell - row]! + bath[cell + row]!) +
      perZ * (bath[cell - layer]! + bath[cell + layer]!);
  }
  return sums;
}

function coarser({ shape, toX, toY, toZ }: Links): Links {
  const half = shapeOf(shape.nx / 2, shape.ny / 2, shape.nz / 2);
  const halfX = new Float32Array(half.size);
  const halfY = new Float32Array(half.size);
  const halfZ = new Float32Array(half.size);
  for (let k = 1; k <= shape.nz; k++) {
    for (let j = 1; j <= shape.ny; j++) {
      const from = shape.row * j + shape.layer * k;
      const to = half.row * ((j + 1) >> 1) + half.layer * ((k + 1) >> 1);
      const evenJ = j % 2 === 0;
      const evenK = k % 2 === 0;
      for (let i = 1; i <= shape.nx; i++) {
        const fine = from + i;
        const wide = to + ((i + 1) >> 1);
        // Only what leads out of the wide cell counts: the rest lies inside it.
        if (i % 2 === 0) halfX[wide] = halfX[wide]! + toX[fine]! / 2;
        if (evenJ) halfY[wide] = halfY[wide]! + toY[fine]! / 2;
        if (evenK) halfZ[wide] = halfZ[wide]! + toZ[fine]! / 2;
      }
    }
  }
  return { shape: half, toX: halfX, toY: halfY, toZ: halfZ };
}

function sumOfLinks({ shape, toX, toY, toZ }: Links): Float64Array {
  const { row, layer, size } = shape;
  const sums = new Float64Array(size);
  for (let cell = layer; cell < size - layer; cell++) {
    sums[cell] =
      toX[cell]! + toX[cell - 1]! + toY[cell]! + toY[cell - row]! + toZ[cell]! + toZ[cell - layer]!;
  }
  return sums;
}

function halved(faceCell: Int32Array, fine: Shape, wide: Shape): Int32Array {
  return faceCell.map((cell) => {
    if (cell < 0) return -1;
    const k = Math.floor(cell / fine.layer);
    const j = Math.floor((cell % fine.layer) / fine.row);
    const i = cell % fine.row;
    return ((i + 1) >> 1) + wide.row * ((j + 1) >> 1) + wide.layer * ((k + 1) >> 1);
  });
}
