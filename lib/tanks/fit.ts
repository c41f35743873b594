import { checkPositive, type Millimetres } from "@/lib/units";
import { type FreeBox, freeBox, type TankShape } from "./shape";
import { lengthBeside, type PartBox, tiltNeeded, turns } from "./turns";

export type { PartBox };

/** How a part lies in a tank. `up` is its measure that points upwards. */
export type Lie =
  | { readonly kind: "WHOLE"; readonly up: number; readonly along: number; readonly across: number }
  | {
      readonly kind: "TILTED";
      /** Degrees from the level, to a tenth, in an upright plane of the tank. */
      readonly tiltDegrees: number;
      readonly up: number;
      readonly along: number;
      readonly across: number;
    }
  | {
      /** One end under at a time: dips overlap in the middle. */
      readonly kind: "END_FOR_END";
      readonly dips: number;
      readonly up: number;
      readonly along: number;
      readonly across: number;
    };

export type Fit =
  | { readonly fits: true; readonly lie: Lie; readonly words: string }
  | { readonly fits: false; readonly words: string };

/** Free bath all round a part, mm: common practice, no source. */
export const USUAL_CLEARANCE_MM = 50;
/** Length that both dips of an end-for-end part cover, so that no band is left: common practice, no source. */
export const DIP_OVERLAP_MM = 60;
/** A part longer than this many levels is not worth dipping end for end. */
const MOST_DIPS = 2;

/**
 * Whether a rectangle p × q lies in a rectangle a × b, turned as it likes.
 *
 *   p ≥ q, a ≥ b:  p ≤ a and q ≤ b, or p > a, q ≤ b and b ≥ (2pqa + (p² − q²)·√(p² + q² − a²)) / (p² + q²)
 *
 * Carver, W. B., Amer. Math. Monthly 64 (1957) 114: necessary and sufficient.
 *
 * @example rectangleFits(1, 1, 1, 1) // true
 */
export function rectangleFits(p: number, q: number, a: number, b: number): boolean {
  const [long, short] = p >= q ? [p, q] : [q, p];
  const [length, width] = a >= b ? [a, b] : [b, a];
  if (short > width) return false;
  if (long <= length) return true;
  const diagonal = long * long + short * short;
  const root = Math.sqrt(diagonal - length * length);
  return width >= (2 * long * short * length + (long * long - short * short) * root) / diagonal;
}

/**
 * How, if at all, a part lies in a tank at its working level: flat or on end in one of the six ways, else
 * tilted in one upright plane, else one end at a time. Only a round tank may take a part askew on its floor.
 *
 * @param part        outside measures, mm, each > 0
 * @param level       mm of solution once the part is in
 * @param clearanceMm mm kept free towards anode and floor
 * @example fitPart({ lengthMm: 250, widthMm: 65, heightMm: 45 }, tub, millimetres(360), 50).fits // true
 */
export function fitPart(
  part: PartBox,
  shape: TankShape,
  level: Millimetres,
  clearanceMm: number = USUAL_CLEARANCE_MM,
): Fit {
  checkPositive("part length", part.lengthMm, "mm");
  checkPositive("part width", part.widthMm, "mm");
  checkPositive("part height", part.heightMm, "mm");
  const free = freeBox(shape, level, clearanceMm);
  const lie = wholeLie(part, free) ?? tiltedLie(part, free) ?? endForEndLie(part, free);
  if (lie) return { fits: true, lie, words: wordsFor(lie) };
  return { fits: false, words: whyNot(part, free, clearanceMm) };
}

/** A part that lies whole under the bath. */
export type WholeLie = Extract<Lie, { kind: "WHOLE" }>;

/**
 * All ways in which a part lies whole under the bath, flat or on end, the lowest first; those that look alike once.
 *
 * @example wholeLies({ lengthMm: 250, widthMm: 65, heightMm: 45 }, tub, millimetres(360), 50).length // 6
 */
export function wholeLies(
  part: PartBox,
  shape: TankShape,
  level: Millimetres,
  clearanceMm: number = USUAL_CLEARANCE_MM,
): readonly WholeLie[] {
  const lies = wholeLiesIn(part, freeBox(shape, level, clearanceMm));
  const alike = ({ up, along, across }: WholeLie): string => `${up} ${along} ${across}`;
  return [...new Map(lies.map((lie) => [alike(lie), lie])).values()];
}

function wholeLiesIn(part: PartBox, free: FreeBox): readonly WholeLie[] {
  return turns(part)
    .filter(([up, along, across]) => up <= free.heightMm && along <= lengthBeside(free, across))
    .map(([up, along, across]) => ({ kind: "WHOLE", up, along, across }));
}

const wholeLie = (part: PartBox, free: FreeBox): Lie | null => wholeLiesIn(part, free)[0] ?? null;

function tiltedLie(part: PartBox, free: FreeBox): Lie | null {
  const alongWidth = { ...free, lengthMm: free.widthMm, widthMm: free.lengthMm };
  for (const [up, along, across] of turns(part)) {
    for (const plane of [free, alongWidth]) {
      const length = lengthBeside(plane, across);
      if (length > 0 && rectangleFits(along, up, length, free.heightMm)) {
        return {
          kind: "TILTED",
          tiltDegrees: toTenth(tiltNeeded(along, up, length)),
          up,
          along,
          across,
        };
      }
    }
  }
  return null;
}

const toTenth = (radians: number): number => Math.round((radians * 1800) / Math.PI) / 10;

/** Stood on end: each dip covers a level's depth less half the overlap. */
function endForEndLie(part: PartBox, free: FreeBox): Lie | null {
  const upright = turns(part).reverse();
  for (const [up, along, across] of upright) {
    const aDip = free.heightMm - DIP_OVERLAP_MM / 2;
    const dips = Math.ceil(up / Math.max(1, aDip));
    const footFits = along <= lengthBeside(free, across);
    if (footFits && dips === MOST_DIPS) return { kind: "END_FOR_END", dips, up, along, across };
  }
  return null;
}

function wordsFor(lie: Lie): string {
  const size = `{${Math.round(lie.along)} × ${Math.round(lie.across)} mm} on the floor, {${Math.round(lie.up)} mm} high`;
  switch (lie.kind) {
    case "WHOLE":
      return `Lies whole under the bath: ${size}.`;
    case "TILTED":
      return `Goes in tilted by about ${Math.round(lie.tiltDegrees)}°, one end up: {${Math.round(lie.along)} × ${Math.round(lie.up)} mm} in the upright plane.`;
    case "END_FOR_END":
      return `One end at a time, ${lie.dips} dips that overlap by {${DIP_OVERLAP_MM} mm}; turn it end for end between them.`;
  }
}

function whyNot(part: PartBox, free: FreeBox, clearanceMm: number): string {
  const size = [part.lengthMm, part.widthMm, part.heightMm].map(Math.round).join(" × ");
  const room =
    free.diameterMm === undefined
      ? `{${[free.lengthMm, free.widthMm, free.heightMm].map(Math.round).join(" × ")} mm}`
      : `a round {${Math.round(free.diameterMm)} mm} wide and {${Math.round(free.heightMm)} mm} deep`;
  return `Too big: {${size} mm} does not go into ${room} of free bath ({${clearanceMm} mm} kept clear of the anode), not tilted and not end for end.`;
}
