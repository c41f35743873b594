import { monotoneCurve, solveIncreasing } from "@/lib/electrolysis";
import { checkNonNegative, checkPositive, checkRange, type Litres, litres } from "@/lib/units";
import { type Millimetres, millimetres, type SquareMetres, squareMetres } from "@/lib/units";

/** A vessel of known shape, inside measures. A straight-sided trough is a box that does not taper. */
export type TankShape =
  | {
      readonly kind: "TAPERED_BOX";
      readonly topLengthMm: number;
      readonly topWidthMm: number;
      readonly bottomLengthMm: number;
      readonly bottomWidthMm: number;
      readonly depthMm: number;
    }
  | {
      readonly kind: "ROUND";
      readonly topDiameterMm: number;
      readonly bottomDiameterMm: number;
      readonly depthMm: number;
    }
  | {
      /** Any other vessel, filled once by the measured bucket; length and width of its free space. */
      readonly kind: "MEASURED";
      readonly marks: readonly LevelMark[];
      readonly lengthMm: number;
      readonly widthMm: number;
      readonly depthMm: number;
    };

export type LevelMark = { readonly levelMm: number; readonly volumeL: number };

/** Cubic millimetres in a litre. */
const MM3_PER_LITRE = 1e6;

/**
 * Refuses a shape that cannot be.
 *
 * @throws RangeError naming the measure, its value and what was expected
 */
export function checkShape(shape: TankShape): void {
  checkPositive("depth", shape.depthMm, "mm");
  switch (shape.kind) {
    case "TAPERED_BOX":
      checkPositive("length at the top", shape.topLengthMm, "mm");
      checkPositive("width at the top", shape.topWidthMm, "mm");
      checkPositive("length at the bottom", shape.bottomLengthMm, "mm");
      checkPositive("width at the bottom", shape.bottomWidthMm, "mm");
      return;
    case "ROUND":
      checkPositive("diameter at the top", shape.topDiameterMm, "mm");
      checkPositive("diameter at the bottom", shape.bottomDiameterMm, "mm");
      return;
    case "MEASURED":
      checkPositive("length", shape.lengthMm, "mm");
      checkPositive("width", shape.widthMm, "mm");
      checkMarks(shape.marks);
  }
}

function checkMarks(marks: readonly LevelMark[]): void {
  if (marks.length < 2) {
    throw new RangeError(
      `a measured tank needs two or more levels with litres, got ${marks.length}`,
    );
  }
  let below: LevelMark = { levelMm: 0, volumeL: 0 };
  for (const mark of marks) {
    if (!(mark.levelMm > below.levelMm && mark.volumeL > below.volumeL)) {
      throw new RangeError(
        `measured levels must rise with their litres: {${mark.levelMm} mm} with {${mark.volumeL} L} ` +
          `does not follow {${below.levelMm} mm} with {${below.volumeL} L}`,
      );
    }
    below = mark;
  }
}

/**
 * Litres below a level.
 *
 * A tapered box and a frustum have sections that are quadratic in height, so the prismoid rule
 * V = h/6 · (A_bottom + 4·A_middle + A_top) is exact for both. Between measured marks the volume follows a
 * monotone curve (Fritsch & Carlson, SIAM J. Numer. Anal. 17, 1980).
 *
 * @param level mm above the floor, 0 to the depth (to the highest mark of a measured tank)
 * @throws RangeError when the level is outside that
 * @example volumeAt({ kind: "ROUND", topDiameterMm: 500, bottomDiameterMm: 500, depthMm: 800 }, millimetres(600)) // 117.8 L
 */
export function volumeAt(shape: TankShape, level: Millimetres): Litres {
  checkRange("level", level, 0, highestLevel(shape), "mm");
  if (shape.kind === "MEASURED") return litres(measuredCurve(shape.marks)(level));
  const middle = sectionMm2(shape, level / 2);
  const volume = (level / 6) * (sectionMm2(shape, 0) + 4 * middle + sectionMm2(shape, level));
  return litres(volume / MM3_PER_LITRE);
}

/**
 * The level at which the tank holds so many litres: the inverse of `volumeAt`.
 *
 * @param volume L, 0 to the tank's capacity
 * @throws RangeError when the tank cannot hold it
 */
export function levelFor(shape: TankShape, volume: Litres): Millimetres {
  checkRange("volume", volume, 0, capacity(shape), "L");
  return millimetres(
    solveIncreasing((level) => volumeAt(shape, millimetres(level)), volume, 0, highestLevel(shape)),
  );
}

/** Litres to the rim (to the highest mark of a measured tank). */
export function capacity(shape: TankShape): Litres {
  return volumeAt(shape, millimetres(highestLevel(shape)));
}

/** Density of iron and steel, g/L: 7.85 kg/L, handbook value for plain steel (cast iron is 7.1 to 7.3). */
const STEEL_G_PER_L = 7850;

export type LoadedLevel = {
  readonly levelMm: number;
  /** False when the bath would run over the rim. */
  readonly staysIn: boolean;
};

/**
 * Level once a part is in: it displaces its own volume of steel.
 *
 * @param level mm, before loading
 * @param massG g of iron or steel, ≥ 0
 * @example levelWithPart(tub, millimetres(360), 14_500) // a few millimetres higher
 */
