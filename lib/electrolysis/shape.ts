import {
  checkNonNegative,
  checkPositive,
  checkRange,
  type Metres,
  metres,
  type SquareMetres,
} from "@/lib/units";

/*
 * Shape length g of a cell: the bath's resistance is R = 1/(κ·g), so g holds the geometry alone.
 * Pure forms: J. Newman and K. E. Thomas-Alyea, Electrochemical Systems, ch. 18; W. R. Smythe, Static and
 * Dynamic Electricity (both from memory). They are the primary distribution: no electrode resistance.
 */

/**
 * Two plates that fill the ends of a trough.
 *   g = A/d
 * @throws RangeError unless area and distance are above 0
 * @example plateShapeLength(squareMetres(0.04), metres(0.2)) // 0.2 m
 */
export function plateShapeLength(area: SquareMetres, distance: Metres): Metres {
  checkPositive("plate area", area, "m²");
  checkPositive("distance between plates", distance, "m");
  return metres(area / distance);
}

/**
 * A rod on the axis of a tube, ends insulated.
 *   g = 2πL / ln(b/a)
 * @param inner a, radius of the rod; @param outer b, radius of the tube, above a
 * @throws RangeError unless 0 < inner < outer and the length is above 0
 * @example coaxialShapeLength(metres(0.01), metres(0.1), metres(0.3)) // 0.8186 m
 */
export function coaxialShapeLength(inner: Metres, outer: Metres, length: Metres): Metres {
  checkPositive("inner radius", inner, "m");
  checkPositive("length", length, "m");
  checkOuter(inner, outer);
  return metres((2 * Math.PI * length) / Math.log(outer / inner));
}

/**
 * A sphere in the middle of another; `outer` may be Infinity, a bath without walls.
 *   g = 4π / (1/a − 1/b)
 * @throws RangeError unless 0 < inner < outer
 * @example concentricSpheresShapeLength(metres(0.05), metres(0.2)) // 0.8378 m
 */
export function concentricSpheresShapeLength(inner: Metres, outer: Metres): Metres {
  checkPositive("inner radius", inner, "m");
  checkOuter(inner, outer);
  return metres((4 * Math.PI) / (1 / inner - 1 / outer));
}

/**
 * A rod before a wide plate, parallel to it.
 *   g = 2πL / acosh(h/a)
 * @param radius a of the rod; @param axisDistance h from its axis to the plate, above a
 * @throws RangeError unless 0 < radius < axisDistance and the length is above 0
 * @example rodToPlaneShapeLength(metres(0.005), metres(0.1), metres(0.3)) // 0.5111 m
 */
export function rodToPlaneShapeLength(
  radius: Metres,
  axisDistance: Metres,
  length: Metres,
): Metres {
  checkPositive("rod radius", radius, "m");
  checkPositive("length", length, "m");
  checkOuter(radius, axisDistance);
  return metres((2 * Math.PI * length) / Math.acosh(axisDistance / radius));
}

function checkOuter(inner: number, outer: number): void {
  if (!(outer > inner)) {
    throw new RangeError(`outer distance must be above ${inner} m, got ${outer}`);
  }
}

/** How the anode stands: strips or sheet all round the wall, at two facing walls, or at one. */
export const ANODE_ARRANGEMENTS = ["RING", "TWO_SIDED", "ONE_SIDED"] as const;
export type AnodeArrangement = (typeof ANODE_ARRANGEMENTS)[number];

/** Pieces the anode is in, spread evenly round the wall. */
const PIECES: Readonly<Record<AnodeArrangement, number>> = { RING: 4, TWO_SIDED: 2, ONE_SIDED: 1 };

/** One part, or several hung together, in a tank with its anode at the wall. */
export type LoadedTank = {
  /** Wetted area of the parts, all sides, m², > 0. */
  readonly partAreaM2: number;
  /** Solution in the tank, L, > 0. */
  readonly volumeL: number;
  /** Depth of solution, m, > 0. */
  readonly levelM: number;
  /** Anode area facing the bath, m², > 0; more than the wall counts as the whole wall. */
  readonly anodeAreaM2: number;
  readonly arrangement: AnodeArrangement;
  /** Free bath between part and anode, m; 0.05 when left out. Taken as at most half the tank's radius. */
  readonly clearanceM?: number;
  /** Layer of rust on the part and of scale on the anode, m; `USUAL_LAYER_M` when left out. */
  readonly layerM?: number;
};

/** The closed form is within this share of a field solution: assumption. */
export const CLOSED_FORM_ERROR_SHARE = 0.35;

/** Rust on the part, and scale on the anode, of about a millimetre: assumption. */
export const USUAL_LAYER_M = 0.001;

/** Least open share of rust, of the published 0.1 to 0.5 (from memory). */
const OPEN_SHARE = 0.1;

const USUAL_CLEARANCE_M = 0.05;

