import { cornersOf, type Mesh, type Point } from "./mesh";
import type { Grid } from "./scene";

/** Where a row of cell middles passes through a surface, in order along the row. */
export type Crossings = {
  /** For each row the place of its first crossing in the columns below; one more entry at the end. */
  readonly first: Uint32Array;
  /** Along the axis, in lengths of a cell from the grid's corner. */
  readonly at: Float64Array;
  /** +1 into the solid, −1 out of it, going up the axis. */
  readonly turn: Int8Array;
};

/** Which other axes number the rows along an axis: row = b + countB·c. */
export const ROW_AXES = [
  [1, 2],
  [0, 2],
  [0, 1],
] as const;

/**
 * Rows are laid this share of a cell beside the middles, differently along each axis: a vertex that lies exactly
 * on a middle, as those of plain boxes do, is then on neither side of nothing.
 */
const BESIDE = [1.618e-7, 2.236e-7, 2.718e-7] as const;

/**
 * All crossings of the rows along one axis with a closed mesh.
 *
 * An edge between two triangles is judged by the same sum for both, from its lower vertex to its higher one, so a
 * row passes through exactly one of them and counts in and out agree whatever the mesh is turned to.
 *
 * @param axis 0, 1, 2 for x, y, z
 */
export function crossingsOf(mesh: Mesh, grid: Grid, axis: 0 | 1 | 2): Crossings {
  const counts = [grid.nx, grid.ny, grid.nz] as const;
  const lengths = [grid.hx, grid.hy, grid.hz] as const;
  const [b, c] = ROW_AXES[axis];
  const rows: number[] = [];
  const places: number[] = [];
  const turns: number[] = [];
  const inCells = (point: Point): Point => [
    point[0] / lengths[0],
    point[1] / lengths[1],
    point[2] / lengths[2],
  ];
  for (let triangle = 0; triangle < mesh.indices.length / 3; triangle++) {
    const corners = cornersOf(mesh, triangle).map(inCells) as [Point, Point, Point];
    const names = [0, 1, 2].map((place) => mesh.indices[3 * triangle + place]!);
    const [leastB, mostB] = rowsBetween(corners, b, counts[b]);
    const [leastC, mostC] = rowsBetween(corners, c, counts[c]);
    for (let rowC = leastC; rowC <= mostC; rowC++) {
      for (let rowB = leastB; rowB <= mostB; rowB++) {
        const hit = hitAt(corners, names, axis, rowB + 0.5 + BESIDE[b], rowC + 0.5 + BESIDE[c]);
        if (!hit) continue;
        rows.push(rowB + counts[b] * rowC);
        places.push(hit.at);
        turns.push(hit.turn);
      }
    }
  }
  return inOrder(counts[b] * counts[c], rows, places, turns);
}

function rowsBetween(
  corners: readonly Point[],
  axis: 0 | 1 | 2,
  count: number,
): readonly [number, number] {
  const values = corners.map((corner) => corner[axis]);
  return [
    Math.max(0, Math.ceil(Math.min(...values) - 0.5 - 1e-6)),
    Math.min(count - 1, Math.floor(Math.max(...values) - 0.5 + 1e-6)),
  ];
}

function hitAt(
  corners: readonly [Point, Point, Point],
  names: readonly number[],
  axis: 0 | 1 | 2,
  rowB: number,
  rowC: number,
): { readonly at: number; readonly turn: number } | null {
  const [b, c] = ROW_AXES[axis];
  const weights = [0, 1, 2].map((place) => {
    const [from, to] = [(place + 1) % 3, (place + 2) % 3];
    const forward = names[from]! < names[to]!;
    const [low, high] = forward ? [corners[from]!, corners[to]!] : [corners[to]!, corners[from]!];
    const side = (high[b] - low[b]) * (rowC - low[c]) - (high[c] - low[c]) * (rowB - low[b]);
    return forward ? side : -side;
  });
  const above = weights.every((weight) => weight > 0);
  const below = weights.every((weight) => weight < 0);
  if (!above && !below) return null;
  const sum = weights[0]! + weights[1]! + weights[2]!;
  const at =
    corners.reduce((total, corner, place) => total + weights[place]! * corner[axis], 0) / sum;
  // b, c run with the axis right-handed for x and z, left-handed for y; outwards against the row is in.
  const outwards = (above ? 1 : -1) * (axis === 1 ? -1 : 1);
  return { at, turn: -outwards };
}

function inOrder(
  count: number,
  rows: readonly number[],
  places: readonly number[],
  turns: readonly number[],
): Crossings {
  const order = Uint32Array.from(rows.keys()).sort(
    (one, other) => rows[one]! - rows[other]! || places[one]! - places[other]!,
  );
  const first = new Uint32Array(count + 1);
  for (const row of rows) first[row + 1] = first[row + 1]! + 1;
  for (let row = 0; row < count; row++) first[row + 1] = first[row + 1]! + first[row]!;
  return {
    first,
    at: Float64Array.from(order, (place) => places[place]!),
    turn: Int8Array.from(order, (place) => turns[place]!),
  };
}
