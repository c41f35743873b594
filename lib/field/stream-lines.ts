import type { FieldLook } from "./look";
import { BATH, FIRST_ELECTRODE, type Grid } from "./scene";

/** Lines along which the current flows, each carrying as much as every other. */
export type StreamLines = {
  /** Three numbers a point, from the middle of the tank's floor, m; each line runs from the part to the anode. */
  readonly points: Float32Array;
  /** First point of each line, and behind the last one the number of all points. */
  readonly starts: Uint32Array;
  /** Index of the electrode that each line ends on; `NO_ELECTRODE` where it came to none. */
  readonly ends: Uint8Array;
};

export const NO_ELECTRODE = 255;

export type StreamOptions = {
  /** Lines, 1 to 5000. */
  readonly count: number;
  /** Weight of each patch of the surface, ≥ 0; its current when left out. */
  readonly weights?: Float32Array;
};

type Field = Pick<FieldLook, "grid" | "cells" | "potentialV" | "electrodes" | "surface">;

const MOST_LINES = 5000;
/** Length of a step, in lengths of the shortest cell edge. */
const STEP = 0.5;
/** How far from the metal the bath is looked for, in steps. */
const OFF_THE_METAL = 6;
/** Halvings that find where the last step met the metal: a hundredth of a cell. */
const HALVINGS = 6;

/**
 * Traces the lines along which the current comes to the parts.
 *
 * Each begins on the wet surface. Beginnings are spread evenly over the current, so that lines stand close where it
 * is strong and each carries the same; from there the line climbs the potential, φ between cells by the gradients of
 * the bath cells about it, in steps of half a cell by the midpoint rule, until it meets an anode. It slides along
 * what insulates, and ends where it cannot go on.
 *
 * @returns no line where no current flows
 * @throws RangeError if the count is out of its range
 * @example streamLines(look, { count: 90 }).starts.length // 91
 */
export function streamLines(field: Field, { count, weights }: StreamOptions): StreamLines {
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_LINES)) {
    throw new RangeError(`lines must be a whole number from 1 to ${MOST_LINES}, got ${count}`);
  }
  const tracer = new Tracer(field);
  const points: number[] = [];
  const starts = [0];
  const ends: number[] = [];
  for (const seed of seedsOn(field, weights ?? currents(field), count)) {
    const end = tracer.trace(seed, points);
    if (end === null) continue;
    starts.push(points.length / 3);
    ends.push(end);
  }
  return {
    points: Float32Array.from(points),
    starts: Uint32Array.from(starts),
    ends: Uint8Array.from(ends),
  };
}

/** Current into each patch of a part, over the mean density: m². */
function currents({ surface, electrodes }: Field): Float32Array {
  const { corners, ratio, electrode } = surface;
  return ratio.map((density, patch) =>
    electrodes[electrode[patch]!]!.kind === "PART" && density > 0
      ? density * Math.hypot(...normalOf(corners, patch))
      : 0,
  );
}

type Seed = { readonly place: readonly number[]; readonly normal: readonly number[] };

/** Beginnings in equal steps of the weights summed up along a path that fills space, so that they spread evenly. */
function* seedsOn(
  { surface: { corners }, grid }: Field,
  weights: Float32Array,
  count: number,
): Generator<Seed> {
  const keys = Float64Array.from(weights, (_, patch) => pathKey(corners, patch, grid));
  const order = Uint32Array.from(weights.keys())
    .filter((patch) => weights[patch]! > 0)
    .sort((one, other) => keys[one]! - keys[other]!);
  const all = order.reduce((sum, patch) => sum + weights[patch]!, 0);
  let below = 0;
  let line = 0;
  for (const patch of order) {
    below += weights[patch]!;
    for (; line < count && ((line + 0.5) / count) * all <= below; line++) {
      yield { place: placeIn(corners, patch, line), normal: normalOf(corners, patch) };
    }
  }
}

