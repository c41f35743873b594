import { correctCoarse } from "./cycle-coarse";
import type { CoarseLevel, Level, Pyramid } from "./levels";

type Finest = Pyramid["finest"];

/*
 * One V-cycle of multigrid, as a symmetric correction: Gauss–Seidel forwards on the way down, the mirror image
 * backwards on the way up, the sum of the residual down and the constant up.
 *
 * What makes it fast: the sweep down starts from nothing, so it reads only the neighbours before a cell, and
 * what it leaves is the sum of those after it. Both are half the work of a full sweep. Layers are corrected just
 * before the sweep up reaches them, while they are still in the cache. Index arithmetic is written out, and
 * elements are read without a check for what cannot be missing, since these loops are nearly all of the time.
 */

/**
 * Corrects: `finest.x` becomes about A⁻¹ of `finest.b`.
 *
 * @returns the inner product of the two, which the conjugate gradients want
 */
export function correct({ finest, coarse }: Pyramid): number {
  const first = coarse[0];
  sweepDown(finest);
  if (first) {
    restrict(finest, first);
    correctCoarse(coarse);
  }
  return sweepUp(finest, first);
}

/** Gauss–Seidel forwards from nothing on the finest grid. */
function sweepDown({ nx, ny, nz, row, layer, inverse, x, b, perX, perY, perZ }: Finest): void {
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + row * j + layer * k;
      const to = from + nx;
      let before = 0;
      for (let p = from; p < to; p++) {
        before = (b[p]! + perX * before + perY * x[p - row]! + perZ * x[p - layer]!) * inverse[p]!;
        x[p] = before;
      }
    }
  }
}

/** The residual that `sweepDown` leaves, eight cells of it together. */
function restrict(finest: Finest, { nx, ny, nz, row, layer, b }: Level): void {
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const from = 1 + finest.row * (2 * j - 1) + finest.layer * (2 * k - 1);
      const to = 1 + row * j + layer * k;
      for (let i = 0; i < nx; i++) {
        const p = from + 2 * i;
        b[to + i] =
          pairAfter(finest, p) +
          pairAfter(finest, p + finest.row) +
          pairAfter(finest, p + finest.layer) +
          pairAfter(finest, p + finest.row + finest.layer);
      }
    }
  }
}

/** What two cells in a row still lack: the flow from the neighbours after them. */
function pairAfter({ row, layer, inverse, x, perX, perY, perZ }: Finest, p: number): number {
  let lacks = 0;
  if (inverse[p]! > 0) lacks += perX * x[p + 1]! + perY * x[p + row]! + perZ * x[p + layer]!;
  if (inverse[p + 1]! > 0) {
    lacks += perX * x[p + 2]! + perY * x[p + 1 + row]! + perZ * x[p + 1 + layer]!;
  }
  return lacks;
}

/** Takes the coarse correction in, layer by layer, and Gauss–Seidel backwards behind it. */
function sweepUp(finest: Finest, coarse: CoarseLevel | undefined): number {
  const { nx, ny, nz, row, layer, inverse, x, b, perX, perY, perZ } = finest;
  let product = 0;
  if (coarse) prolongLayer(finest, coarse, nz);
  for (let k = nz; k >= 1; k--) {
    if (coarse && k > 1) prolongLayer(finest, coarse, k - 1);
    for (let j = ny; j >= 1; j--) {
      const to = row * j + layer * k;
      let after = 0;
      for (let p = to + nx; p > to; p--) {
        const right = b[p]!;
        after =
          (right +
            perX * (x[p - 1]! + after) +
            perY * (x[p - row]! + x[p + row]!) +
            perZ * (x[p - layer]! + x[p + layer]!)) *
          inverse[p]!;
        x[p] = after;
        product += right * after;
      }
    }
  }
  return product;
}

function prolongLayer(fine: Level, coarse: Level, k: number): void {
  for (let j = 1; j <= fine.ny; j++) {
    const to = 1 + fine.row * j + fine.layer * k;
    const from = 1 + coarse.row * ((j + 1) >> 1) + coarse.layer * ((k + 1) >> 1);
    for (let i = 0; i < coarse.nx; i++) {
      const p = to + 2 * i;
      const by = coarse.x[from + i]!;
      if (fine.inverse[p]! > 0) fine.x[p] = fine.x[p]! + by;
      if (fine.inverse[p + 1]! > 0) fine.x[p + 1] = fine.x[p + 1]! + by;
    }
  }
}