export function levelWithPart(shape: TankShape, level: Millimetres, massG: number): LoadedLevel {
  checkNonNegative("mass", massG, "g");
  const volume = volumeAt(shape, level) + massG / STEEL_G_PER_L;
  const most = capacity(shape);
  if (volume > most) return { levelMm: highestLevel(shape), staysIn: false };
  return { levelMm: levelFor(shape, litres(volume)), staysIn: true };
}

/** The free space of a tank at its working level, as the box a part must lie in. */
export type FreeBox = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Round tanks only: width of the free circle, of which length and width are the largest square. */
  readonly diameterMm?: number;
};

/**
 * The free space under the level, by the narrowest section that the bath reaches, less the clearance all round
 * that keeps a part off the anode.
 *
 * @param level       mm
 * @param clearanceMm mm free at each side and at the floor, ≥ 0
 */
export function freeBox(shape: TankShape, level: Millimetres, clearanceMm: number): FreeBox {
  checkRange("level", level, 0, highestLevel(shape), "mm");
  checkNonNegative("clearance", clearanceMm, "mm");
  const narrowest = floorOf(shape, level);
  const lengthMm = Math.max(0, narrowest.lengthMm - 2 * clearanceMm);
  const widthMm = Math.max(0, narrowest.widthMm - 2 * clearanceMm);
  const heightMm = Math.max(0, level - clearanceMm);
  if (shape.kind !== "ROUND") return { lengthMm, widthMm, heightMm };
  const side = lengthMm / Math.SQRT2;
  return { lengthMm: side, widthMm: side, heightMm, diameterMm: lengthMm };
}

/** Length and width (twice the diameter of a round tank) of the narrowest section between floor and level. */
function floorOf(shape: TankShape, level: number): { lengthMm: number; widthMm: number } {
  switch (shape.kind) {
    case "TAPERED_BOX":
      return {
        lengthMm: Math.min(
          shape.bottomLengthMm,
          between(shape.bottomLengthMm, shape.topLengthMm, level / shape.depthMm),
        ),
        widthMm: Math.min(
          shape.bottomWidthMm,
          between(shape.bottomWidthMm, shape.topWidthMm, level / shape.depthMm),
        ),
      };
    case "ROUND": {
      const top = between(shape.bottomDiameterMm, shape.topDiameterMm, level / shape.depthMm);
      const diameter = Math.min(shape.bottomDiameterMm, top);
      return { lengthMm: diameter, widthMm: diameter };
    }
    case "MEASURED":
      return { lengthMm: shape.lengthMm, widthMm: shape.widthMm };
  }
}

/**
 * Area of the wall that the bath wets, m²: what an anode all round could cover.
 *
 * @param level mm
 */
export function wettedWall(shape: TankShape, level: Millimetres): SquareMetres {
  checkRange("level", level, 0, highestLevel(shape), "mm");
  const perimeter = (height: number): number => perimeterMm(shape, height / shape.depthMm);
  return squareMetres((level * (perimeter(0) + perimeter(level))) / 2 / 1e6);
}

/** Free depth and outline for drawings and estimates, mm. */
export function outlineAt(
  shape: TankShape,
  level: Millimetres,
): { lengthMm: number; widthMm: number } {
  const share = level / shape.depthMm;
  switch (shape.kind) {
    case "TAPERED_BOX":
      return {
        lengthMm: between(shape.bottomLengthMm, shape.topLengthMm, share),
        widthMm: between(shape.bottomWidthMm, shape.topWidthMm, share),
      };
    case "ROUND": {
      const diameter = between(shape.bottomDiameterMm, shape.topDiameterMm, share);
      return { lengthMm: diameter, widthMm: diameter };
    }
    case "MEASURED":
      return { lengthMm: shape.lengthMm, widthMm: shape.widthMm };
  }
}

/**
 * Open water at a level.
 * @returns m²
 * @example openSurface({ kind: "ROUND", topDiameterMm: 500, bottomDiameterMm: 500, depthMm: 800 }, millimetres(600)) // 0.196 m²
 */
export function openSurface(shape: TankShape, level: Millimetres): SquareMetres {
  checkRange("level", level, 0, shape.depthMm, "mm");
  if (shape.kind !== "MEASURED") return squareMetres(sectionMm2(shape, level) / 1e6);
  const { lengthMm, widthMm } = outlineAt(shape, level);
  return squareMetres((lengthMm * widthMm) / 1e6);
}

/** The level that may not be passed, mm: the rim, or the highest mark of a measured tank. */
export function highestLevel(shape: TankShape): number {
  if (shape.kind !== "MEASURED") return shape.depthMm;
  return Math.min(shape.depthMm, shape.marks.at(-1)?.levelMm ?? 0);
}

function measuredCurve(marks: readonly LevelMark[]): (level: number) => number {
  checkMarks(marks);
  return monotoneCurve([[0, 0], ...marks.map((mark) => [mark.levelMm, mark.volumeL] as const)]);
}

function sectionMm2(shape: Exclude<TankShape, { kind: "MEASURED" }>, height: number): number {
  const { lengthMm, widthMm } = outlineAt(shape, millimetres(height));
  return shape.kind === "ROUND" ? (Math.PI / 4) * lengthMm * lengthMm : lengthMm * widthMm;
}

function perimeterMm(shape: TankShape, share: number): number {
  const { lengthMm, widthMm } = outlineAt(shape, millimetres(share * shape.depthMm));
  return shape.kind === "ROUND" ? Math.PI * lengthMm : 2 * (lengthMm + widthMm);
}

const between = (from: number, to: number, share: number): number => from + (to - from) * share;
