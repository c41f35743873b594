import type { Shape } from "./levels";

/*
 * How a grid lies in the solver's memory: see assembly/board.ts, which walks through it. Here counted in numbers, there
 * in bytes.
 */

/** One grid's arrays: white's cells, then black's. */
export type Board = {
  readonly shape: Shape;
  /** Cells of one colour in a row, up to a multiple of four. */
  readonly run: number;
  readonly row: number;
  readonly layer: number;
  /** From white's array to black's. */
  readonly size: number;
};

/** Cells that are worked on at once, and as many before the first row. */
const VECTOR = 4;

export function boardOf(shape: Shape): Board {
  const run = VECTOR * Math.ceil(shape.nx / 2 / VECTOR);
  const row = run + VECTOR;
  const layer = row * (shape.ny + 2);
  return { shape, run, row, layer, size: layer * (shape.nz + 2) + 2 * VECTOR };
}

/** Place of a cell in a board's arrays; i, j and k from 1, as in a grid with a margin of one cell. */
export function placeOnBoard(board: Board, i: number, j: number, k: number): number {
  const black = (i + j + k) % 2 === 0;
  const m = (i - 1) >> 1;
  return (black ? board.size : 0) + VECTOR + board.row * j + board.layer * k + m;
}

/** As `placeOnBoard`, for a cell's place in a grid's arrays with a margin. */
export function ontoBoard(board: Board, cell: number): number {
  const { row, layer } = board.shape;
  const k = Math.floor(cell / layer);
  const j = Math.floor((cell % layer) / row);
  return placeOnBoard(board, cell % row, j, k);
}

/** Lays an array of a grid with a margin out on a board. */
export function layOut(
  board: Board,
  from: Float32Array | Float64Array,
  onto: Float32Array | Float64Array,
): void {
  const { nx, ny, nz, row, layer } = board.shape;
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const cells = row * j + layer * k;
      const odd = placeOnBoard(board, 1, j, k);
      const even = placeOnBoard(board, 2, j, k);
      for (let m = 0; 2 * m < nx; m++) {
        onto[odd + m] = from[cells + 1 + 2 * m]!;
        onto[even + m] = from[cells + 2 + 2 * m]!;
      }
    }
  }
}
