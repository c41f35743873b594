import { type Metres, metres } from "@/lib/units";
import type { Bathful } from "./bathful";
import { buildScene } from "./build-scene";
import { distributions, type PartDistribution, patchDensities } from "./distribution";
import { type PolarisedDrive, solvePolarised } from "./polarised";
import {
  intoParts,
  prepare,
  type Prepared,
  primaryDrive,
  shapeLength,
  withError,
} from "./potential";
import type { Cancel, Electrode, Grid, Progress } from "./scene";

/** The field of one bath, for the eye and for figures. Plain data and typed arrays: it can be sent to a page. */
export type FieldLook = {
  readonly grid: Grid;
  readonly electrodes: readonly Electrode[];
  /** Code of each cell, as in `Scene.cells`. */
  readonly cells: Uint8Array;
  /** V in each cell. */
  readonly potentialV: Float32Array;
  /** Primary shape length of the whole cell. */
  readonly shapeLengthM: Metres;
  readonly parts: readonly PartDistribution[];
  /** The surface of parts and free anodes in small triangles, from the middle of the tank's floor, m. */
  readonly surface: {
    readonly electrode: Uint8Array;
    /** Nine numbers for each. */
    readonly corners: Float32Array;
    /** Current density over the mean of the part; NaN where dry, and on anodes. */
    readonly ratio: Float32Array;
    readonly inside: Uint8Array;
  };
};

export type LookOptions = {
  /** About how many cells; 100 000 when left out. */
  readonly cells?: number;
  /** Lets every face have its overvoltage; without it the metal's resistance to take current counts as none. */
  readonly polarised?: PolarisedDrive;
  readonly onProgress?: Progress;
  readonly cancel?: Cancel;
};

const USUAL_CELLS = 100_000;
/** A picture needs no more; figures from two grids ask for their own. */
const LOOK_TOLERANCE = 1e-5;

/**
 * Works out the field of a bath.
 *
 * @throws RangeError as `buildScene`, or naming what of the drive is out of range
 * @throws Cancelled when told to end
 * @example lookAt(bathful).parts[0]?.inside // what the inside gets
 */
export function lookAt(bathful: Bathful, options: LookOptions = {}): FieldLook {
  const { polarised, onProgress, cancel, cells = USUAL_CELLS } = options;
  const scene = buildScene(bathful, cells);
  const stop = { tolerance: LOOK_TOLERANCE, onProgress, cancel };
  const { primary, solved } = releasing(prepare(scene), (prepared) => {
    const bare = prepared.solve(primaryDrive(scene), stop);
    return {
      primary: bare,
      solved: polarised ? solvePolarised(prepared, polarised, stop) : bare,
    };
  });
  const densities = patchDensities(scene, solved.faceCurrentA);
  return {
    grid: scene.grid,
    electrodes: scene.electrodes,
    cells: scene.cells,
    potentialV: Float32Array.from(solved.potentialV),
    shapeLengthM: metres(intoParts(scene, primary)),
    parts: distributions(scene, densities, solved.electrodeCurrentA),
    surface: {
      electrode: scene.patches.electrode,
      corners: scene.patches.corners,
      ...densities,
    },
  };
}

/** Gives a scene's memory back once it has been worked with: looks follow one another while a part is dragged. */
function releasing<Result>(prepared: Prepared, work: (prepared: Prepared) => Result): Result {
  try {
    return work(prepared);
  } finally {
    prepared.release();
  }
}

/**
 * Shape length of a bath from two grids, the second with eight times the cells, and the error that is left in it.
 *
 * @param cells about how many in the coarse grid
 * @example shapeLengthWithError(bathful, 50_000) // value 2.19 m, error 0.03 m
 */
export function shapeLengthWithError(
  bathful: Bathful,
  cells: number,
  cancel?: Cancel,
): { readonly value: number; readonly error: number } {
  const [coarse, fine] = [cells, 8 * cells].map((count) =>
    releasing(prepare(buildScene(bathful, count)), (prepared) =>
      shapeLength(prepared, { tolerance: LOOK_TOLERANCE, cancel }),
    ),
  );
  return withError(coarse!, fine!, 2);
}

/** A cut through a bath, row by row from its lower left corner. */
export type Section = {
  readonly columns: number;
  readonly rows: number;
  /** Lengths of a column and a row, m. */
  readonly columnM: number;
  readonly rowM: number;
  /** V in each cell, and its code. */
  readonly potentialV: Float32Array;
  readonly codes: Uint8Array;
};

/**
 * A cut along the cells nearest to a place.
 *
 * @param axis that the cut is across: "x" shows y and z, "y" shows x and z, "z" shows x and y
 * @param share of the way along the axis, 0 to 1
 */
export function sectionOf(
  { grid, cells, potentialV }: Pick<FieldLook, "grid" | "cells" | "potentialV">,
  axis: "x" | "y" | "z",
  share: number,
): Section {
  const { nx, ny, nz, hx, hy, hz } = grid;
  const across = { x: [nx, ny, nz], y: [ny, nx, nz], z: [nz, nx, ny] }[axis];
  const steps = { x: [1, nx, nx * ny], y: [nx, 1, nx * ny], z: [nx * ny, 1, nx] }[axis];
  const [columnM, rowM] = { x: [hy, hz], y: [hx, hz], z: [hx, hy] }[axis] as [number, number];
  const [depth, columns, rows] = across as [number, number, number];
  const at = Math.min(depth - 1, Math.max(0, Math.floor(share * depth)));
  const volts = new Float32Array(columns * rows);
  const codes = new Uint8Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const cell = at * steps[0]! + column * steps[1]! + row * steps[2]!;
      volts[column + columns * row] = potentialV[cell]!;
      codes[column + columns * row] = cells[cell]!;
    }
  }
  return { columns, rows, columnM, rowM, potentialV: volts, codes };
}
