import { checkPositive, checkRange } from "@/lib/units";
import { blockMesh, type Mesh, type Point, type Pose, turnedMesh } from "./mesh";
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
      readonly foot: Point;
      readonly heightM: number;
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
    case "ROD": {
      checkPositive("radius of the rod", form.radiusM, "m");
      checkPositive("height of the rod", form.heightM, "m");
      const [x, y, z] = form.foot;
      const rod = turnedMesh(
        [
          [0, z],
          [form.radiusM, z],
          [form.radiusM, z + form.heightM],
          [0, z + form.heightM],
        ],
        ROD_PIECES,
      );
      return {
        ...rod,
        positions: rod.positions.map((value, at) => value + ([x, y, 0][at % 3] ?? 0)),
      };
    }
    case "PLATE":
      return blockMesh(form.least, form.most);
  }
}
