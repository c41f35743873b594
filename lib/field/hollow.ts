import type { BuiltScene } from "./build-scene";
import { distancesIn } from "./distance";
import type { Point } from "./mesh";
import { BATH, FIRST_ELECTRODE } from "./scene";

/** A straight way through the bath inside a part, along an axis of the tank; m from the middle of its floor. */
export type FreeWay = {
  readonly axis: 0 | 1 | 2;
  readonly from: Point;
  readonly to: Point;
  /** How much of it lies in the part's hollow, m. */
  readonly enclosedM: number;
  /** Nearest that its middle line comes to the part, m; too small by up to a cell's length rather than too large. */
  readonly clearM: number;
  /** Mean of that along the way, m. */
  readonly meanClearM: number;
};

/** Clearances this near to each other are alike. */
const ALIKE = 1.02;

/** A place counts as in the hollow when the part is met in so many of the six directions along the axes. */
const ENCLOSED_BY = 4;

/**
 * The hollow of a part as what is hung into it sees it: where there is bath, how far the part is, and how much is round
 * about.
 */
export class Hollow {
  private readonly clearM: Float64Array;
  private readonly enclosed: Uint8Array;
  private readonly least: [number, number, number];
  private readonly most: [number, number, number];

  /** @param electrode of the part, its number in the scene */
  constructor(
    private readonly scene: BuiltScene,
    electrode: number,
  ) {
    const { grid, cells } = scene;
    const own = FIRST_ELECTRODE + electrode;
    const marked = cells.map((code) => (code === own ? 1 : 0));
    const { nx, ny, nz, hx, hy, hz } = grid;
    // The surface may run through the nearest corner of its cell.
    const half = Math.hypot(hx, hy, hz) / 2;
    const block = { cells: [nx, ny, nz], edges: [hx, hy, hz] } as const;
    const touched = touchedCells(scene, electrode, marked);
    this.clearM = distancesIn(block, touched).map((distance) => distance - half);
    [this.least, this.most] = boundsOf([nx, ny, nz], marked);
    this.enclosed = enclosedCells([nx, ny, nz], marked);
  }

  /**
   * The upright way from the level down that has most of it in the hollow, and of those the clearest.
   *
   * @param clearM least distance of its middle line from the part, m
   * @param place  along and across, m; the best place when left out
   * @returns null where none goes into the hollow
   */
  upright(clearM: number, place?: readonly [number, number]): FreeWay | null {
    const { nx, ny, nz, hx, hy } = this.scene.grid;
    if (place) {
      const i = Math.floor(place[0] / hx + nx / 2);
      const j = Math.floor(place[1] / hy + ny / 2);
      return this.wayDown(i, j, nz, clearM);
    }
    let best: FreeWay | null = null;
    for (const j of this.fromMiddle(1)) {
      for (const i of this.fromMiddle(0)) {
        best = this.better(best, this.wayDown(i, j, nz, clearM));
      }
    }
    return best;
  }

  /** As `upright`, lying along (0) or across (1) the tank within the part. */
  lying(axis: 0 | 1, clearM: number): FreeWay | null {
    let best: FreeWay | null = null;
    const other = axis === 0 ? 1 : 0;
    for (const k of this.fromMiddle(2)) {
      for (const across of this.fromMiddle(other)) {
        best = this.better(best, this.longestAlong(axis, across, k, clearM));
      }
    }
    return best;
  }

  /** The part's cells along an axis, the middle ones first: of ways alike the one nearer the middle is found. */
  private fromMiddle(axis: 0 | 1 | 2): readonly number[] {
    const [least, most] = [this.least[axis], this.most[axis]];
    const off = (at: number): number => Math.abs(2 * at - least - most);
    const all = Array.from({ length: Math.max(0, most - least + 1) }, (_, step) => least + step);
    return all.sort((one, other) => off(one) - off(other));
  }

  /**
   * The way with more of it in the hollow; of two alike the one that is clearer along its length. One that is not in it at
   * all does not count. A thin wall may stand a cell higher here than there: so much makes no difference.
   */
  private better(one: FreeWay | null, other: FreeWay | null): FreeWay | null {
    if (!other || other.enclosedM === 0) return one;
    if (!one) return other;
    const { hx, hy, hz } = this.scene.grid;
    const more = other.enclosedM - one.enclosedM;
    if (Math.abs(more) > 1.01 * Math.max(hx, hy, hz)) return more > 0 ? other : one;
    return other.meanClearM > ALIKE * one.meanClearM ? other : one;
  }

  private wayDown(i: number, j: number, nz: number, clearM: number): FreeWay | null {
    let k = nz;
    while (k > 0 && this.isFree(this.cellAt(i, j, k - 1), clearM)) k--;
    if (k === nz) return null;
    return this.way(2, [i, j, k], [i, j, nz - 1]);
  }

