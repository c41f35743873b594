import {
  type Block,
  type Extents,
  isInside,
  type PackingSpace,
  TOLERANCE_MM,
} from "./packing-space";

/** A corner where a part may be hung: the lower left front corner of what goes there. */
export type Corner = readonly [xMm: number, yMm: number, zMm: number];

/** From and up to, on one axis, of each block hung so far; the upper ends with the gap behind them. */
type Axis = { readonly from: number[]; readonly until: number[] };

/** What is known of the room before a corner. */
export type Gauge = {
  /** False for a part that is longer than the room: quick, and sure in a box. Always true in a round tank. */
  readonly mayFit: (part: Extents) => boolean;
  /** On how many sides a part leaves less than a share of the tank. */
  readonly snugSides: (part: Extents, share: number) => number;
};

/** Whether a stretch from `low` up to `high` runs into the stretch of a block. */
const meets = ({ from, until }: Axis, index: number, low: number, high: number): boolean =>
  low < (until[index] ?? 0) - TOLERANCE_MM && high > (from[index] ?? 0) + TOLERANCE_MM;

/**
 * The room of a tank while it is being filled. It counts what it is asked in comparisons of two blocks, so that a
 * search can be ended by work and not by the clock.
 */
export class Room {
  readonly corners: Corner[] = [[0, 0, 0]];
  comparisons = 0;
  blocks = 0;
  private readonly axes: readonly [Axis, Axis, Axis] = [
    { from: [], until: [] },
    { from: [], until: [] },
    { from: [], until: [] },
  ];

  constructor(
    readonly space: PackingSpace,
    readonly gapMm: number,
  ) {}

  /** Whether a block lies inside and clear of the blocks from number `since` on. */
  takes(block: Block, since = 0): boolean {
    this.comparisons += 1;
    if (!isInside(block, this.space)) return false;
    const [x, y, z] = this.axes;
    const { xMm, yMm, zMm } = block;
    const right = xMm + block.lengthMm + this.gapMm;
    const back = yMm + block.widthMm + this.gapMm;
    const above = zMm + block.heightMm + this.gapMm;
    for (let index = this.blocks - 1; index >= since; index -= 1) {
      this.comparisons += 1;
      if (
        meets(x, index, xMm, right) &&
        meets(y, index, yMm, back) &&
        meets(z, index, zMm, above)
      ) {
        return false;
      }
    }
    return true;
  }

  /** Hangs a block, and finds the corners that it makes. */
  add(block: Block): void {
    const { xMm, yMm, zMm } = block;
    const right = xMm + block.lengthMm + this.gapMm;
    const back = yMm + block.widthMm + this.gapMm;
    const above = zMm + block.heightMm + this.gapMm;
    this.addCorner(right, this.held(1, right, yMm, zMm), zMm);
    this.addCorner(right, yMm, this.held(2, right, yMm, zMm));
    this.addCorner(this.held(0, xMm, back, zMm), back, zMm);
    this.addCorner(xMm, back, this.held(2, xMm, back, zMm));
    this.addCorner(this.held(0, xMm, yMm, above), yMm, above);
    this.addCorner(xMm, this.held(1, xMm, yMm, above), above);
    const [x, y, z] = this.axes;
    const index = this.blocks;
    [x.from[index], x.until[index]] = [xMm, right];
    [y.from[index], y.until[index]] = [yMm, back];
    [z.from[index], z.until[index]] = [zMm, above];
    this.blocks += 1;
  }

  /** Forgets the newest blocks and corners, down to what was there before. */
  rewind(blocks: number, corners: number): void {
    this.blocks = blocks;
    this.corners.length = corners;
  }

