import type { CoarseLevel } from "./levels";

/*
 * The V-cycle below the finest grid, where each cell has its own conductances. An eighth of the work of the
 * grid above, so these loops are written for the reader first.
 */

/** Sweeps there and back on the coarsest grid, which is too small for more to cost anything. */
const COARSEST_SWEEPS = 8;

/** Corrects the first of the levels, with the help of those after it: `x` becomes about A⁻¹ of `b`. */
export function correctCoarse([level, ...below]: readonly CoarseLevel[]): void {
  if (!level) return;
  const [next] = below;
  sweepDown(level);
  if (next) {
    restrict(level, next);
    correctCoarse(below);
    prolong(level, next);
  } else {
    for (let sweep = 1; sweep < COARSEST_SWEEPS; sweep++) {
      sweepUp(level);
      sweepAgain(level);
    }
  }
  sweepUp(level);
}

/** Gauss–Seidel forwards from nothing. */
function sweepDown({ nx, ny, nz, row, layer, inverse, x, b, toX, toY, toZ }: CoarseLevel): void {
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + row * j + layer * k;
      for (let p = from; p < from + nx; p++) {
        x[p] =
          (b[p]! +
            toX[p - 1]! * x[p - 1]! +
            toY[p - row]! * x[p - row]! +
            toZ[p - layer]! * x[p - layer]!) *
          inverse[p]!;
      }
    }
  }
}

/** The residual that `sweepDown` leaves is the flow from the neighbours after a cell. */
function restrict(fine: CoarseLevel, coarse: CoarseLevel): void {
  const { nx, ny, nz, row, layer, x, toX, toY, toZ } = fine;
  coarse.b.fill(0);
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const to = coarse.row * ((j + 1) >> 1) + coarse.layer * ((k + 1) >> 1);
      const from = row * j + layer * k;
      for (let i = 1; i <= nx; i++) {
        const p = from + i;
        const q = to + ((i + 1) >> 1);
        coarse.b[q] =
          coarse.b[q]! + toX[p]! * x[p + 1]! + toY[p]! * x[p + row]! + toZ[p]! * x[p + layer]!;
      }
    }
  }
}

function prolong({ nx, ny, nz, row, layer, inverse, x }: CoarseLevel, coarse: CoarseLevel): void {
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = coarse.row * ((j + 1) >> 1) + coarse.layer * ((k + 1) >> 1);
      const to = row * j + layer * k;
      for (let i = 1; i <= nx; i++) {
        const p = to + i;
        if (inverse[p]! > 0) x[p] = x[p]! + coarse.x[from + ((i + 1) >> 1)]!;
      }
    }
  }
}

/** Gauss–Seidel backwards. */
function sweepUp(level: CoarseLevel): void {
  const { nx, ny, nz, row, layer } = level;
  for (let k = nz; k >= 1; k--) {
    for (let j = ny; j >= 1; j--) {
      const to = row * j + layer * k;
      for (let p = to + nx; p > to; p--) relax(level, p);
    }
  }
}

/** Gauss–Seidel forwards from what is there. */
function sweepAgain(level: CoarseLevel): void {
  const { nx, ny, nz, row, layer } = level;
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + row * j + layer * k;
      for (let p = from; p < from + nx; p++) relax(level, p);
    }
  }
}

function relax({ row, layer, inverse, x, b, toX, toY, toZ }: CoarseLevel, p: number): void {
  x[p] =
    (b[p]! +
      toX[p - 1]! * x[p - 1]! +
      toX[p]! * x[p + 1]! +
      toY[p - row]! * x[p - row]! +
      toY[p]! * x[p + row]! +
      toZ[p - layer]! * x[p - layer]! +
      toZ[p]! * x[p + layer]!) *
    inverse[p]!;
}
