import { type Board, ontoBoard } from "./board";
import type { Levels } from "./levels";
import type { Faces } from "./scene";

/** The cells of one grid that touch an electrode. */
export type Rim = {
  /** Each once, its place on the board, rising. */
  readonly cells: Int32Array;
  /** Sum of each one's conductances to other cells, m. */
  readonly toBath: Float64Array;
  /** For each face its cell's place on the board, and in `cells`; −1 where the bath is cut off from every electrode. */
  readonly facePlace: Int32Array;
  readonly rimOfFace: Int32Array;
};

/** @param depth of the grid, 0 for the finest */
export function rimOf(board: Board, { faceCells, sums }: Levels, depth: number): Rim {
  const faceCell = faceCells[depth]!;
  const facePlace = faceCell.map((cell) => (cell < 0 ? -1 : ontoBoard(board, cell)));
  const rimOfPlace = new Int32Array(2 * board.size);
  for (const place of facePlace) if (place >= 0) rimOfPlace[place] = 1;
  let count = 0;
  const cells = new Int32Array(facePlace.length);
  for (let place = 0; place < rimOfPlace.length; place++) {
    if (rimOfPlace[place] === 0) continue;
    rimOfPlace[place] = count;
    cells[count++] = place;
  }
  const rimOfFace = facePlace.map((place) => (place < 0 ? -1 : rimOfPlace[place]!));
  const toBath = new Float64Array(count);
  rimOfFace.forEach((rim, face) => {
    if (rim >= 0) toBath[rim] = sums[depth]![faceCell[face]!]!;
  });
  return { cells: cells.slice(0, count), toBath, facePlace, rimOfFace };
}

/**
 * Conductances to the electrodes: the bath between a cell's middle and the metal, half a cell more on each coarser grid,
 * and behind it what the face itself adds. On the finest grid that is the second-order scheme of Gibou, Fedkiw, Cheng
 * and Kang (J. Comput. Phys. 176, 2002; from memory), symmetric.
 *
 * @param lengthM for each side of a cell, a cell's length of bath on the finest grid, 1/m: `cellLengths`
 * @param addedM  for each face what it adds, 1/m, ≥ 0; none when left out
 * @returns of each face, m, 0 where the bath is cut off; and the sum of all conductances of each cell of the rim, m
 */
export function leaksInto(
  { toBath, rimOfFace }: Rim,
  { count, side, gap }: Faces,
  depth: number,
  lengthM: readonly number[],
  addedM?: Float64Array,
): { readonly leaks: Float64Array; readonly sums: Float64Array } {
  const leaks = new Float64Array(count);
  const sums = toBath.slice();
  const further = (2 ** depth - 1) / 2;
  for (let face = 0; face < count; face++) {
    const rim = rimOfFace[face]!;
    if (rim < 0) continue;
    const bathM = (gap[face]! + further) * lengthM[side[face]!]!;
    const leak = 1 / (bathM + (addedM?.[face] ?? 0));
    leaks[face] = leak;
    sums[rim]! += leak;
  }
  return { leaks, sums };
}