  private longestAlong(axis: 0 | 1, across: number, k: number, clearM: number): FreeWay | null {
    const at = (along: number): [number, number, number] =>
      axis === 0 ? [along, across, k] : [across, along, k];
    let best: FreeWay | null = null;
    let start = -1;
    for (let along = this.least[axis]; along <= this.most[axis] + 1; along++) {
      const inside = along <= this.most[axis];
      const free = inside && this.isFree(this.cellAt(...at(along)), clearM);
      if (free && start < 0) start = along;
      if (free || start < 0) continue;
      best = this.better(best, this.way(axis, at(start), at(along - 1)));
      start = -1;
    }
    return best;
  }

  private isFree(cell: number, clearM: number): boolean {
    return this.scene.cells[cell] === BATH && this.clearM[cell]! >= clearM;
  }

  private cellAt(i: number, j: number, k: number): number {
    const { nx, ny } = this.scene.grid;
    return i + nx * (j + ny * k);
  }

  private way(axis: 0 | 1 | 2, from: number[], to: number[]): FreeWay {
    const { nx, ny, hx, hy, hz } = this.scene.grid;
    const edge = [hx, hy, hz][axis]!;
    const count = to[axis]! - from[axis]! + 1;
    let [enclosedM, clearM, sumM] = [0, Infinity, 0];
    const [i, j, k] = from as [number, number, number];
    for (let step = 0; step < count; step++) {
      const cell = this.cellAt(i, j, k) + step * [1, nx, nx * ny][axis]!;
      enclosedM += this.enclosed[cell] === 1 ? edge : 0;
      clearM = Math.min(clearM, this.clearM[cell]!);
      sumM += this.clearM[cell]!;
    }
    // From middle to middle: only there the distance is known.
    const place = (cell: number[]): Point => [
      (cell[0]! + 0.5 - nx / 2) * hx,
      (cell[1]! + 0.5 - ny / 2) * hy,
      (cell[2]! + 0.5) * hz,
    ];
    return {
      ...{ axis, from: place(from), to: place(to), enclosedM, clearM },
      meanClearM: sumM / count,
    };
  }
}

/** The part's cells, and those that its true surface runs through: it may leave up to half a cell of them to the bath. */
function touchedCells(
  { grid: { nx, ny, nz, hx, hy, hz }, patches }: BuiltScene,
  electrode: number,
  marked: Uint8Array,
): Uint8Array {
  const touched = Uint8Array.from(marked);
  const { corners } = patches;
  const mark = (x: number, y: number, z: number): void => {
    const [i, j, k] = [
      Math.floor(x / hx + nx / 2),
      Math.floor(y / hy + ny / 2),
      Math.floor(z / hz),
    ];
    if (i < 0 || j < 0 || k < 0 || i >= nx || j >= ny || k >= nz) return;
    touched[i + nx * (j + ny * k)] = 1;
  };
  for (let patch = 0; patch < patches.count; patch++) {
    if (patches.electrode[patch] !== electrode) continue;
    const at = 9 * patch;
    const middle = (axis: number): number =>
      (corners[at + axis]! + corners[at + 3 + axis]! + corners[at + 6 + axis]!) / 3;
    mark(middle(0), middle(1), middle(2));
    for (const corner of [at, at + 3, at + 6]) {
      mark(corners[corner]!, corners[corner + 1]!, corners[corner + 2]!);
    }
  }
  return touched;
}

type Counts = readonly [number, number, number];

function boundsOf(
  [nx, ny, nz]: Counts,
  marked: Uint8Array,
): [[number, number, number], [number, number, number]] {
  const least: [number, number, number] = [nx, ny, nz];
  const most: [number, number, number] = [-1, -1, -1];
  marked.forEach((mark, cell) => {
    if (mark === 0) return;
    const at = [cell % nx, Math.floor(cell / nx) % ny, Math.floor(cell / (nx * ny))];
    for (const axis of [0, 1, 2]) {
      least[axis] = Math.min(least[axis]!, at[axis]!);
      most[axis] = Math.max(most[axis]!, at[axis]!);
    }
  });
  return [least, most];
}

/** 1 for each cell from which the part is met in enough directions. */
function enclosedCells(counts: Counts, marked: Uint8Array): Uint8Array {
  const [nx, ny] = counts;
  const met = new Uint8Array(marked.length);
  ([1, nx, nx * ny] as const).forEach((stride, axis) => {
    const count = counts[axis]!;
    for (let start = 0; start < marked.length; start++) {
      if (Math.floor(start / stride) % count !== 0) continue;
      for (const [first, step] of [
        [start, stride],
        [start + (count - 1) * stride, -stride],
      ] as const) {
        let seen = 0;
        for (let at = 0, cell = first; at < count; at++, cell += step) {
          seen |= marked[cell]!;
          met[cell]! += seen;
        }
      }
    }
  });
  return met.map((directions, cell) => (marked[cell] === 0 && directions >= ENCLOSED_BY ? 1 : 0));
}
