import { checkPositive, checkRange } from "@/lib/units";
import type { Grid } from "./scene";

/** The inside of a tank, m. x along it, y across, z up; its box begins at the origin. */
export type Vessel =
  | {
      readonly kind: "BOX";
      readonly topLengthM: number;
      readonly topWidthM: number;
      readonly bottomLengthM: number;
      readonly bottomWidthM: number;
      readonly depthM: number;
    }
  | {
      readonly kind: "ROUND";
      readonly topDiameterM: number;
      readonly bottomDiameterM: number;
      readonly depthM: number;
    };

/** Lengths of the box round the bath up to a level. @throws RangeError if a measure is not above 0 */
export function bathBox(vessel: Vessel, levelM: number): readonly [number, number, number] {
  for (const [name, value] of Object.entries(vessel)) {
    if (typeof value === "number") checkPositive(name, value, "m");
  }
  checkRange("level", levelM, Number.MIN_VALUE, vessel.depthM * (1 + 1e-9), "m");
  const top = halfSpans(vessel, levelM);
  const floor = halfSpans(vessel, 0);
  return [2 * Math.max(top[0], floor[0]), 2 * Math.max(top[1], floor[1]), levelM];
}

/** Half of length and width at a height, m. */
export function halfSpans(vessel: Vessel, z: number): readonly [number, number] {
  const up = z / vessel.depthM;
  const between = (bottom: number, top: number): number => (bottom + up * (top - bottom)) / 2;
  if (vessel.kind === "ROUND") {
    const radius = between(vessel.bottomDiameterM, vessel.topDiameterM);
    return [radius, radius];
  }
  return [
    between(vessel.bottomLengthM, vessel.topLengthM),
    between(vessel.bottomWidthM, vessel.topWidthM),
  ];
}

/** Whether a place, from the vessel's axis, lies within the wall. */
export function isWithin(vessel: Vessel, x: number, y: number, z: number): boolean {
  const [a, b] = halfSpans(vessel, z);
  return vessel.kind === "ROUND" ? Math.hypot(x, y) < a : Math.abs(x) < a && Math.abs(y) < b;
}

/** Wall below a level, m²: what an anode all round would cover. */
export function wallArea(vessel: Vessel, levelM: number): number {
  const [topX, topY] = halfSpans(vessel, levelM);
  const [floorX, floorY] = halfSpans(vessel, 0);
  if (vessel.kind === "ROUND") return Math.PI * (topX + floorX) * Math.hypot(levelM, topX - floorX);
  const sides = (spanTop: number, spanFloor: number, lean: number): number =>
    2 * (spanTop + spanFloor) * Math.hypot(levelM, lean);
  return sides(topX, floorX, topY - floorY) + sides(topY, floorY, topX - floorX);
}

/** From a place inside to the wall along one of the four level directions (`SIDES` 0 to 3), m. */
export function toWall(vessel: Vessel, place: readonly number[], side: number): number {
  const [x, y, z] = place as readonly [number, number, number];
  const [a, b] = halfSpans(vessel, z);
  const [along, across] = side < 2 ? [x, y] : [y, x];
  const reach =
    vessel.kind === "ROUND" ? Math.sqrt(Math.max(0, a * a - across * across)) : side < 2 ? a : b;
  return side % 2 === 1 ? reach - along : reach + along;
}

/**
 * Share of the way round at which a place at the wall stands, so that equal shares of wall get equal shares: the
 * angle of a round tank, the place along its side of a box (each side a quarter).
 */
export function roundTheWall(vessel: Vessel, x: number, y: number, z: number): number {
  if (vessel.kind === "ROUND") return Math.atan2(y, x) / (2 * Math.PI) + 0.5;
  const [a, b] = halfSpans(vessel, z);
  const share = (value: number, half: number): number =>
    Math.min(1, Math.max(0, (value / half + 1) / 2));
  if (a - Math.abs(x) < b - Math.abs(y)) return (share(y, b) + (x > 0 ? 0 : 2)) / 4;
  return (share(x, a) + (y > 0 ? 1 : 3)) / 4;
}

/** The middle of a cell, from the vessel's axis and floor, m. */
export function middleOf(
  { nx, ny, hx, hy, hz }: Grid,
  i: number,
  j: number,
  k: number,
): readonly [number, number, number] {
  return [(i + 0.5 - nx / 2) * hx, (j + 0.5 - ny / 2) * hy, (k + 0.5) * hz];
}
