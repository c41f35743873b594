import type { Mesh } from "./mesh";

/** One electrode's mesh, already in its place from the middle of the tank's floor. */
export type PlacedMesh = { readonly electrode: number; readonly mesh: Mesh };

/** Small triangles that make up a surface, in columns of equal length. */
export type SmallTriangles = {
  readonly count: number;
  readonly electrode: Uint8Array;
  /** 1 below the level. */
  readonly wet: Uint8Array;
  readonly areaM2: Float64Array;
  /** Three corners, nine numbers, from the middle of the tank's floor, m. */
  readonly corners: Float32Array;
  /** Outwards, three numbers. */
  readonly normal: Float32Array;
  /** Middle of the corners, three numbers. */
  readonly middle: Float64Array;
};

/** Small triangles that there is room for at first; the room doubles. */
const FIRST_ROOM = 8192;

/**
 * Cuts meshes along the level, and what lies below it into triangles about as long as wanted at most. The pieces have the area of the whole and its normals.
 *
 * @param longest m, > 0
 */
export function cutSurface(
  placed: readonly PlacedMesh[],
  levelM: number,
  longest: number,
): SmallTriangles {
  const cutter = new Cutter(levelM, longest);
  for (const { electrode, mesh } of placed) {
    const { positions, indices } = mesh;
    for (let at = 0; at < indices.length; at += 3) {
      cutter.take(
        electrode,
        positions,
        3 * indices[at]!,
        3 * indices[at + 1]!,
        3 * indices[at + 2]!,
      );
    }
  }
  return cutter.done();
}

/** Works on flat lists of numbers, not objects: this runs for every triangle while a part is dragged. */
class Cutter {
  private count = 0;
  private electrodes = new Uint8Array(FIRST_ROOM);
  private wets = new Uint8Array(FIRST_ROOM);
  private areas = new Float64Array(FIRST_ROOM);
  private corners = new Float32Array(9 * FIRST_ROOM);
  private normals = new Float32Array(3 * FIRST_ROOM);
  private middles = new Float64Array(3 * FIRST_ROOM);
  /** The triangle being cut. */
  private electrode = 0;
  private readonly triangle = new Float64Array(9);
  private readonly normal = new Float64Array(3);
  /** The piece of it that is cut off next. */
  private readonly piece = new Float64Array(9);

  constructor(
    private readonly levelM: number,
    private readonly longest: number,
  ) {}

  done(): SmallTriangles {
    const { count } = this;
    return {
      count,
      electrode: this.electrodes.slice(0, count),
      wet: this.wets.slice(0, count),
      areaM2: this.areas.slice(0, count),
      corners: this.corners.slice(0, 9 * count),
      normal: this.normals.slice(0, 3 * count),
      middle: this.middles.slice(0, 3 * count),
    };
  }

  private makeRoom(): void {
    this.electrodes = doubled(this.electrodes, new Uint8Array(2 * this.electrodes.length));
    this.wets = doubled(this.wets, new Uint8Array(2 * this.wets.length));
    this.areas = doubled(this.areas, new Float64Array(2 * this.areas.length));
    this.corners = doubled(this.corners, new Float32Array(2 * this.corners.length));
    this.normals = doubled(this.normals, new Float32Array(2 * this.normals.length));
    this.middles = doubled(this.middles, new Float64Array(2 * this.middles.length));
  }

  /** Cuts one triangle, its corners beginning at three places in the positions. */
  take(electrode: number, positions: Float64Array, a: number, b: number, c: number): void {
    this.electrode = electrode;
    if (!this.face(positions, a, b, c)) return;
    const wet = (at: number): boolean => positions[at + 2]! < this.levelM;
    const below = Number(wet(a)) + Number(wet(b)) + Number(wet(c));
    if (below === 0 || below === 3) {
      this.put(0, positions, a);
      this.put(1, positions, b);
      this.put(2, positions, c);
      this.divide(below === 3);
      return;
    }
    // The corner that is alone on its side comes first.
    const alone = below === 1;
    if (wet(b) === alone) this.split(positions, b, c, a, alone);
    else if (wet(c) === alone) this.split(positions, c, a, b, alone);
    else this.split(positions, a, b, c, alone);
  }

  /** Works out the normal; false for a triangle without area. */
  private face(positions: Float64Array, a: number, b: number, c: number): boolean {
    const ux = positions[b]! - positions[a]!;
    const uy = positions[b + 1]! - positions[a + 1]!;
    const uz = positions[b + 2]! - positions[a + 2]!;
    const vx = positions[c]! - positions[a]!;
    const vy = positions[c + 1]! - positions[a + 1]!;
    const vz = positions[c + 2]! - positions[a + 2]!;
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const length = Math.hypot(x, y, z);
    this.normal[0] = x / length;
    this.normal[1] = y / length;
    this.normal[2] = z / length;
    return length > 0;
  }