  /**
   * Where a part of this size could hang at a corner. In a round tank a corner lies outside more often than not: the
   * part goes in from it, along or across, until it is inside; or to the tank's middle line, on it or before it.
   */
  placesAt([x, y, z]: Corner, { lengthMm, widthMm, heightMm }: Extents): Block[] {
    const at = (xMm: number, yMm: number): Block => {
      return { xMm, yMm, zMm: z, lengthMm, widthMm, heightMm };
    };
    const { diameterMm } = this.space;
    if (diameterMm === undefined) return [at(x, y)];
    const radius = diameterMm / 2;
    const inward = (from: number, size: number): number => {
      const away = Math.max(Math.abs(from - radius), Math.abs(from + size - radius));
      return radius - Math.sqrt(Math.max(0, radius * radius - away * away));
    };
    const middle = radius - this.gapMm / 2;
    const [middleX, middleY] = [radius - lengthMm / 2, radius - widthMm / 2];
    return [
      at(x, y),
      at(Math.max(x, inward(y, widthMm)), y),
      at(x, Math.max(y, inward(x, lengthMm))),
      at(Math.max(x, inward(middleY, widthMm)), middleY),
      at(middleX, Math.max(y, inward(middleX, lengthMm))),
      at(Math.max(x, middle - lengthMm), Math.max(y, middle - widthMm)),
    ];
  }

  /** Measures the room before a corner. In a round tank a part does not hang at the corner itself. */
  gauge(corner: Corner): Gauge {
    const round = this.space.diameterMm !== undefined;
    const [along, across, up] = this.reach(corner);
    const { lengthMm, widthMm, heightMm } = this.space;
    return {
      mayFit: (part) =>
        round ||
        (part.lengthMm <= along + TOLERANCE_MM &&
          part.widthMm <= across + TOLERANCE_MM &&
          part.heightMm <= up + TOLERANCE_MM),
      snugSides: (part, share) =>
        Number(along - part.lengthMm < share * lengthMm) +
        Number(across - part.widthMm < share * widthMm) +
        Number(up - part.heightMm < share * heightMm),
    };
  }

  /** Free length from a corner along, across and upwards, mm: up to the gap before the next block, or to the wall. */
  private reach([x, y, z]: Corner): [along: number, across: number, up: number] {
    const { lengthMm, widthMm, heightMm } = this.space;
    let [along, across, up] = [lengthMm - x, widthMm - y, heightMm - z];
    const gap = this.gapMm;
    const [axisX, axisY, axisZ] = this.axes;
    for (let index = 0; index < this.blocks; index += 1) {
      const onX = meets(axisX, index, x, x + gap);
      const onY = meets(axisY, index, y, y + gap);
      const onZ = meets(axisZ, index, z, z + gap);
      if (onY && onZ) along = Math.min(along, ahead(axisX, index, x, gap));
      if (onX && onZ) across = Math.min(across, ahead(axisY, index, y, gap));
      if (onX && onY) up = Math.min(up, ahead(axisZ, index, z, gap));
    }
    this.comparisons += this.blocks + OVERHEAD;
    return [along, across, up];
  }

  /** How far a corner slides towards the wall along an axis until a block or the wall holds it. */
  private held(axis: 0 | 1 | 2, x: number, y: number, z: number): number {
    const gap = this.gapMm;
    const at = [x, y, z] as const;
    const [one, other] = OTHERS[axis];
    let held = 0;
    for (let index = 0; index < this.blocks; index += 1) {
      const end = this.axes[axis].until[index] ?? 0;
      if (
        end > held &&
        end <= at[axis] + TOLERANCE_MM &&
        meets(this.axes[one], index, at[one], at[one] + gap) &&
        meets(this.axes[other], index, at[other], at[other] + gap)
      ) {
        held = end;
      }
    }
    this.comparisons += this.blocks + OVERHEAD;
    return held;
  }

  private addCorner(x: number, y: number, z: number): void {
    const { lengthMm, widthMm, heightMm } = this.space;
    if (x >= lengthMm || y >= widthMm || z >= heightMm) return;
    const known = this.corners.some(
      ([otherX, otherY, otherZ]) => x === otherX && y === otherY && z === otherZ,
    );
    if (!known) this.corners.push([x, y, z]);
  }
}

/** What finding a corner costs beside its comparisons. */
const OVERHEAD = 10;

const OTHERS = { 0: [1, 2], 1: [0, 2], 2: [0, 1] } as const;

/** Free length before a block; nothing where the corner lies in it; without end where it lies behind. */
function ahead({ from, until }: Axis, index: number, at: number, gap: number): number {
  if ((until[index] ?? 0) <= at + TOLERANCE_MM) return Infinity;
  return (from[index] ?? 0) - gap - at;
}
