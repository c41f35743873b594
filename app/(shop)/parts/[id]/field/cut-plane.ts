import { BATH, type FieldLook, type Grid, sectionOf } from "@/lib/field";

/** Across which axis a bath is cut: "x" along the tank, "y" across it, "z" up. */
export type Axis = "x" | "y" | "z";

/** Places of the three axes: the one cut across, the one to the right, the one up the picture. */
export const AXES: Readonly<Record<Axis, readonly [number, number, number]>> = {
  x: [0, 1, 2],
  y: [1, 0, 2],
  z: [2, 0, 1],
};

/** Cells along an axis, their length in m, and where the first begins. */
function alongAxis({ nx, ny, nz, hx, hy, hz }: Grid, axis: number) {
  const count = [nx, ny, nz][axis] ?? 1;
  const edgeM = [hx, hy, hz][axis] ?? 1;
  return { count, edgeM, fromM: axis === 2 ? 0 : (-count * edgeM) / 2 };
}

/** Where a cut at a share of the way lies, at most to the middle of the last layer of cells, m. */
export function cutAt(grid: Grid, axis: Axis, share: number): number {
  const { count, edgeM, fromM } = alongAxis(grid, AXES[axis][0]);
  return fromM + Math.min(count - 0.5, Math.max(0.5, share * count)) * edgeM;
}

/** A quantity of the bath on a cut, to be read between cells. */
export type CutField = {
  readonly columns: number;
  readonly rows: number;
  readonly columnM: number;
  readonly rowM: number;
  /** Lower left corner, m. */
  readonly from: readonly [number, number];
  /** In each cell; cells that are no bath carry on what is beside them, NaN far from any. */
  readonly values: Float32Array;
  /** Least and most in the bath. */
  readonly least: number;
  readonly most: number;
};

/** What the bands of a cut show. */
export type CutKind = "VOLTS" | "CURRENT";

/** Times that what a bath cell holds is carried on into its neighbours that are none. */
const CARRIED_ON = 3;

/**
 * The volts on a cut, or the current density as decimal logarithm of its ratio to a mean.
 * @param meanSlopeVPerM slope of the potential at which the part's mean density flows, V/m; for the current
 */