/** Place along a path through all of space (Morton's order): near on the path is near in space. */
function pathKey(corners: Float32Array, patch: number, { nx, ny, nz, hx, hy, hz }: Grid): number {
  const size = Math.max(nx * hx, ny * hy, nz * hz);
  let key = 0;
  for (let bit = 9; bit >= 0; bit--) {
    for (let axis = 0; axis < 3; axis++) {
      const share = corners[9 * patch + axis]! / size + (axis === 2 ? 0 : 0.5);
      key = 2 * key + ((Math.floor(1024 * Math.min(0.9999, Math.max(0, share))) >> bit) & 1);
    }
  }
  return key;
}

/** A place in a triangle, another for each line, evenly spread (Roberts' R2 sequence). */
function placeIn(corners: Float32Array, patch: number, line: number): readonly number[] {
  let [u, v] = [(0.5 + 0.754877666 * line) % 1, (0.5 + 0.569840291 * line) % 1];
  if (u + v > 1) [u, v] = [1 - u, 1 - v];
  return [0, 1, 2].map((axis) => {
    const at = 9 * patch + axis;
    return (1 - u - v) * corners[at]! + u * corners[at + 3]! + v * corners[at + 6]!;
  });
}

/** Outwards, as long as the triangle's area, m². */
function normalOf(corners: Float32Array, patch: number): readonly [number, number, number] {
  const at = 9 * patch;
  const [ax, ay, az] = [0, 1, 2].map((axis) => corners[at + 3 + axis]! - corners[at + axis]!);
  const [bx, by, bz] = [0, 1, 2].map((axis) => corners[at + 6 + axis]! - corners[at + axis]!);
  return [(ay! * bz! - az! * by!) / 2, (az! * bx! - ax! * bz!) / 2, (ax! * by! - ay! * bx!) / 2];
}

/** Climbs the potential; its few numbers are used again for every step. */
class Tracer {
  private readonly counts: readonly number[];
  private readonly edges: readonly number[];
  private readonly strides: readonly number[];
  private readonly step: number;
  private readonly most: number;
  private readonly here = new Float64Array(3);
  private readonly next = new Float64Array(3);
  private readonly way = new Float64Array(3);

  constructor(private readonly field: Field) {
    const { nx, ny, nz, hx, hy, hz } = field.grid;
    this.counts = [nx, ny, nz];
    this.edges = [hx, hy, hz];
    this.strides = [1, nx, nx * ny];
    this.step = STEP * Math.min(hx, hy, hz);
    this.most = Math.ceil((2 * (nx * hx + ny * hy + nz * hz)) / this.step);
  }

  /** Adds a line's points. @returns the electrode it ends on; null where no bath lies before its beginning */
  trace({ place, normal }: Seed, points: number[]): number | null {
    if (!this.leave(place, normal)) return null;
    points.push(...place, ...this.here);
    for (let step = 0; step < this.most; step++) {
      if (!this.climb()) return NO_ELECTRODE;
      const code = this.codeAt(this.next);
      if (this.isAnode(code)) {
        this.halve();
        points.push(...this.here);
        return code - FIRST_ELECTRODE;
      }
      if (code !== BATH && !this.slide()) return NO_ELECTRODE;
      this.here.set(this.next);
      points.push(...this.here);
    }
    return NO_ELECTRODE;
  }

  /** Goes off the metal until there is bath. */
  private leave(place: readonly number[], normal: readonly number[]): boolean {
    const length = Math.hypot(...normal);
    for (let step = 1; step <= OFF_THE_METAL; step++) {
      for (let axis = 0; axis < 3; axis++) {
        this.here[axis] = place[axis]! + (step * this.step * normal[axis]!) / length;
      }
      if (this.codeAt(this.here) === BATH) return true;
    }
    return false;
  }

  /** One step by the midpoint rule, from `here` to `next`. */
  private climb(): boolean {
    if (!this.direction(this.here)) return false;
    for (let axis = 0; axis < 3; axis++) {
      this.next[axis] = this.here[axis]! + (this.step / 2) * this.way[axis]!;
    }
    if (this.codeAt(this.next) === BATH && !this.direction(this.next)) return false;
    for (let axis = 0; axis < 3; axis++) {
      this.next[axis] = this.here[axis]! + this.step * this.way[axis]!;
    }
    return true;
  }

