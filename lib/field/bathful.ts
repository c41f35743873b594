import { checkPositive, checkRange } from "@/lib/units";
import {
  blockMesh,
  type Mesh,
  minus,
  moved,
  type Point,
  type Pose,
  turnAbout,
  turnedMesh,
  turnsTogether,
} from "./mesh";
import type { Vessel } from "./vessel";

/** An anode as it hangs. Places are from the middle of the tank's floor, m. */
export type AnodeForm =
  | {
      /** Upright strips of sheet at the wall, evenly round it, from the floor to the level. */
      readonly kind: "STRIPS";
      /** A multiple of 4 in a box, so that each side gets its share. */
      readonly count: number;
      /** Facing the bath, of all strips together, m²; more than the wall counts as the whole wall. */
      readonly areaM2: number;
    }
  | {
      readonly kind: "ROD";
      readonly from: Point;
      readonly to: Point;
      readonly radiusM: number;
    }
  | { readonly kind: "PLATE"; readonly least: Point; readonly most: Point };

export type HungPart = {
  readonly id: string;
  readonly name: string;
  readonly mesh: Mesh;
  /** From the middle of the tank's floor. */
  readonly pose: Pose;
};

export type HungAnode = { readonly id: string; readonly name: string; readonly form: AnodeForm };

/** A tank with what hangs in it. */
export type Bathful = {
  readonly vessel: Vessel;
  /** Of the bath with everything in it, m. */
  readonly levelM: number;
  readonly anodes: readonly HungAnode[];
  readonly parts: readonly HungPart[];
};

/** Sides of the polygon that stands for a rod. */
const ROD_PIECES = 16;
/** Its corners stand out by so much that it has the girth of the circle. */
const ROUND_GIRTH = Math.PI / ROD_PIECES / Math.sin(Math.PI / ROD_PIECES);

/**
 * The mesh of an anode that stands free of the wall; null for strips, which are part of the wall.
 *
 * @throws RangeError naming the measure that is out of range
 */
export function anodeMesh(form: AnodeForm): Mesh | null {
  switch (form.kind) {
    case "STRIPS":
      checkPositive("anode area", form.areaM2, "m²");
      checkRange("strips", form.count, 1, 64, "(count)");
      return null;
    case "ROD":
      return rodMesh(form.from, form.to, form.radiusM);
    case "PLATE":
      return blockMesh(form.least, form.most);
  }
}

function rodMesh(from: Point, to: Point, radiusM: number): Mesh {
  const along = minus(to, from);
  const length = Math.hypot(...along);
  checkPositive("radius of the rod", radiusM, "m");
  checkPositive("length of the rod", length, "m");
  const corner = radiusM * ROUND_GIRTH;
  const upright = turnedMesh(
    [
      [0, 0],
      [corner, 0],
      [corner, length],
      [0, length],
    ],
    ROD_PIECES,
  );
  // Upright, then tipped over, then turned to where it points.
  const tip = Math.acos(along[2] / length);
  const turn = Math.atan2(along[1], along[0]);
  const rotation = turnsTogether(turnAbout("z", turn), turnAbout("y", tip));
  return moved(upright, { rotation, translation: from });
}
