import type { Millimetres } from "@/lib/units";
import { fitPart, type Lie, type PartBox, rectangleFits } from "./fit";
import { freeBox, type TankShape } from "./shape";
import { lengthBeside, tiltNeeded, turns } from "./turns";

/** Arithmetic error forgiven where faces meet, mm: a thousandth of a hair. */
export const TOLERANCE_MM = 1e-6;

/**
 * The free space of a tank: its box, or the upright cylinder of a round tank inside the box `diameterMm` square.
 * Places are measured from its lower left front corner.
 */
export type PackingSpace = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly diameterMm?: number;
};

/** The stretches that a part takes up along the tank, across it and upwards, mm. */
export type Extents = {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
};

/** A stretch of the free space, by its lower left front corner. */
export type Block = Extents & { readonly xMm: number; readonly yMm: number; readonly zMm: number };

/** One way to hang a part. The room that a tilted part takes up is the level box round it. */
export type Hanging = Extents & {
  readonly lie: Lie;
  /** The side of the tank that the part's measure `lie.along` follows. */
  readonly follows: "LENGTH" | "WIDTH";
};

/** Parts of one size: how they may hang, and how many are to be hung. */
export type Kind = { readonly ways: readonly Hanging[]; readonly copies: number };

/** A copy of a kind, and where it hangs. */
export type Hung = { readonly kind: number; readonly hanging: Hanging; readonly block: Block };

/**
 * The free space of a tank under its working level.
 *
 * @param level       mm, 0 to the highest level of the tank
 * @param clearanceMm mm kept clear at the sides and at the floor, ≥ 0
 * @throws RangeError when a measure is out of range
 */
export function packingSpace(
  shape: TankShape,
  level: Millimetres,
  clearanceMm: number,
): PackingSpace {
  const { diameterMm, ...box } = freeBox(shape, level, clearanceMm);
  if (diameterMm === undefined) return box;
  return { ...box, lengthMm: diameterMm, widthMm: diameterMm, diameterMm };
}

/** Whether a block lies in the free space: a round tank holds the four corners of its floor plan. */
export function isInside(block: Block, space: PackingSpace): boolean {
  const { xMm, yMm, zMm } = block;
  const [right, back] = [xMm + block.lengthMm, yMm + block.widthMm];
  const inBox =
    Math.min(xMm, yMm, zMm) >= -TOLERANCE_MM &&
    right <= space.lengthMm + TOLERANCE_MM &&
    back <= space.widthMm + TOLERANCE_MM &&
    zMm + block.heightMm <= space.heightMm + TOLERANCE_MM;
  if (!inBox || space.diameterMm === undefined) return inBox;
  const radius = space.diameterMm / 2;
  const awayX = Math.max(Math.abs(xMm - radius), Math.abs(right - radius));
  const awayY = Math.max(Math.abs(yMm - radius), Math.abs(back - radius));
  return Math.hypot(awayX, awayY) <= radius + TOLERANCE_MM;
}

/**
 * The ways in which a part may hang in a tank: level in up to six ways; one that goes in no other way, tilted; one that
 * is dipped end for end, upright.
 *
 * @returns the ways, or in words why the part does not fit even alone
 * @throws RangeError when a measure is out of range
 */
export function hangings(
  part: PartBox,
  shape: TankShape,
  level: Millimetres,
  clearanceMm: number,
): readonly Hanging[] | string {
  const fit = fitPart(part, shape, level, clearanceMm);
  if (!fit.fits) return fit.words;
  const free = freeBox(shape, level, clearanceMm);
  switch (fit.lie.kind) {
    case "WHOLE":
      return distinct(
        turns(part)
          .filter(([up, along, across]) => {
            return up <= free.heightMm && along <= lengthBeside(free, across);
          })
          .map(([up, along, across]) => levelHanging({ kind: "WHOLE", up, along, across }, up)),
      );
    case "TILTED":
      return tilted(part, free);
    case "END_FOR_END": {
      const one = levelHanging(fit.lie, free.heightMm);
      const turned = crosswise(one);
      const fits = turned.lengthMm <= lengthBeside(free, turned.widthMm);
      return distinct(fits ? [one, turned] : [one]);
    }
  }
}

function levelHanging(lie: Lie, heightMm: number): Hanging {
  return { lie, follows: "LENGTH", lengthMm: lie.along, widthMm: lie.across, heightMm };
}

const crosswise = (hanging: Hanging): Hanging => ({
  ...hanging,
  follows: hanging.follows === "LENGTH" ? "WIDTH" : "LENGTH",
  lengthMm: hanging.widthMm,
  widthMm: hanging.lengthMm,
});

/** Every upright plane in which the part goes in tilted, at its smallest tilt. */
function tilted(part: PartBox, free: ReturnType<typeof freeBox>): Hanging[] {
  const turnedTank = { ...free, lengthMm: free.widthMm, widthMm: free.lengthMm };
  const found: Hanging[] = [];
  for (const [up, along, across] of turns(part)) {
    if (up > along) continue; // the same tilt as of the turn with both exchanged
    for (const plane of [free, turnedTank]) {
      const room = lengthBeside(plane, across);
      if (!(room > 0 && rectangleFits(along, up, room, free.heightMm))) continue;
      const tilt = tiltNeeded(along, up, room);
      const tiltDegrees = Math.round((tilt * 1800) / Math.PI) / 10;
      const hanging: Hanging = {
        lie: { kind: "TILTED", tiltDegrees, up, along, across },
        follows: "LENGTH",
        lengthMm: along * Math.cos(tilt) + up * Math.sin(tilt),
        widthMm: across,
        heightMm: along * Math.sin(tilt) + up * Math.cos(tilt),
      };
      found.push(plane === free ? hanging : crosswise(hanging));
    }
  }
  return distinct(found);
}

/** A cube need not be tried six times. */
function distinct(all: readonly Hanging[]): Hanging[] {
  const key = ({ lengthMm, widthMm, heightMm }: Hanging): string =>
    `${lengthMm} ${widthMm} ${heightMm}`;
  return [...new Map(all.map((hanging) => [key(hanging), hanging])).values()];
}

/** Room that a part takes up, mm³. */
export function bulk({ lengthMm, widthMm, heightMm }: Extents): number {
  return lengthMm * widthMm * heightMm;
}
