/*
 * What a field solution is made of. SI: metres, volts, amperes, ohms, siemens per metre.
 * x runs along the tank, y across it, z up from its floor; a cell's index is i + nx·(j + ny·k).
 */

/** A block of equal cells from the tank's lowest corner; the six outer sides insulate. */
export type Grid = {
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** Edges of a cell, m. */
  readonly hx: number;
  readonly hy: number;
  readonly hz: number;
};

/** What fills a cell: bath, an insulator (vessel, air above the level), or electrode number `code − FIRST_ELECTRODE`. */
export const BATH = 0;
export const INSULATOR = 1;
export const FIRST_ELECTRODE = 2;

/** A piece of metal at one potential. */
export type Electrode = {
  readonly kind: "PART" | "ANODE";
  readonly id: string;
  readonly name: string;
};

/** Sides of a bath cell, as numbers in `Faces.side`: towards −x, +x, −y, +y, −z, +z. */
export const SIDES = ["-x", "+x", "-y", "+y", "-z", "+z"] as const;

/**
 * Every side on which a bath cell meets an electrode, in columns of equal length.
 *
 * A stair of cells has more area than the slope it stands for, and a thin wall is as thick as a cell here; so
 * each face carries the true area of the surface that it stands for. All of an electrode's faces together have
 * the area of its wetted surface.
 */
export type Faces = {
  readonly count: number;
  /** Index of the bath cell. */
  readonly cell: Uint32Array;
  /** 0 to 5, as in `SIDES`: where the electrode lies, seen from the bath cell. */
  readonly side: Uint8Array;
  /** Index in `Scene.electrodes`. */
  readonly electrode: Uint8Array;
  /**
   * From the middle of the bath cell to the metal behind this side, in lengths of the cell, above 0. It may pass 1
   * beside a wall thinner than a cell, and before a strip. Half a length where the metal begins with the cell.
   * Knowing it makes a stair as good as the slope it stands for.
   */
  readonly gap: Float64Array;
  /** True area that the face stands for, m², ≥ 0. */
  readonly areaM2: Float64Array;
};

/** A bath cut into cells, with the metal in it. */
export type Scene = {
  readonly grid: Grid;
  /** A code for each cell; see `BATH`. */
  readonly cells: Uint8Array;
  readonly electrodes: readonly Electrode[];
  readonly faces: Faces;
};

/** Calls back with the share done, 0 to 1; throws or returns as the caller likes. */
export type Progress = (share: number) => void;

/** Long work looks here between its steps and ends with `Cancelled` when told to. */
export type Cancel = { readonly cancelled: boolean };

/** The work was told to end before it was done. */
export class Cancelled extends Error {
  override readonly name = "Cancelled";
}