  /** Follows what is in the way: the step without the part of it that leads out of the bath. */
  private slide(): boolean {
    for (let axis = 0; axis < 3; axis++) {
      const wanted = this.next[axis]!;
      this.next[axis] = this.here[axis]!;
      const moves = [0, 1, 2].some((other) => this.next[other] !== this.here[other]);
      if (moves && this.codeAt(this.next) === BATH) return true;
      this.next[axis] = wanted;
    }
    return false;
  }

  /** Moves `here` to where the way to `next` meets metal. */
  private halve(): void {
    const [from, to] = [Float64Array.from(this.here), Float64Array.from(this.next)];
    let [bath, metal] = [0, 1];
    for (let halving = 0; halving < HALVINGS; halving++) {
      const middle = (bath + metal) / 2;
      for (let axis = 0; axis < 3; axis++) {
        this.here[axis] = from[axis]! + middle * (to[axis]! - from[axis]!);
      }
      if (this.codeAt(this.here) === BATH) bath = middle;
      else metal = middle;
    }
  }

  private isAnode(code: number): boolean {
    return (
      code >= FIRST_ELECTRODE && this.field.electrodes[code - FIRST_ELECTRODE]?.kind === "ANODE"
    );
  }

  /** What is at a place; −1 outside the grid. */
  private codeAt(place: Float64Array): number {
    let cell = 0;
    for (let axis = 0; axis < 3; axis++) {
      const at = Math.floor(this.inCells(place, axis));
      if (at < 0 || at >= this.counts[axis]!) return -1;
      cell += at * this.strides[axis]!;
    }
    return this.field.cells[cell]!;
  }

  private inCells(place: Float64Array, axis: number): number {
    return place[axis]! / this.edges[axis]! + (axis === 2 ? 0 : this.counts[axis]! / 2);
  }

  /** Sets `way` to the unit vector up the potential: of the eight cells about a place those that are bath. */
  private direction(place: Float64Array): boolean {
    const { way, counts, strides } = this;
    way.fill(0);
    for (let corner = 0; corner < 8; corner++) {
      let [weight, cell, inside] = [1, 0, true];
      for (let axis = 0; axis < 3; axis++) {
        const at = this.inCells(place, axis) - 0.5;
        const low = Math.floor(at);
        const up = (corner >> axis) & 1;
        weight *= up ? at - low : 1 - (at - low);
        if (low + up < 0 || low + up >= counts[axis]!) inside = false;
        cell += (low + up) * strides[axis]!;
      }
      if (!inside || this.field.cells[cell] !== BATH) continue;
      for (let axis = 0; axis < 3; axis++) way[axis]! += weight * this.slope(cell, axis);
    }
    const length = Math.hypot(way[0]!, way[1]!, way[2]!);
    if (!(length > 0)) return false;
    for (let axis = 0; axis < 3; axis++) way[axis]! /= length;
    return true;
  }

  /**
   * Slope of the potential in a bath cell along an axis, V/m. What insulates lets none through, so it counts as a
   * mirror; beside metal, where φ jumps by the overvoltage, the other side alone counts.
   */
  private slope(cell: number, axis: number): number {
    const { cells, potentialV } = this.field;
    const [stride, count] = [this.strides[axis]!, this.counts[axis]!];
    const at = Math.floor(cell / stride) % count;
    const own = potentialV[cell]!;
    let [rise, steps] = [0, 0];
    for (const side of [-1, 1]) {
      const outside = at + side < 0 || at + side >= count;
      const beside = cell + side * stride;
      const code = outside ? -1 : cells[beside]!;
      if (code >= FIRST_ELECTRODE) continue;
      if (code === BATH) rise += side * (potentialV[beside]! - own);
      steps += 1;
    }
    return steps === 0 ? 0 : rise / (steps * this.edges[axis]!);
  }
}
