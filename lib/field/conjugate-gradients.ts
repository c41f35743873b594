import { correct } from "./cycle";
import type { Pyramid } from "./levels";
import { type Cancel, Cancelled, type Progress } from "./scene";

/*
 * Conjugate gradients, each step corrected by one V-cycle.
 *
 * The potential and its residual are kept in double precision; directions and corrections in single, which
 * halves what has to go through memory. Single precision carries a residual down by about six digits, so it is
 * worked out anew after every six and the gradients start again from there (iterative refinement).
 */

/** Digits of the residual won before it is worked out anew. */
const REFRESH_AT = 1e-6;

export type Krylov = {
  /** V at each cell of the finest level's arrays; where to start from, and the answer. */
  readonly potential: Float64Array;
  readonly residual: Float64Array;
  readonly direction: Float32Array;
  readonly flow: Float32Array;
};

export type Stop = {
  /** Residual over right-hand side, both as Euclidean norms. */
  readonly tolerance: number;
  readonly mostIterations: number;
  readonly onProgress?: Progress | undefined;
  readonly cancel?: Cancel | undefined;
};

export type Solved = { readonly iterations: number; readonly residual: number };

export function krylovFor({ finest }: Pyramid): Krylov {
  const size = finest.x.length;
  return {
    potential: new Float64Array(size),
    residual: new Float64Array(size),
    direction: new Float32Array(size),
    flow: new Float32Array(size),
  };
}

/**
 * Solves A·potential = source; the source is given where it is not zero.
 *
 * @throws Cancelled when told to end
 * @throws RangeError when it does not get there in `mostIterations`
 */
export function solve(
  pyramid: Pyramid,
  krylov: Krylov,
  source: { readonly cells: Int32Array; readonly values: Float64Array },
  stop: Stop,
): Solved {
  const scale = Math.sqrt(source.values.reduce((sum, value) => sum + value * value, 0));
  if (scale === 0) {
    krylov.potential.fill(0);
    return { iterations: 0, residual: 0 };
  }
  const goal = stop.tolerance * scale;
  let iterations = 0;
  let norm = freshResidual(pyramid, krylov, source);
  while (norm > goal) {
    const until = Math.max(goal, REFRESH_AT * norm);
    let squared = 0;
    krylov.direction.fill(0);
    while (norm > until) {
      if (stop.cancel?.cancelled) throw new Cancelled("the field solution was told to end");
      if (iterations++ >= stop.mostIterations) throw notThere(stop, norm / scale);
      const product = correct(pyramid);
      const carried = squared === 0 ? 0 : product / squared;
      squared = product;
      norm = Math.sqrt(step(krylov, pyramid, carried, product));
      stop.onProgress?.(Math.min(1, Math.log(norm / scale) / Math.log(stop.tolerance)));
    }
    norm = freshResidual(pyramid, krylov, source);
  }
  return { iterations, residual: norm / scale };
}

/** Along the new direction to where the residual has no share of it left. @returns the residual's square */
function step(krylov: Krylov, pyramid: Pyramid, carried: number, product: number): number {
  const { finest } = pyramid;
  const { direction, flow, potential, residual } = krylov;
  const { x, b } = finest;
  const size = x.length;
  for (let p = 0; p < size; p++) direction[p] = x[p]! + carried * direction[p]!;
  const length = product / flowOf(pyramid, direction, flow);
  let squared = 0;
  for (let p = 0; p < size; p++) {
    potential[p] = potential[p]! + length * direction[p]!;
    const left = residual[p]! - length * flow[p]!;
    residual[p] = left;
    b[p] = left;
    squared += left * left;
  }
  return squared;
}

/** A times a direction. @returns their inner product */
function flowOf({ finest }: Pyramid, direction: Float32Array, flow: Float32Array): number {
  const { nx, ny, nz, row, layer, diagonal, perX, perY, perZ } = finest;
  let product = 0;
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + row * j + layer * k;
      for (let p = from; p < from + nx; p++) {
        const sum = diagonal[p]!;
        if (sum === 0) continue;
        const here = direction[p]!;
        const out =
          sum * here -
          perX * (direction[p - 1]! + direction[p + 1]!) -
          perY * (direction[p - row]! + direction[p + row]!) -
          perZ * (direction[p - layer]! + direction[p + layer]!);
        flow[p] = out;
        product += out * here;
      }
    }
  }
  return product;
}

/** The residual from the potential itself, in double precision. @returns its norm */
function freshResidual(
  { finest }: Pyramid,
  { potential, residual }: Krylov,
  { cells, values }: { readonly cells: Int32Array; readonly values: Float64Array },
): number {
  const { nx, ny, nz, row, layer, diagonal, perX, perY, perZ, b } = finest;
  residual.fill(0);
  cells.forEach((cell, place) => (residual[cell] = values[place]!));
  let squared = 0;
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + row * j + layer * k;
      for (let p = from; p < from + nx; p++) {
        const sum = diagonal[p]!;
        if (sum === 0) continue;
        const left =
          residual[p]! -
          sum * potential[p]! +
          perX * (potential[p - 1]! + potential[p + 1]!) +
          perY * (potential[p - row]! + potential[p + row]!) +
          perZ * (potential[p - layer]! + potential[p + layer]!);
        residual[p] = left;
        b[p] = left;
        squared += left * left;
      }
    }
  }
  return Math.sqrt(squared);
}

function notThere({ mostIterations, tolerance }: Stop, reached: number): RangeError {
  return new RangeError(
    `the field solution reached a residual of ${reached.toExponential(1)} in ${mostIterations} iterations, ` +
      `expected ${tolerance.toExponential(1)}`,
  );
}
