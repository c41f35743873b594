import type { Grid } from "./scene";

/** A mesh in lengths of a cell from the grid's corner: what lies in cell i of a row is from i to i + 1. */
export type CellMesh = { readonly positions: Float64Array; readonly indices: Uint32Array };

/** Where the rows of cell middles along one axis pass through a surface, in order along each row. */
export type Crossings = {
  /** For each row the place of its first crossing in the columns below; one more entry at the end. */
  readonly first: Uint32Array;
  /** Along the axis, in lengths of a cell from the grid's corner. */
  readonly at: Float64Array;
  /** +1 into the solid, −1 out of it, going up the axis. */
  readonly turn: Int8Array;
};

export type Axis = 0 | 1 | 2;

/** Which other axes number the rows along an axis: row = b + countB·c. */
export const ROW_AXES = [
  [1, 2],
  [0, 2],
  [0, 1],
] as const;

/**
 * Rows are laid this share of a cell beside the middles, differently along each axis: the vertices and sides of
 * plain boxes lie just on middles, and would be met all at once.
 */
const BESIDE = [1.618e-7, 2.236e-7, 2.718e-7] as const;

/**
 * All crossings of the rows along one axis with a closed mesh.
 *
 * An edge between two triangles is judged by the same sum for both, from its lower vertex to its higher one, so a
 * row passes through exactly one of them and the counts in and out agree, whatever way the mesh is turned. A row
 * just on an edge is judged as if it lay a hair further along b, and a hair of that along c.
 *
 * @param axis 0, 1, 2 for x, y, z
 */
export function crossingsOf(mesh: CellMesh, grid: Grid, axis: Axis): Crossings {
  const counts = [grid.nx, grid.ny, grid.nz] as const;
  const [b, c] = ROW_AXES[axis];
  const { positions, indices } = mesh;
  const found: Found = { rows: [], at: [], turn: [] };
  for (let triangle = 0; triangle < indices.length; triangle += 3) {
    const p = 3 * indices[triangle]!;
    const q = 3 * indices[triangle + 1]!;
    const r = 3 * indices[triangle + 2]!;
    const firstB = firstRow(positions[p + b]!, positions[q + b]!, positions[r + b]!, BESIDE[b]);
    const lastB = lastRow(positions[p + b]!, positions[q + b]!, positions[r + b]!, BESIDE[b]);
    const firstC = firstRow(positions[p + c]!, positions[q + c]!, positions[r + c]!, BESIDE[c]);
    const lastC = lastRow(positions[p + c]!, positions[q + c]!, positions[r + c]!, BESIDE[c]);
    for (let rowC = firstC; rowC <= lastC && rowC < counts[c]; rowC++) {
      for (let rowB = firstB; rowB <= lastB && rowB < counts[b]; rowB++) {
        cross(mesh, triangle, axis, rowB, rowC, rowB + counts[b] * rowC, found);
      }
    }
  }
  return inOrder(counts[b] * counts[c], found);
}

type Found = { readonly rows: number[]; readonly at: number[]; readonly turn: number[] };

const firstRow = (p: number, q: number, r: number, beside: number): number =>
  Math.max(0, Math.ceil(Math.min(p, q, r) - 0.5 - beside));
const lastRow = (p: number, q: number, r: number, beside: number): number =>
  Math.floor(Math.max(p, q, r) - 0.5 - beside);

/** Notes where a row passes through a triangle, if it does. */
function cross(
  { positions, indices }: CellMesh,
  triangle: number,
  axis: Axis,
  rowB: number,
  rowC: number,
  row: number,
  found: Found,
): void {
  const [b, c] = ROW_AXES[axis];
  const middleB = rowB + 0.5 + BESIDE[b];
  const middleC = rowC + 0.5 + BESIDE[c];
  let [left, sum, weighed] = [0, 0, 0];
  for (let corner = 0; corner < 3; corner++) {
    const from = indices[triangle + corner]!;
    const to = indices[triangle + (corner === 2 ? 0 : corner + 1)]!;
    const opposite = 3 * indices[triangle + (corner === 0 ? 2 : corner - 1)]!;
    const forward = from < to;
    const lower = 3 * (forward ? from : to);
    const higher = 3 * (forward ? to : from);
    const alongB = positions[higher + b]! - positions[lower + b]!;
    const alongC = positions[higher + c]! - positions[lower + c]!;
    const side =
      alongB * (middleC - positions[lower + c]!) - alongC * (middleB - positions[lower + b]!);
    if (isLeft(side, alongB, alongC) === forward) left++;
    const weight = forward ? side : -side;
    sum += weight;
    weighed += weight * positions[opposite + axis]!;
  }
  if (left === 1 || left === 2 || sum === 0) return;
  found.rows.push(row);
  found.at.push(weighed / sum);
  // b, c and the axis are right-handed for x and z, left-handed for y; a face outwards along the row leads out.
  found.turn.push((left === 3) === (axis !== 1) ? -1 : 1);
}

/** Whether a row is left of an edge that runs so; of one that it is just on, a hair further along b, then c. */
const isLeft = (side: number, alongB: number, alongC: number): boolean =>
  side > 0 || (side === 0 && (alongC < 0 || (alongC === 0 && alongB > 0)));

/** Sorts by row, and within the row along it; few crossings share one. */
function inOrder(count: number, { rows, at, turn }: Found): Crossings {
  const first = new Uint32Array(count + 1);
  for (let index = 0; index < rows.length; index++) first[rows[index]! + 1]!++;
  for (let row = 0; row < count; row++) first[row + 1]! += first[row]!;
  const filled = first.slice();
  const sorted = { at: new Float64Array(rows.length), turn: new Int8Array(rows.length) };
  for (let index = 0; index < rows.length; index++) {
    const row = rows[index]!;
    let place = filled[row]!++;
    for (; place > first[row]! && sorted.at[place - 1]! > at[index]!; place--) {
      sorted.at[place] = sorted.at[place - 1]!;
      sorted.turn[place] = sorted.turn[place - 1]!;
    }
    sorted.at[place] = at[index]!;
    sorted.turn[place] = turn[index]!;
  }
  return { first, ...sorted };
}
