import type { Worked, WorkedInput } from "@/lib/units";
import {
  bentThickness,
  massPerMetre,
  type Section,
  SECTION_WORDS,
  STEEL_DENSITY_KG_M3,
  surfacePerMetre,
} from "./section";

/**
 * Where the neutral axis lies, as a share of the thickness from the inside of the bend. Half for bars bent round a
 * radius of several thicknesses; sheet-metal tables go down to 0.33 for tight bends (common practice).
 */
export const NEUTRAL_AXIS = 0.5;

/**
 * Length of metal in a bend.
 *
 *   BA = α · (R + K·t)        the bend allowance of sheet-metal work (any shop handbook; from memory)
 *
 * @param angle    α, rad, 0 or more
 * @param insideMm R, mm, 0 or more
 * @param thickMm  t, mm, above 0
 * @param k        K, 0 to 1
 * @returns mm
 * @throws RangeError outside these
 * @example bendAllowance(Math.PI / 2, 10, 5) // 19.63
 */
export function bendAllowance(
  angle: number,
  insideMm: number,
  thickMm: number,
  k = NEUTRAL_AXIS,
): number {
  if (!(angle >= 0 && insideMm >= 0 && thickMm > 0 && k >= 0 && k <= 1)) {
    throw new RangeError(
      `a bend needs an angle, radius and thickness that are not negative and K from 0 to 1, got ${angle}, ${insideMm}, ${thickMm}, ${k}`,
    );
  }
  return angle * (insideMm + k * thickMm);
}

/** The wall that an anode follows, at the height where it hangs, plain mm inside. */
export type Wall =
  | { readonly shape: "ROUND"; readonly diameterMm: number }
  | { readonly shape: "BOX"; readonly lengthMm: number; readonly widthMm: number };

/**
 * The inside of a vessel that narrows evenly, at one height.
 *
 * @param heightMm above the floor, 0 to depthMm
 * @throws RangeError outside that
 * @example sizeAtHeight({ topMm: 600, bottomMm: 500, depthMm: 800 }, 400) // 550
 */
export function sizeAtHeight(
  vessel: { readonly topMm: number; readonly bottomMm: number; readonly depthMm: number },
  heightMm: number,
): number {
  if (!(heightMm >= 0 && heightMm <= vessel.depthMm)) {
    throw new RangeError(`height must be from 0 to {${vessel.depthMm} mm}, got ${heightMm}`);
  }
  return vessel.bottomMm + ((vessel.topMm - vessel.bottomMm) * heightMm) / vessel.depthMm;
}

/** A ring bent round inside the wall; it lies against the wall but for `offsetMm`. */
export type Ring = {
  readonly wall: Wall;
  /** mm between the wall and the steel, 0 or more */
  readonly offsetMm: number;
  /** inside radius of the corners, mm; boxes only */
  readonly cornerMm: number;
  /** mm left open between the ends, 0 or more: nothing is sprung in or welded */
  readonly gapMm: number;
  /** mm that stand up out of the bath for the clamp, 0 or more */
  readonly overhangMm: number;
};

/**
 * Steel for a ring, mm, along the neutral axis. Round: π·(D − 2·offset − t). Box: its straights and four quarter
 * bends. Less the gap, more the part for the clamp.
 *
 * @throws RangeError where the ring does not fit, or the section cannot be bent so
 * @example ringLength(flat50x5, { wall: { shape: "ROUND", diameterMm: 560 }, offsetMm: 5, cornerMm: 0, gapMm: 40, overhangMm: 150 })
 */
export function ringLength(section: Section, ring: Ring): number {
  const { wall, offsetMm, gapMm, overhangMm } = ring;
  if (section.shape === "ANGLE") {
    throw new RangeError("an angle kinks when it is bent round: take flat or round bar, or strips");
  }
  if (!(offsetMm >= 0 && gapMm >= 0 && overhangMm >= 0)) {
    throw new RangeError("offset, gap and the part for the clamp must be 0 mm or more");
  }
  const round =
    wall.shape === "ROUND"
      ? roundAbout(section, wall.diameterMm, offsetMm)
      : boxAbout(section, ring);
  if (!(round - gapMm > 0)) throw new RangeError(`a gap of {${gapMm} mm} leaves no ring`);
  return round - gapMm + overhangMm;
}

function roundAbout(section: Section, diameterMm: number, offsetMm: number): number {
  const t = bentThickness(section);
  // The outside lies against the wall, so the neutral axis is K from the inside and 1 − K from the outside.
  const neutral = diameterMm - 2 * offsetMm - 2 * (1 - NEUTRAL_AXIS) * t;
  if (!(neutral > t)) throw new RangeError("the vessel is too narrow for this section");
  return Math.PI * neutral;
}

function boxAbout(section: Section, { wall, offsetMm, cornerMm }: Ring): number {
  if (wall.shape !== "BOX") throw new RangeError("a box is wanted");
  const t = bentThickness(section);
  if (!(cornerMm >= t)) {
    throw new RangeError(`corners need an inside radius of {${t} mm} or more, or the bar cracks`);
  }
  const long = wall.lengthMm - 2 * offsetMm - 2 * (cornerMm + t);
  const wide = wall.widthMm - 2 * offsetMm - 2 * (cornerMm + t);
  if (!(long >= 0 && wide >= 0)) throw new RangeError("the corners are wider than the vessel");
  return 2 * (long + wide) + 4 * bendAllowance(Math.PI / 2, cornerMm, t);
}

