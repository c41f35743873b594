import { besideAt, BLACK, Board, inBath, rowAt, total, VECTOR, WHITE } from "./board";
import { Own, ownFlow, Same, sameFlow } from "./flow";

/*
 * One V-cycle of multigrid, as a symmetric correction: Gauss–Seidel in two colours, white before black on the way down
 * and black before white on the way up; the sum of the residual down and the constant up.
 *
 * From nothing, white is a product; after black, only white lacks anything; on the way up black is set anew from white,
 * so only white takes the coarse correction in. The passes follow each other layer by layer, while a layer is still in
 * the cache.
 */

/** Sweeps on the coarsest grid, which is too small for more to cost anything. */
const COARSEST_SWEEPS: usize = 16;

/**
 * Corrects: `x` of the finest grid becomes about A⁻¹ of its `b`.
 *
 * @returns the inner product of the two, which the conjugate gradients want
 */
export function correct(finest: Board): f64 {
  return cycle<Same>(finest);
}

function cycle<Links>(board: Board): f64 {
  if (board.below == 0) return settle<Links>(board);
  const below = changetype<Board>(board.below);
  down<Links>(board, below);
  cycle<Own>(below);
  return up<Links>(board, below);
}

/** White, black, white and so on to white: the same there and back. */
function settle<Links>(board: Board): f64 {
  let white: f64 = 0;
  let black: f64 = 0;
  for (let k: usize = 1; k <= board.layers; k++) startWhite(board, k);
  for (let sweep: usize = 0; sweep < COARSEST_SWEEPS; sweep++) {
    black = 0;
    white = 0;
    for (let k: usize = 1; k <= board.layers; k++) black += relax<Links>(board, BLACK, k);
    for (let k: usize = 1; k <= board.layers; k++) white += relax<Links>(board, WHITE, k);
  }
  return white + black;
}

function down<Links>(board: Board, below: Board): void {
  const last = board.layers;
  startWhite(board, 1);
  for (let k: usize = 1; k <= last; k++) {
    if (k < last) startWhite(board, k + 1);
    relax<Links>(board, BLACK, k);
    // Two layers together lack what black has given the layers about them.
    if (k > 1 && (k & 1) == 1) restrict<Links>(board, below, k >> 1);
  }
  restrict<Links>(board, below, last >> 1);
}

function up<Links>(board: Board, below: Board): f64 {
  let product: f64 = 0;
  raiseWhite(board, below, board.layers);
  for (let k = board.layers; k >= 1; k--) {
    if (k > 1) raiseWhite(board, below, k - 1);
    product += relax<Links>(board, BLACK, k);
    if (k < board.layers) product += relax<Links>(board, WHITE, k + 1);
  }
  return product + relax<Links>(board, WHITE, 1);
}

/** White's Gauss–Seidel from nothing. */
function startWhite(board: Board, k: usize): void {
  const x = board.x;
  const b = board.b;
  const inverse = board.inverse;
  const run = board.run;
  for (let j: usize = 1; j <= board.rows; j++) {
    const from = rowAt(board, j, k);
    for (let p = from; p < from + run; p += VECTOR) {
      v128.store(x + p, f32x4.mul(v128.load(b + p), v128.load(inverse + p)));
    }
  }
}

/** Sets one colour of a layer so that nothing is lacking there. @returns the inner product of x and b over it */
function relax<Links>(board: Board, colour: usize, k: usize): f64 {
  const own = colour * board.size;
  const other = board.size - own;
  const run = board.run;
  const x = board.x + own;
  const b = board.b + own;
  const inverse = board.inverse + own;
  let product: f64 = 0;
  for (let j: usize = 1; j <= board.rows; j++) {
    const from = rowAt(board, j, k);
    const beside = besideAt(colour, j, k);
    let sum = f32x4.splat(0);
    for (let p = from; p < from + run; p += VECTOR) {
      const right = v128.load(b + p);
      const flow = isInteger<Links>()
        ? sameFlow(board, own, other, p, beside)
        : ownFlow(board, own, other, p, beside);
      const set = f32x4.mul(f32x4.add(right, flow), v128.load(inverse + p));
      v128.store(x + p, set);
      sum = f32x4.add(sum, f32x4.mul(right, set));
    }
    product += total(sum);
  }
  return product;
}

/** What white lacks after black, eight cells of it together: the flow from its neighbours. */
function restrict<Links>(board: Board, below: Board, k: usize): void {
  for (let j: usize = 1; j <= below.rows; j++) {
    const to = below.b + rowAt(below, j, k);
    const even = ((j + k) & 1) * below.size;
    const odd = below.size - even;
    for (let m: usize = 0; m < below.run; m += VECTOR) {
      let low = f32x4.splat(0);
      let high = f32x4.splat(0);
      for (let row: usize = 0; row < 4; row++) {
        const near = j * 2 - 1 + (row & 1);
        const deep = k * 2 - 1 + (row >> 1);
        const p = rowAt(board, near, deep) + m * 2;
        const beside = besideAt(WHITE, near, deep);
        low = f32x4.add(low, whiteLacks<Links>(board, p, beside));
        high = f32x4.add(high, whiteLacks<Links>(board, p + VECTOR, beside));
      }
      // A white cell each stands in eight cells that follow one another along the row below.
      v128.store(to + even + m, v128.shuffle<f32>(low, high, 0, 2, 4, 6));
      v128.store(to + odd + m, v128.shuffle<f32>(low, high, 1, 3, 5, 7));
    }
  }
}

function whiteLacks<Links>(board: Board, p: usize, beside: isize): v128 {
  const flow = isInteger<Links>()
    ? sameFlow(board, 0, board.size, p, beside)
    : ownFlow(board, 0, board.size, p, beside);
  return inBath(flow, v128.load(board.inverse + p));
}

/** Takes the correction of the grid below into white. */
function raiseWhite(board: Board, below: Board, k: usize): void {
  const deep = (k + 1) >> 1;
  for (let j: usize = 1; j <= board.rows; j++) {
    const near = (j + 1) >> 1;
    const from = below.x + rowAt(below, near, deep);
    const even = ((near + deep) & 1) * below.size;
    const odd = below.size - even;
    const to = rowAt(board, j, k);
    for (let m: usize = 0; m * 2 < board.run; m += VECTOR) {
      const evens = v128.load(from + even + m);
      const odds = v128.load(from + odd + m);
      const p = to + m * 2;
      add(board, p, v128.shuffle<f32>(evens, odds, 0, 4, 1, 5));
      // The second half may lie behind the row's end.
      if (m * 2 + VECTOR < board.run) {
        add(board, p + VECTOR, v128.shuffle<f32>(evens, odds, 2, 6, 3, 7));
      }
    }
  }
}

function add(board: Board, p: usize, by: v128): void {
  const at = board.x + p;
  v128.store(at, f32x4.add(v128.load(at), inBath(by, v128.load(board.inverse + p))));
}
