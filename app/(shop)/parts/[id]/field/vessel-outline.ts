import type { Bathful, Vessel } from "@/lib/field";

/** Sides of the polygon that stands for a round tank. */
const ROUND = 64;

export type FlatPoint = readonly [number, number];

/** The inside of a tank at a height, seen from above: corners in order, m. @param z above the floor, m */
export function outlineAt(vessel: Vessel, z: number): readonly FlatPoint[] {
  if (vessel.kind === "ROUND") {
    const radius = halfSpan(vessel.bottomDiameterM, vessel.topDiameterM, z / vessel.depthM);
    return Array.from({ length: ROUND }, (_, step) => {
      // Begun where the field begins to share out the wall.
      const angle = (2 * Math.PI * step) / ROUND - Math.PI;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    });
  }
  const a = halfSpan(vessel.bottomLengthM, vessel.topLengthM, z / vessel.depthM);
  const b = halfSpan(vessel.bottomWidthM, vessel.topWidthM, z / vessel.depthM);
  return [
    [-a, -b],
    [a, -b],
    [a, b],
    [-a, b],
  ];
}

const halfSpan = (bottom: number, top: number, up: number): number =>
  (bottom + up * (top - bottom)) / 2;

/** Half of the greatest length and width of a tank, m. */
export function widest(vessel: Vessel): readonly [number, number] {
  if (vessel.kind === "ROUND") {
    const radius = Math.max(vessel.topDiameterM, vessel.bottomDiameterM) / 2;
    return [radius, radius];
  }
  return [
    Math.max(vessel.topLengthM, vessel.bottomLengthM) / 2,
    Math.max(vessel.topWidthM, vessel.bottomWidthM) / 2,
  ];
}

/** Four corners, from the floor's end of the wall round to the level's. */
export type Quad = readonly [Corner, Corner, Corner, Corner];
type Corner = readonly [number, number, number];

/**
 * The strips at the wall up to the level, as the field takes them: in a box each side has its share of them, in a
 * round tank they stand evenly round it, each in the middle of its part of the wall.
 *
 * @returns pieces of strip; each strip of a round tank is of several
 */
export function stripQuads({ vessel, levelM, anodes }: Bathful): readonly Quad[] {
  const foot = outlineAt(vessel, 0);
  const level = outlineAt(vessel, levelM);
  return anodes.flatMap(({ form }) => {
    if (form.kind !== "STRIPS") return [];
    const covered = Math.min(1, form.areaM2 / wallBelow(foot, level, levelM));
    const aSide = form.count / level.length;
    return level.flatMap((from, side) => {
      const to = level[(side + 1) % level.length] ?? from;
      const [low, lowNext] = [foot[side] ?? from, foot[(side + 1) % foot.length] ?? to];
      return spans(side, aSide, covered).map(([begin, end]): Quad => [
        between(low, lowNext, begin, 0),
        between(low, lowNext, end, 0),
        between(from, to, end, levelM),
        between(from, to, begin, levelM),
      ]);
    });
  });
}

/** From where to where strips lie on one side of the outline, as shares of it. */
function spans(side: number, aSide: number, covered: number): readonly FlatPoint[] {
  const found: FlatPoint[] = [];
  const [begin, end] = [side * aSide, (side + 1) * aSide];
  for (let strip = Math.floor(begin); strip < end; strip++) {
    const low = Math.max(begin, strip + 0.5 - covered / 2);
    const high = Math.min(end, strip + 0.5 + covered / 2);
    if (high - low > 1e-9) found.push([(low - begin) / aSide, (high - begin) / aSide]);
  }
  return found;
}

const between = (a: FlatPoint, b: FlatPoint, share: number, z: number): Corner => [
  a[0] + share * (b[0] - a[0]),
  a[1] + share * (b[1] - a[1]),
  z,
];

function wallBelow(foot: readonly FlatPoint[], level: readonly FlatPoint[], high: number): number {
  return level.reduce((sum, [px, py], side) => {
    const [qx, qy] = level[(side + 1) % level.length] ?? [0, 0];
    const [fx, fy] = foot[side] ?? [0, 0];
    const [gx, gy] = foot[(side + 1) % foot.length] ?? [0, 0];
    const lean = Math.hypot((px + qx - fx - gx) / 2, (py + qy - fy - gy) / 2);
    const length = (Math.hypot(qx - px, qy - py) + Math.hypot(gx - fx, gy - fy)) / 2;
    return sum + length * Math.hypot(high, lean);
  }, 0);
}

/** Quads as triangles, nine numbers each. */
export function trianglesOf(quads: readonly Quad[]): Float32Array {
  return Float32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d].flat()));
}
