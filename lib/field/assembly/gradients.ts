import { besideAt, Board, inBath, rowAt, total, VECTOR } from "./board";

/*
 * The conjugate gradients' passes over the finest grid. The potential and its residual's making are in double precision,
 * all else in single.
 */

const DOUBLE: usize = 8;

/** Lengths and places in bytes; arrays of doubles are twice as long as the board's. */
@unmanaged
export class Gradients {
  board!: Board;
  potential!: usize;
  /** Sum of a cell's conductances to electrodes, less those that it lacks to neighbours: double and single. */
  rest!: usize;
  restSingle!: usize;
  gain!: usize;
  direction!: usize;
  flow!: usize;
  /** Cells beside electrodes as numbers in the arrays, rising, and what the electrodes send them, in doubles. */
  rimCells!: usize;
  rimSource!: usize;
  rimCount!: usize;
  perX!: f64;
  perY!: f64;
  perZ!: f64;
}

/** Along the new direction to where the residual has no share of it left. @returns the residual's square */
export function step(gradients: Gradients, carried: f64, product: f64): f64 {
  const board = gradients.board;
  const last = board.layers;
  let along: f64 = 0;
  turn(gradients, carried, 1);
  for (let k: usize = 1; k <= last; k++) {
    // The layer above turns just before its neighbours below ask for it.
    if (k < last) turn(gradients, carried, k + 1);
    along += flowOf(gradients, 0, k) + flowOf(gradients, 1, k);
  }
  return go(gradients, product / along);
}

/** The new direction in one layer: the correction, and as much of the old one as keeps the two apart. */
function turn(gradients: Gradients, carried: f64, k: usize): void {
  const board = gradients.board;
  const share = f32x4.splat(<f32>carried);
  const layer = board.layer;
  for (let colour: usize = 0; colour < 2; colour++) {
    const from = VECTOR + layer * k + colour * board.size;
    const x = board.x;
    const direction = gradients.direction;
    for (let p = from; p < from + layer; p += VECTOR) {
      const kept = f32x4.mul(share, v128.load(direction + p));
      v128.store(direction + p, f32x4.add(v128.load(x + p), kept));
    }
  }
}

/**
 * A times the direction, in one colour of a layer, as a sum of differences: those lose nothing in single precision
 * where neighbours are nearly alike. @returns their inner product there
 */
function flowOf(gradients: Gradients, colour: usize, k: usize): f64 {
  const board = gradients.board;
  const own = colour * board.size;
  const other = board.size - own;
  const row = board.row;
  const layer = board.layer;
  const run = board.run;
  const direction = gradients.direction;
  const flow = gradients.flow + own;
  const rest = gradients.restSingle + own;
  const inverse = board.inverse + own;
  const perX = f32x4.splat(board.perX);
  const perY = f32x4.splat(board.perY);
  const perZ = f32x4.splat(board.perZ);
  let product: f64 = 0;
  for (let j: usize = 1; j <= board.rows; j++) {
    const from = rowAt(board, j, k);
    const beside = besideAt(colour, j, k);
    let sum = f32x4.splat(0);
    for (let p = from; p < from + run; p += VECTOR) {
      const here = v128.load(direction + own + p);
      const q = direction + other + p;
      const x = f32x4.mul(perX, fall(here, v128.load(q), v128.load(q + beside)));
      const y = f32x4.mul(perY, fall(here, v128.load(q - row), v128.load(q + row)));
      const z = f32x4.mul(perZ, fall(here, v128.load(q - layer), v128.load(q + layer)));
      const leak = f32x4.mul(v128.load(rest + p), here);
      const out = inBath(f32x4.add(f32x4.add(x, y), f32x4.add(z, leak)), v128.load(inverse + p));
      v128.store(flow + p, out);
      sum = f32x4.add(sum, f32x4.mul(here, out));
    }
    product += total(sum);
  }
  return product;
}

function fall(here: v128, one: v128, two: v128): v128 {
  return f32x4.add(f32x4.sub(here, one), f32x4.sub(here, two));
}

