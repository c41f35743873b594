/** Bars and sheets of mild steel by their section: area, mass and surface a metre. */

/** kg/m³ of structural steel: EN 1991-1-1 table A.4 and EN 1993-1-1 3.2.6 (from memory). */
export const STEEL_DENSITY_KG_M3 = 7850;

export const SECTION_SHAPES = ["FLAT", "ROUND", "SQUARE", "TUBE", "ANGLE", "SHEET"] as const;
export type SectionShape = (typeof SECTION_SHAPES)[number];

/** How each shape is said. */
export const SECTION_WORDS: Readonly<Record<SectionShape, string>> = {
  FLAT: "flat bar",
  ROUND: "round bar",
  SQUARE: "square bar",
  TUBE: "round tube",
  ANGLE: "angle",
  SHEET: "strip of sheet",
};

/** A section in plain millimetres, each above 0. */
export type Section = {
  readonly shape: SectionShape;
  /** width of a flat bar or strip, diameter, side, or one leg of an angle, mm */
  readonly widthMm: number;
  /** the other leg of an angle, mm; null otherwise */
  readonly legMm: number | null;
  /** of a flat bar, strip, angle or a tube's wall, mm; null for round and square bars */
  readonly thicknessMm: number | null;
};

/** Shapes that have a thickness of their own. */
export const hasThickness = (shape: SectionShape): boolean =>
  shape !== "ROUND" && shape !== "SQUARE";

/**
 * What is wrong with a section, by field; empty where nothing is.
 *
 * @example sectionFaults({ shape: "TUBE", widthMm: 20, legMm: null, thicknessMm: 10 }) // { thicknessMm: "…" }
 */
export function sectionFaults(section: Section): Readonly<Record<string, string>> {
  const { shape, widthMm, legMm, thicknessMm } = section;
  const faults: Record<string, string> = {};
  if (!isSize(widthMm)) faults["widthMm"] = "Above 0.";
  if (shape === "ANGLE" && !isSize(legMm)) faults["legMm"] = "An angle has two legs: above 0.";
  if (hasThickness(shape)) {
    const most = mostThickness(section);
    if (!(isSize(thicknessMm) && thicknessMm < most)) {
      faults["thicknessMm"] = `Above 0 and under {${round(most)} mm}.`;
    }
  }
  return faults;
}

const isSize = (value: number | null): value is number =>
  value !== null && value > 0 && Number.isFinite(value);

const round = (value: number): number => Math.round(value * 100) / 100;

/** mm; a flat bar lies flat, a tube is hollow, an angle has two legs. */
function mostThickness({ shape, widthMm, legMm }: Section): number {
  if (shape === "TUBE") return widthMm / 2;
  return Math.min(widthMm, shape === "ANGLE" ? (legMm ?? widthMm) : widthMm);
}

/**
 * Area of the metal cut across, mm². Edges are taken as sharp: of a hot-rolled angle the root's fillet is left out,
 * which is 1 to 2 % of its area.
 *
 * @throws RangeError where `sectionFaults` finds something
 * @example sectionArea({ shape: "FLAT", widthMm: 50, legMm: null, thicknessMm: 5 }) // 250
 */
export function sectionArea(section: Section): number {
  assertSound(section);
  const { shape, widthMm, legMm, thicknessMm } = section;
  const t = thicknessMm ?? 0;
  switch (shape) {
    case "ROUND":
      return (Math.PI * widthMm ** 2) / 4;
    case "SQUARE":
      return widthMm ** 2;
    case "TUBE":
      return Math.PI * t * (widthMm - t);
    case "ANGLE":
      return t * (widthMm + (legMm ?? 0) - t);
    default:
      return widthMm * t;
  }
}

/**
 * Mass of a metre, kg: area times 7850 kg/m³.
 *
 * @throws RangeError as `sectionArea`
 * @example massPerMetre({ shape: "ROUND", widthMm: 10, legMm: null, thicknessMm: null }) // 0.617
 */
export function massPerMetre(section: Section): number {
  return sectionArea(section) * 1e-6 * STEEL_DENSITY_KG_M3;
}

/**
 * Surface of a metre, m²: what a bath wets all round. Of a tube the outside only: current hardly reaches into it.
 *
 * @throws RangeError as `sectionArea`
 * @example surfacePerMetre({ shape: "FLAT", widthMm: 50, legMm: null, thicknessMm: 5 }) // 0.11
 */
export function surfacePerMetre(section: Section): number {
  assertSound(section);
  const { shape, widthMm, legMm, thicknessMm } = section;
  if (shape === "ROUND" || shape === "TUBE") return (Math.PI * widthMm) / 1000;
  if (shape === "SQUARE") return (4 * widthMm) / 1000;
  // An L has the outline of the rectangle round it.
  return (2 * (widthMm + (shape === "ANGLE" ? (legMm ?? 0) : (thicknessMm ?? 0)))) / 1000;
}

/** What a section measures toward the inside of a bend, mm: its thickness, bent the easy way, or its whole depth. */
export function bentThickness({ shape, widthMm, thicknessMm }: Section): number {
  return shape === "FLAT" || shape === "SHEET" ? (thicknessMm ?? widthMm) : widthMm;
}

/** @example sectionText({ shape: "FLAT", widthMm: 50, legMm: null, thicknessMm: 5 }) // "flat bar {50 × 5 mm}" */
export function sectionText({ shape, widthMm, legMm, thicknessMm }: Section): string {
  const sizes = [widthMm, ...(shape === "ANGLE" ? [legMm] : []), thicknessMm].filter(
    (size) => size !== null,
  );
  return `${SECTION_WORDS[shape]} {${sizes.map(round).join(" × ")} mm}`;
}

function assertSound(section: Section): void {
  const [first] = Object.entries(sectionFaults(section));
  if (first) throw new RangeError(`${first[0]} of a ${section.shape} section: ${first[1]}`);
}