/**
 * Thickness of free bath that resists as a porous layer does: d/s^1.5, Bruggeman's rule with open share s.
 *
 * @param layerM d, m, 0 to 0.01
 * @throws RangeError if the layer is out of range
 * @example layerAsBath(metres(0.001)) // 0.0316 m
 */
export function layerAsBath(layerM: number): Metres {
  checkRange("layer", layerM, 0, 0.01, "m");
  return metres(layerM / OPEN_SHARE ** 1.5);
}

/**
 * A cell's bare shape length with rust on the part and scale on the anode in series with it.
 *
 *   1/g = 1/g₀ + d/(s^1.5·A_part) + d/(s^1.5·A_anode)
 *
 * @param bareM g₀ of clean metal, m, > 0
 * @throws RangeError naming the figure that is out of range
 * @example layeredShapeLength(metres(2), 0.1, 0.06) // 0.74 m
 */
export function layeredShapeLength(
  bareM: number,
  partAreaM2: number,
  anodeAreaM2: number,
  layerM: number = USUAL_LAYER_M,
): Metres {
  checkPositive("shape length", bareM, "m");
  checkPositive("part area", partAreaM2, "m²");
  checkPositive("anode area", anodeAreaM2, "m²");
  const layer = layerAsBath(layerM);
  return metres(1 / (1 / bareM + layer / partAreaM2 + layer / anodeAreaM2));
}

/**
 * Shape length of a part in a tank, until a field solution exists. Resistances in series, each as metres⁻¹:
 *
 *   1/g = part → wall + crowding at the anode's pieces + rust on the part + scale on the anode
 *
 * Part → wall: the part as a sphere of its area, spreading as a sphere out to half the depth and from there as
 * a cylinder to the wall; a part too large for that, as a cylinder of its area from the start.
 * Crowding: N strips that cover share c of the wall, ln(1/sin(πc/2)) / (πNh), the exact constriction of a
 * striped wall (conformal map, from memory). Layers: d / (s^1.5 · A), Bruggeman's rule for a porous layer
 * d thick with open share s. The joining of these is an assumption: ± `CLOSED_FORM_ERROR_SHARE`.
 *
 * @throws RangeError naming the figure that is out of range
 * @example closedFormShapeLength({ partAreaM2: 0.1, volumeL: 15, levelM: 0.2, anodeAreaM2: 0.06, arrangement: "RING" })
 *   // about 0.7 m
 */
export function closedFormShapeLength(tank: LoadedTank): Metres {
  checkLoadedTank(tank);
  const planAreaM2 = tank.volumeL / 1000 / tank.levelM;
  const wallRadius = Math.sqrt(planAreaM2 / Math.PI);
  const clearance = Math.min(tank.clearanceM ?? USUAL_CLEARANCE_M, wallRadius / 2);
  const bareM =
    1 /
    (partToWall(tank.partAreaM2, tank.levelM, wallRadius, wallRadius - clearance) +
      anodeCrowding(tank, wallRadius));
  return layeredShapeLength(bareM, tank.partAreaM2, tank.anodeAreaM2, tank.layerM);
}

/**
 * m⁻¹. Sphere and cylinder meet at half the depth, where both have the same area (4πr² = 2πr·h), so the
 * result has no step there. Nothing reaches nearer the wall than `reach`.
 */
function partToWall(area: number, depth: number, wallRadius: number, reach: number): number {
  const cylinder = (from: number): number => Math.log(wallRadius / from) / (2 * Math.PI * depth);
  const turn = Math.min(depth / 2, reach);
  const sphereRadius = Math.sqrt(area / (4 * Math.PI));
  if (sphereRadius < turn) {
    return (1 / sphereRadius - 1 / turn) / (4 * Math.PI) + cylinder(turn);
  }
  const cylinderRadius = area / (2 * Math.PI * depth);
  return cylinder(Math.min(Math.max(cylinderRadius, turn), reach));
}

/** m⁻¹; none when the anode covers the whole wall. */
function anodeCrowding(tank: LoadedTank, wallRadius: number): number {
  const wallAreaM2 = 2 * Math.PI * wallRadius * tank.levelM;
  const covered = Math.min(1, tank.anodeAreaM2 / wallAreaM2);
  const pieces = PIECES[tank.arrangement];
  return -Math.log(Math.sin((Math.PI * covered) / 2)) / (Math.PI * pieces * tank.levelM);
}

function checkLoadedTank(tank: LoadedTank): void {
  checkPositive("part area", tank.partAreaM2, "m²");
  checkPositive("volume of the bath", tank.volumeL, "L");
  checkPositive("level", tank.levelM, "m");
  checkPositive("anode area", tank.anodeAreaM2, "m²");
  checkNonNegative("clearance", tank.clearanceM ?? USUAL_CLEARANCE_M, "m");
  checkRange("layer", tank.layerM ?? USUAL_LAYER_M, 0, 0.01, "m");
}