function go(gradients: Gradients, length: f64): f64 {
  const board = gradients.board;
  const far = f32x4.splat(<f32>length);
  const gain = gradients.gain;
  const direction = gradients.direction;
  const flow = gradients.flow;
  const b = board.b;
  const row = board.row;
  let squared: f64 = 0;
  // Row by row, so that no sum in single precision grows long.
  for (let from: usize = 0; from < board.size * 2; from += row) {
    const to = min(from + row, board.size * 2);
    let sum = f32x4.splat(0);
    for (let p = from; p < to; p += VECTOR) {
      const gained = f32x4.mul(far, v128.load(direction + p));
      v128.store(gain + p, f32x4.add(v128.load(gain + p), gained));
      const left = f32x4.sub(v128.load(b + p), f32x4.mul(far, v128.load(flow + p)));
      v128.store(b + p, left);
      sum = f32x4.add(sum, f32x4.mul(left, left));
    }
    squared += total(sum);
  }
  return squared;
}

/** Puts what the steps have gained into the potential, and begins anew. */
export function takeGain(gradients: Gradients): void {
  const board = gradients.board;
  const gain = gradients.gain;
  const potential = gradients.potential;
  const direction = gradients.direction;
  for (let p: usize = 0; p < board.size * 2; p += VECTOR) {
    const gained = v128.load(gain + p);
    const low = potential + p * 2;
    const high = low + VECTOR;
    v128.store(low, f64x2.add(v128.load(low), f64x2.promote_low_f32x4(gained)));
    const upper = v128.shuffle<f32>(gained, gained, 2, 3, 2, 3);
    v128.store(high, f64x2.add(v128.load(high), f64x2.promote_low_f32x4(upper)));
    v128.store(gain + p, f32x4.splat(0));
    v128.store(direction + p, f32x4.splat(0));
  }
}

/** The residual from the potential itself, in double precision until it is kept. @returns its square */
export function refresh(gradients: Gradients): f64 {
  let squared: f64 = 0;
  let rim: usize = 0;
  for (let colour: usize = 0; colour < 2; colour++) {
    for (let k: usize = 1; k <= gradients.board.layers; k++) {
      for (let j: usize = 1; j <= gradients.board.rows; j++) {
        rim = refreshRow(gradients, colour, j, k, rim);
      }
    }
  }
  const board = gradients.board;
  for (let p: usize = 0; p < board.size * 2; p += sizeof<f32>()) {
    const left = <f64>load<f32>(board.b + p);
    squared += left * left;
  }
  return squared;
}

/** @returns how many cells beside electrodes have been passed */
function refreshRow(gradients: Gradients, colour: usize, j: usize, k: usize, passed: usize): usize {
  const board = gradients.board;
  const own = colour * board.size;
  const other = board.size - own;
  const from = rowAt(board, j, k);
  const beside = besideAt(colour, j, k) * 2;
  const row = board.row * 2;
  const layer = board.layer * 2;
  const potential = gradients.potential;
  let rim = passed;
  for (let p = from; p < from + board.run; p += sizeof<f32>()) {
    const at = own + p;
    let left: f64 = 0;
    if (load<f32>(board.inverse + at) != 0) {
      const here = load<f64>(potential + at * 2);
      const q = potential + (other + p) * 2;
      left =
        gradients.perX * (load<f64>(q) + load<f64>(q + beside) - 2 * here) +
        gradients.perY * (load<f64>(q - row) + load<f64>(q + row) - 2 * here) +
        gradients.perZ * (load<f64>(q - layer) + load<f64>(q + layer) - 2 * here) -
        load<f64>(gradients.rest + at * 2) * here;
      if (rim < gradients.rimCount && load<u32>(gradients.rimCells + rim * 4) == <u32>(at / 4)) {
        left += load<f64>(gradients.rimSource + DOUBLE * rim);
        rim++;
      }
    }
    store<f32>(board.b + at, <f32>left);
  }
  return rim;
}