  /** Cuts at the level: the tip at `a`, and the other side's four corners as two triangles. */
  private split(positions: Float64Array, a: number, b: number, c: number, tipWet: boolean): void {
    const four = new Float64Array(15);
    four.set(positions.subarray(a, a + 3), 0);
    four.set(positions.subarray(b, b + 3), 3);
    four.set(positions.subarray(c, c + 3), 6);
    this.atLevel(four, 3, 9);
    this.atLevel(four, 6, 12);
    this.putAll(four, 0, 9, 12, tipWet);
    this.putAll(four, 9, 3, 6, !tipWet);
    this.putAll(four, 9, 6, 12, !tipWet);
  }

  /** Where the way from the first corner to another passes the level. */
  private atLevel(corners: Float64Array, to: number, into: number): void {
    const share = (this.levelM - corners[2]!) / (corners[to + 2]! - corners[2]!);
    corners[into] = corners[0]! + share * (corners[to]! - corners[0]!);
    corners[into + 1] = corners[1]! + share * (corners[to + 1]! - corners[1]!);
    corners[into + 2] = this.levelM;
  }

  private putAll(from: Float64Array, a: number, b: number, c: number, wet: boolean): void {
    this.put(0, from, a);
    this.put(1, from, b);
    this.put(2, from, c);
    this.divide(wet);
  }

  private put(corner: number, from: Float64Array, at: number): void {
    for (let axis = 0; axis < 3; axis++) this.triangle[3 * corner + axis] = from[at + axis]!;
  }

  /**
   * Cuts the triangle into rows along its shortest edge, and each row into as many pieces as it is wide; so a sliver
   * falls into few. What is dry stays whole.
   */
  private divide(wet: boolean): void {
    const [ab, bc, ca] = [this.edge(0, 3), this.edge(3, 6), this.edge(6, 0)];
    const shortest = Math.min(ab, bc, ca);
    const rows = wet ? Math.ceil(Math.max(ab, bc, ca) / this.longest) : 1;
    // The tip lies opposite the shortest edge.
    const tip = shortest === bc ? 0 : shortest === ca ? 3 : 6;
    for (let row = 0; row < rows; row++) {
      const [near, far] = [row / rows, (row + 1) / rows];
      const columns = wet ? Math.max(1, Math.ceil((shortest * far) / this.longest)) : 1;
      for (let column = 0; column < columns; column++) {
        const [left, right] = [column / columns, (column + 1) / columns];
        this.place(0, tip, near, left);
        this.place(3, tip, far, left);
        this.place(6, tip, far, right);
        this.keep(wet);
        if (row === 0) continue;
        this.place(3, tip, far, right);
        this.place(6, tip, near, right);
        this.keep(wet);
      }
    }
  }

  private edge(from: number, to: number): number {
    const { triangle } = this;
    return Math.hypot(
      triangle[to]! - triangle[from]!,
      triangle[to + 1]! - triangle[from + 1]!,
      triangle[to + 2]! - triangle[from + 2]!,
    );
  }

  /** Puts a corner of the piece so far down from the tip, and so far across from left to right. */
  private place(corner: number, tip: number, down: number, across: number): void {
    const { triangle, piece } = this;
    const [left, right] = [(tip + 3) % 9, (tip + 6) % 9];
    for (let axis = 0; axis < 3; axis++) {
      const top = triangle[tip + axis]!;
      const [toLeft, toRight] = [triangle[left + axis]! - top, triangle[right + axis]! - top];
      piece[corner + axis] = top + down * (toLeft + across * (toRight - toLeft));
    }
  }

  private keep(wet: boolean): void {
    if (this.count === this.areas.length) this.makeRoom();
    const { piece, normal, count, corners, middles, normals } = this;
    const ux = piece[3]! - piece[0]!;
    const uy = piece[4]! - piece[1]!;
    const uz = piece[5]! - piece[2]!;
    const vx = piece[6]! - piece[0]!;
    const vy = piece[7]! - piece[1]!;
    const vz = piece[8]! - piece[2]!;
    this.areas[count] =
      ((uy * vz - uz * vy) * normal[0]! +
        (uz * vx - ux * vz) * normal[1]! +
        (ux * vy - uy * vx) * normal[2]!) /
      2;
    this.electrodes[count] = this.electrode;
    this.wets[count] = wet ? 1 : 0;
    for (let place = 0; place < 9; place++) corners[9 * count + place] = piece[place]!;
    for (let axis = 0; axis < 3; axis++) {
      middles[3 * count + axis] = (piece[axis]! + piece[3 + axis]! + piece[6 + axis]!) / 3;
      normals[3 * count + axis] = normal[axis]!;
    }
    this.count++;
  }
}

function doubled<Columns extends Uint8Array | Float32Array | Float64Array>(
  from: Columns,
  into: Columns,
): Columns {
  into.set(from);
  return into;
}
