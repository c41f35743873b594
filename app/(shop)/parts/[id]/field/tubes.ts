/** Triangles of round bars along lines: corners and unit normals, three numbers each, and which corners make a triangle. */
export type Tubes = {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly indices: Uint32Array;
};

export type Bar = {
  /** Three numbers a point; two points or more. */
  readonly points: ArrayLike<number>;
  readonly closed?: boolean;
  /** An arrow half-way that points back to the first point. */
  readonly arrow?: boolean;
};

const SIDES = 6;
/** An arrow's girth and length, in radii of its bar. */
const ARROW_GIRTH = 3.4;
const ARROW_LENGTH = 9;

type Ring = { readonly at: readonly number[]; readonly radius: number };

/** @param radius of the bars, m @example tubesAlong([{ points: [0, 0, 0, 1, 0, 0] }], 0.01).indices.length // 36 */
export function tubesAlong(bars: readonly Bar[], radius: number): Tubes {
  const positions: number[] = [];
  const normals: number[] = [];
  const indices: number[] = [];
  for (const bar of bars) {
    const rings = ringsOf(bar, radius);
    if (rings.length < 2) continue;
    const base = positions.length / 3;
    let side: readonly number[] = [0, 0, 0];
    rings.forEach(({ at, radius: girth }, ring) => {
      const way = wayAt(rings, ring, bar.closed ?? false);
      side = squareTo(way, side);
      const other = cross(way, side);
      for (let corner = 0; corner < SIDES; corner++) {
        const angle = (2 * Math.PI * corner) / SIDES;
        for (let axis = 0; axis < 3; axis++) {
          const out = Math.cos(angle) * (side[axis] ?? 0) + Math.sin(angle) * (other[axis] ?? 0);
          normals.push(out);
          positions.push((at[axis] ?? 0) + girth * out);
        }
      }
    });
    join(indices, base, rings.length);
  }
  return {
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    indices: Uint32Array.from(indices),
  };
}

function join(indices: number[], base: number, rings: number): void {
  for (let ring = 0; ring + 1 < rings; ring++) {
    for (let corner = 0; corner < SIDES; corner++) {
      const a = base + SIDES * ring + corner;
      const b = base + SIDES * ring + ((corner + 1) % SIDES);
      indices.push(a, b, b + SIDES, a, b + SIDES, a + SIDES);
    }
  }
}

function ringsOf({ points, closed, arrow }: Bar, radius: number): readonly Ring[] {
  const count = points.length / 3;
  const rings = Array.from({ length: closed ? count + 1 : count }, (_, ring): Ring => {
    const from = 3 * (ring % count);
    return { at: [points[from] ?? 0, points[from + 1] ?? 0, points[from + 2] ?? 0], radius };
  });
  return arrow ? withArrow(rings, radius) : rings;
}

/** The head of an arrow put in where half of the way is done. */
function withArrow(rings: readonly Ring[], radius: number): readonly Ring[] {
  const lengths = rings.map(({ at }, ring) => apart(rings[ring - 1]?.at ?? at, at));
  const half = lengths.reduce((sum, length) => sum + length, 0) / 2;
  if (2 * half < 3 * ARROW_LENGTH * radius) return rings;
  let way = 0;
  const ring = lengths.findIndex((length) => (way += length) >= half);
  const [from, to] = [rings[ring - 1], rings[ring]];
  if (!from || !to) return rings;
  const at = (off: number): readonly number[] =>
    from.at.map((value, axis) => {
      const length = apart(from.at, to.at) || 1;
      const share = (half + off - way + length) / length;
      return value + share * ((to.at[axis] ?? 0) - value);
    });
  const tip = -ARROW_LENGTH * radius;
  const head: Ring[] = [
    { at: at(tip), radius },
    { at: at(0), radius: ARROW_GIRTH * radius },
    { at: at(0.01 * radius), radius },
  ];
  // What lies within the head is left out.
  const before = rings.slice(0, ring).filter((one) => apart(one.at, at(0)) > -tip);
  return [...before, ...head, ...rings.slice(ring)];
}

const apart = (a: readonly number[], b: readonly number[]): number =>
  Math.hypot(...a.map((value, axis) => value - (b[axis] ?? 0)));

/** The way of a line at a ring: between its neighbours. */
function wayAt(rings: readonly Ring[], ring: number, closed: boolean): readonly number[] {
  const last = rings.length - 1;
  const before = rings[ring > 0 ? ring - 1 : closed ? last - 1 : 0]?.at ?? [];
  const behind = rings[ring < last ? ring + 1 : closed ? 1 : last]?.at ?? [];
  return unit(behind.map((value, axis) => value - (before[axis] ?? 0)));
}

/** The old side made square to a new way, so that a bar does not twist; any side at first. */
function squareTo(way: readonly number[], side: readonly number[]): readonly number[] {
  const along = dot(way, side);
  const left = side.map((value, axis) => value - along * (way[axis] ?? 0));
  if (Math.hypot(...left) > 1e-6) return unit(left);
  return unit(cross(way, Math.abs(way[2] ?? 0) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
}

const dot = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, axis) => sum + value * (b[axis] ?? 0), 0);

function cross(a: readonly number[], b: readonly number[]): readonly number[] {
  const [ax = 0, ay = 0, az = 0] = a;
  const [bx = 0, by = 0, bz = 0] = b;
  return [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
}

function unit(value: readonly number[]): readonly number[] {
  const length = Math.hypot(...value) || 1;
  return value.map((one) => one / length);
}
