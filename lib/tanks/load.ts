import type { PartBox } from "./fit";
import type { Block, Hanging } from "./packing-space";
import type { TankShape } from "./shape";

/** Free bath between two parts, mm: common practice, no source. */
export const USUAL_GAP_MM = 30;

/** One part of a load; all its pieces go in together. */
export type LoadPart = {
  readonly id: string;
  readonly box: PartBox;
  /** Pieces of it, a whole number of 1 or more. */
  readonly quantity: number;
  /** Iron or steel of one piece, g. */
  readonly massG: number;
};

/** What is to hang in a tank at once. */
export type Load = {
  readonly shape: TankShape;
  /** mm, before the load goes in */
  readonly workingLevelMm: number;
  /** mm kept clear towards the anode and the floor */
  readonly clearanceMm: number;
  /** mm kept clear between any two pieces */
  readonly gapMm: number;
  readonly parts: readonly LoadPart[];
};

/** Where a piece hangs in the free space, and how it is turned. */
export type Place = Block & Hanging & { readonly id: string; readonly copy: number };
