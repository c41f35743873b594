/*
 * One grid of the pyramid as it lies in memory, in AssemblyScript: this folder is compiled to WebAssembly (see
 * ../machine.ts, which writes these records and must name their fields in the same order).
 *
 * The cells are coloured like a chessboard, white where i + j + k is even (i from 0, j and k from 1), and each array
 * holds white's cells first, black's `size` bytes after them. In its row a cell stands at m = i >> 1. So the neighbours
 * of four cells that follow one another are four that follow one another in the other colour: at the same m in the rows
 * and layers about, and along the row at m and at m ± 1. That is what lets four cells be worked on at once.
 *
 * A cell that is not bath has 0 in `inverse` and keeps 0 in `x`, so it drops out of its neighbours' sums by itself;
 * rows end with such cells up to a multiple of four, and one more vector of them parts each row from the next.
 */

/** Bytes of a vector of four numbers, of a number, and before the first row of an array. */
export const VECTOR: usize = 16;
export const NUMBER: usize = 4;

export const WHITE: usize = 0;
export const BLACK: usize = 1;

/** Lengths and places in bytes. */
@unmanaged
export class Board {
  /** Of the cells of one colour in a row, without the margin. */
  run!: usize;
  rows!: usize;
  layers!: usize;
  /** From a row to the next, from a layer to the next, from white's array to black's. */
  row!: usize;
  layer!: usize;
  size!: usize;
  /** Correction, right-hand side, and one over the sum of all conductances. */
  x!: usize;
  b!: usize;
  inverse!: usize;
  /** The grid of cells twice as long; 0 below the coarsest. */
  below!: usize;
  /** Conductance from each cell to the next along each axis, m; only where they differ from cell to cell. */
  toX!: usize;
  toY!: usize;
  toZ!: usize;
  /** Conductance between two bath cells along each axis, m; where they are the same everywhere. */
  perX!: f32;
  perY!: f32;
  perZ!: f32;
}

/** Place of row j in layer k in an array of either colour. */
export function rowAt(board: Board, j: usize, k: usize): usize {
  return VECTOR + board.row * j + board.layer * k;
}

/** From the neighbour at the same m to the other one along the row. */
export function besideAt(colour: usize, j: usize, k: usize): isize {
  return ((j + k + colour) & 1) == 1 ? <isize>NUMBER : -(<isize>NUMBER);
}

/** Sum of the four numbers of a vector. */
export function total(four: v128): f64 {
  return (
    <f64>f32x4.extract_lane(four, 0) +
    <f64>f32x4.extract_lane(four, 1) +
    <f64>f32x4.extract_lane(four, 2) +
    <f64>f32x4.extract_lane(four, 3)
  );
}

/** A vector with nothing where there is no bath. */
export function inBath(value: v128, inverse: v128): v128 {
  return v128.and(value, f32x4.ne(inverse, f32x4.splat(0)));
}
