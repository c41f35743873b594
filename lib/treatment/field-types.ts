import type { Point, TwoGrids, WearBand } from "@/lib/field";
import type { HoursRange, SideHours, SideSpread } from "./hours";

/*
 * What the field says of a planned part in its tank: plain data, stored with the plan as JSON.
 *
 * Places are from the middle of the tank's floor, m, x along the tank, y across, z up.
 */

/** The part in its bath with a certain set of anodes. */
export type FieldArrangement = {
  /** Shape length of clean metal, m. */
  readonly shapeLengthM: number;
  /** Current that it was solved at, A. */
  readonly currentA: number;
  readonly spread: SideSpread;
  /** Model hours of one dip, outside and inside. */
  readonly hours: SideHours;
  /** Share of the wet area with less than half the median density, 0 to 1. */
  readonly lagShare: number;
};

/** A rod or a sheet hung inside the part. */
export type InnerAnodeForm =
  | {
      readonly kind: "RODS";
      readonly rods: readonly { readonly from: Point; readonly to: Point }[];
      readonly radiusM: number;
    }
  | { readonly kind: "SHEET"; readonly least: Point; readonly most: Point };

/** An inner anode that was tried. */
export type InnerAnodeFound = FieldArrangement & {
  readonly form: InnerAnodeForm;
  /** In words, measures in braces: "A rod of {12 mm} upright in the middle". */
  readonly words: string;
  /** Nearest that it comes to the part, mm. */
  readonly clearanceMm: number;
  /** Hours that it saves of the slower side, P50. */
  readonly savesH: number;
};

/** Another way to lay the part in the same tank. */
export type TurnFound = {
  readonly words: string;
  /** The way of the plan. */
  readonly planned: boolean;
  readonly hours: HoursRange;
  readonly shapeLengthM: number;
};

export type FieldFindings = {
  /** Of the finer grid. */
  readonly cells: number;
  readonly conductivitySPerM: number;
  /** Of the planned arrangement, with the error that two grids leave in it. */
  readonly shapeLengthM: TwoGrids;
  /** Wet area of the part in one dip as its mesh has it, and the share that is inside. */
  readonly wetAreaM2: number;
  readonly insideShare: number;
  /** As planned, with nothing hung inside. */
  readonly planned: FieldArrangement;
  /** What hung inside helps, the most helpful first; empty where there is no room or nothing helps. */
  readonly innerAnodes: readonly InnerAnodeFound[];
  /** The ways that the part can lie, the quickest first. */
  readonly turns: readonly TurnFound[];
  /** From the floor up. */
  readonly wear: readonly WearBand[];
};
