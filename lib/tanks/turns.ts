import type { FreeBox } from "./shape";

/** A part's outside measures, in any order of size. */
export type PartBox = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
};

/** A box's measures by where they point: up, along the tank, across it; mm. */
export type Turned = readonly [up: number, along: number, across: number];

/** The six ways to turn a box, lowest first: a part that lies low is under the bath for certain. */
export function turns(part: PartBox): Turned[] {
  const { lengthMm: l, widthMm: w, heightMm: h } = part;
  const all: Turned[] = [
    [l, w, h],
    [l, h, w],
    [w, l, h],
    [w, h, l],
    [h, l, w],
    [h, w, l],
  ];
  return all.sort((a, b) => a[0] - b[0]);
}

/** Free length in the upright plane of a part so broad, mm; 0 when it is too broad. A chord in a round tank. */
export function lengthBeside(free: FreeBox, across: number): number {
  const { diameterMm, lengthMm, widthMm } = free;
  if (diameterMm === undefined) return across <= widthMm ? lengthMm : 0;
  return across <= diameterMm ? Math.sqrt(diameterMm ** 2 - across ** 2) : 0;
}

/**
 * The smallest tilt, radians, at which the part is no longer than the room.
 *
 *   along·cos θ + up·sin θ = d·cos(θ − φ) = length,  d² = along² + up²,  tan φ = up/along
 *
 * The part stands lowest there: its height d·sin(θ + φ) rises from here until it would fit on end anyway. So this
 * tilt is inside whenever Carver's condition says that one is.
 */
export function tiltNeeded(along: number, up: number, length: number): number {
  const diagonal = Math.hypot(along, up);
  return Math.atan2(up, along) + Math.acos(Math.min(1, length / diagonal));
}
