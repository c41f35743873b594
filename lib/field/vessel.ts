import { checkPositive, checkRange } from "@/lib/units";
import type { Grid } from "./scene";

/** The inside of a tank, m, from the middle of its floor: x along it, y across, z up. */
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

/**
 * How far a place is from the wall, level with it, m; below 0 outside. In a box to the nearest side, in a round tank
 * along the spoke: the true distance but for the wall's lean.
 */
export function clearance(vessel: Vessel, x: number, y: number, z: number): number {
  const up = z / vessel.depthM;
  if (vessel.kind === "ROUND") {
    const { bottomDiameterM, topDiameterM } = vessel;
    return (bottomDiameterM + up * (topDiameterM - bottomDiameterM)) / 2 - Math.sqrt(x * x + y * y);
  }
  const { bottomLengthM, topLengthM, bottomWidthM, topWidthM } = vessel;
  return Math.min(
    (bottomLengthM + up * (topLengthM - bottomLengthM)) / 2 - Math.abs(x),
    (bottomWidthM + up * (topWidthM - bottomWidthM)) / 2 - Math.abs(y),
  );
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