/** How the steel hangs: bent round the wall, straight strips along it, or free rods with the bath all round. */
export const ANODE_WAYS = ["RING", "STRIPS", "ROD"] as const;
export type AnodeWay = (typeof ANODE_WAYS)[number];

export const ANODE_WAY_WORDS: Readonly<Record<AnodeWay, string>> = {
  RING: "a ring round the wall",
  STRIPS: "strips down the wall",
  ROD: "rods hanging free",
};

/**
 * Share of the surface that counts as facing the bath. What lies along a wall works with its front; its back stands in
 * its own shadow. Assumption.
 */
export const FACING_SHARE: Readonly<Record<AnodeWay, number>> = { RING: 0.5, STRIPS: 0.5, ROD: 1 };

/** Pieces of one length, and how much of each is under the working level. */
export type AnodePieces = {
  readonly way: AnodeWay;
  /** whole mm: a saw is set to no less */
  readonly lengthMm: number;
  readonly wetMm: number;
  readonly count: number;
};

/**
 * A ring as one piece, rounded up to a whole millimetre; all but the part for the clamp is wet.
 * @throws RangeError as `ringLength`
 */
export function ringPieces(section: Section, ring: Ring): AnodePieces {
  const exact = ringLength(section, ring);
  return {
    way: "RING",
    count: 1,
    lengthMm: Math.ceil(exact - 1e-9),
    wetMm: exact - ring.overhangMm,
  };
}

/**
 * Straight pieces that hang from the rim: wet from their foot up to the working level, dry above.
 *
 * @param hang footMm above the floor, 0 or more, under levelMm; topMm above the floor, at levelMm or above; count 1 to 99
 * @throws RangeError outside that
 * @example straightPieces("STRIPS", { footMm: 50, levelMm: 400, topMm: 520, count: 4 }) // 4 of 470 mm, 350 mm wet
 */
export function straightPieces(
  way: "STRIPS" | "ROD",
  hang: {
    readonly footMm: number;
    readonly levelMm: number;
    readonly topMm: number;
    readonly count: number;
  },
): AnodePieces {
  const { footMm, levelMm, topMm, count } = hang;
  if (!(footMm >= 0 && footMm < levelMm)) {
    throw new RangeError(`the foot must be from the floor to under the level of {${levelMm} mm}`);
  }
  if (!(topMm >= levelMm && Number.isFinite(topMm))) {
    throw new RangeError("the top with its clamp must stand above the level");
  }
  if (!(Number.isInteger(count) && count >= 1 && count <= 99)) {
    throw new RangeError(`count must be a whole number from 1 to 99, got ${count}`);
  }
  return { way, count, lengthMm: Math.ceil(topMm - footMm - 1e-9), wetMm: levelMm - footMm };
}

/** Mass of the pieces, g, with its working. @throws RangeError as `sectionArea` */
export function workedAnodeMass(section: Section, { lengthMm, count }: AnodePieces): Worked {
  const perMetre = massPerMetre(section);
  return {
    name: "mass of the steel",
    value: perMetre * lengthMm * count,
    unit: "g",
    formula: "m = n · l · m′,  m′ = A · ρ",
    inputs: [
      ...piecesInputs(lengthMm, count),
      { name: "section", value: SECTION_WORDS[section.shape], standing: "entered here" },
      { name: "mass a metre", symbol: "m′", value: perMetre, unit: "kg/m", standing: "standard" },
      {
        name: "density",
        symbol: "ρ",
        value: STEEL_DENSITY_KG_M3,
        unit: "kg/m³",
        standing: "standard",
        source: "EN 1991-1-1 table A.4 (from memory)",
      },
    ],
    standing: "entered here",
    note:
      section.shape === "ANGLE"
        ? "Edges are taken as sharp; the root of a rolled angle adds 1 to 2 %. Weigh it where it matters."
        : "A rolled bar may be a few per cent off its size. Weigh it where it matters.",
  };
}

/** Area facing the bath, m², with its working. @throws RangeError as `surfacePerMetre` */
export function workedAnodeArea(section: Section, { way, wetMm, count }: AnodePieces): Worked {
  const surface = surfacePerMetre(section);
  const note = way === "ROD" ? "" : "The back lies along the wall, in its own shadow. ";
  return {
    name: "area facing the bath",
    value: (surface * FACING_SHARE[way] * wetMm * count) / 1000,
    unit: "m²",
    formula: "A = n · l_wet · u · s",
    inputs: [
      { name: "pieces", symbol: "n", value: count, standing: "entered here" },
      {
        name: "under the level",
        symbol: "l_wet",
        value: wetMm,
        unit: "mm",
        standing: "entered here",
      },
      {
        name: "surface a metre",
        symbol: "u",
        value: surface,
        unit: "m²/m",
        standing: "entered here",
      },
      {
        name: "share that faces the bath",
        symbol: "s",
        value: FACING_SHARE[way],
        standing: "assumption",
      },
    ],
    standing: way === "ROD" ? "entered here" : "assumption",
    note: `${note}Of a tube only the outside counts; cut ends are left out.`,
  };
}

const piecesInputs = (lengthMm: number, count: number): WorkedInput[] => [
  { name: "pieces", symbol: "n", value: count, standing: "entered here" },
  { name: "length of each", symbol: "l", value: lengthMm, unit: "mm", standing: "entered here" },
];