export function cutField(
  look: Pick<FieldLook, "grid" | "cells" | "potentialV">,
  axis: Axis,
  share: number,
  kind: CutKind,
  meanSlopeVPerM = 1,
): CutField {
  const potentialV = kind === "VOLTS" ? look.potentialV : slopes(look, axis, share, meanSlopeVPerM);
  const section = sectionOf({ ...look, potentialV }, axis, share);
  const [, right, up] = AXES[axis];
  const values = section.potentialV;
  let [least, most] = [Infinity, -Infinity];
  section.codes.forEach((code, cell) => {
    const value = values[cell] ?? Number.NaN;
    if (code !== BATH) values[cell] = Number.NaN;
    else if (!Number.isNaN(value)) {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
  });
  for (let round = 0; round < CARRIED_ON; round++) carryOn(values, section.columns, section.rows);
  return {
    ...{ columns: section.columns, rows: section.rows, values, least, most },
    ...{ columnM: section.columnM, rowM: section.rowM },
    from: [alongAxis(look.grid, right).fromM, alongAxis(look.grid, up).fromM],
  };
}

/** Gives each cell without a value the mean of its neighbours that have one. */
function carryOn(values: Float32Array, columns: number, rows: number): void {
  const before = values.slice();
  before.forEach((value, cell) => {
    if (!Number.isNaN(value)) return;
    const [i, j] = [cell % columns, Math.floor(cell / columns)];
    let [sum, count] = [0, 0];
    for (const [di, dj] of NEIGHBOURS) {
      if (i + di < 0 || i + di >= columns || j + dj < 0 || j + dj >= rows) continue;
      const beside = before[cell + di + columns * dj] ?? Number.NaN;
      if (Number.isNaN(beside)) continue;
      sum += beside;
      count += 1;
    }
    if (count > 0) values[cell] = sum / count;
  });
}

const NEIGHBOURS = [-1, 0, 1]
  .flatMap((di) => [-1, 0, 1].map((dj) => [di, dj] as const))
  .filter(([di, dj]) => di !== 0 || dj !== 0);

/** log₁₀ of the potential's slope over a mean one, in the cells of one layer; 0 elsewhere. */
function slopes(
  { grid, cells, potentialV }: Pick<FieldLook, "grid" | "cells" | "potentialV">,
  axis: Axis,
  share: number,
  meanSlopeVPerM: number,
): Float32Array {
  const { nx, ny, nz, hx, hy, hz } = grid;
  const found = new Float32Array(potentialV.length);
  const across = alongAxis(grid, AXES[axis][0]);
  const layer = Math.min(across.count - 1, Math.max(0, Math.floor(share * across.count)));
  const counts = [nx, ny, nz];
  const strides = [1, nx, nx * ny];
  const edges = [hx, hy, hz];
  const [cut, right, up] = AXES[axis];
  for (let v = 0; v < (counts[up] ?? 0); v++) {
    for (let u = 0; u < (counts[right] ?? 0); u++) {
      const places = [0, 0, 0];
      [places[cut], places[right], places[up]] = [layer, u, v];
      const cell = places.reduce((sum, at, one) => sum + at * (strides[one] ?? 0), 0);
      if (cells[cell] !== BATH) continue;
      const squares = places.reduce((sum, at, one) => {
        const stride = strides[one] ?? 1;
        const low = at > 0 && cells[cell - stride] === BATH ? cell - stride : cell;
        const high =
          at < (counts[one] ?? 1) - 1 && cells[cell + stride] === BATH ? cell + stride : cell;
        const steps = (high - low) / stride;
        const rise = (potentialV[high] ?? 0) - (potentialV[low] ?? 0);
        return sum + (steps > 0 ? rise / (steps * (edges[one] ?? 1)) : 0) ** 2;
      }, 0);
      found[cell] = Math.log10(Math.max(1e-6, Math.sqrt(squares) / meanSlopeVPerM));
    }
  }
  return found;
}

/**
 * What a cut shows at a place, between the middles of cells by twofold interpolation.
 * @param right m @param up m
 * @returns NaN far from any bath
 */
export function valueAt(field: CutField, right: number, up: number): number {
  const { columns, rows, values, from, columnM, rowM } = field;
  const x = Math.min(columns - 1, Math.max(0, (right - from[0]) / columnM - 0.5));
  const y = Math.min(rows - 1, Math.max(0, (up - from[1]) / rowM - 0.5));
  const [i, j] = [Math.min(columns - 2, Math.floor(x)), Math.min(rows - 2, Math.floor(y))];
  const at = i + columns * j;
  const [u, v] = [x - i, y - j];
  const low = (1 - u) * (values[at] ?? 0) + u * (values[at + 1] ?? 0);
  const high = (1 - u) * (values[at + columns] ?? 0) + u * (values[at + columns + 1] ?? 0);
  return (1 - v) * low + v * high;
}

/** Where a plane cuts triangles: one piece of line for each that it cuts. */
export type CutLines = {
  /** Right and up of both ends, m: four numbers a piece. The metal lies to the left of the way from first to second. */
  readonly ends: Float32Array;
  /** Which triangle each is of. */
  readonly triangle: Uint32Array;
};

/** @param corners nine numbers a triangle, outwards by their order @param atM where on the axis */
export function cutTriangles(corners: Float32Array, axis: Axis, atM: number): CutLines {
  const [cut, right, up] = AXES[axis];
  const ends: number[] = [];
  const triangle: number[] = [];
  for (let from = 0; from < corners.length; from += 9) {
    const off = [0, 3, 6].map((at) => (corners[from + at + cut] ?? 0) - atM);
    const found: number[] = [];
    let leaving = false;
    for (let one = 0; one < 3; one++) {
      const other = (one + 1) % 3;
      const [a, b] = [off[one] ?? 0, off[other] ?? 0];
      if (a < 0 === b < 0) continue;
      if (found.length === 0) leaving = a < 0;
      const share = a / (a - b);
      for (const axisOf of [right, up]) {
        const [p, q] = [
          corners[from + 3 * one + axisOf] ?? 0,
          corners[from + 3 * other + axisOf] ?? 0,
        ];
        found.push(p + share * (q - p));
      }
    }
    if (found.length !== 4) continue;
    // Axes in the order of the picture are a mirror of those in space for "y", and so is the way round.
    const forwards = leaving === (axis === "y");
    ends.push(...(forwards ? found : [...found.slice(2), ...found.slice(0, 2)]));
    triangle.push(from / 9);
  }
  return { ends: Float32Array.from(ends), triangle: Uint32Array.from(triangle) };
}

/**
 * Where metal lies on a level line through a cut: pairs of begin and end, m. Counted by how often one goes into it
 * and out of it, so that a crack between two triangles does no harm.
 */
export function metalAlong({ ends }: CutLines, up: number): readonly (readonly [number, number])[] {
  const crossings: { readonly at: number; readonly way: number }[] = [];
  for (let from = 0; from < ends.length; from += 4) {
    const [x, y, u, v] = [
      ends[from] ?? 0,
      ends[from + 1] ?? 0,
      ends[from + 2] ?? 0,
      ends[from + 3] ?? 0,
    ];
    if (y <= up === v <= up) continue;
    crossings.push({ at: x + ((up - y) / (v - y)) * (u - x), way: v > y ? -1 : 1 });
  }
  crossings.sort((one, other) => one.at - other.at);
  const found: (readonly [number, number])[] = [];
  let depth = 0;
  crossings.forEach(({ at, way }, index) => {
    depth += way;
    const next = crossings[index + 1];
    if (depth > 0 && next) found.push([at, next.at]);
  });
  return found;
}
