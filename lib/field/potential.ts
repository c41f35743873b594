import { checkPositive, checkRange, type Metres, metres } from "@/lib/units";
import { type Board, placeOnBoard } from "./board";
import { solve } from "./conjugate-gradients";
import { buildLevels, cellLengths } from "./levels";
import { Machine } from "./machine";
import type { Cancel, Grid, Progress, Scene } from "./scene";

/** What drives the bath. */
export type Drive = {
  /** κ, S/m, > 0. */
  readonly conductivitySPerM: number;
  /** Potential of each electrode's metal, V. */
  readonly potentialsV: readonly number[];
  /**
   * Polarisation of each face, made linear: the bath beside it stands at metal + offset + r·j above, j the
   * current density into the electrode. r in Ω·m² of true area, ≥ 0; none when left out (primary distribution).
   */
  readonly faceOhmM2?: Float64Array;
  readonly faceOffsetV?: Float64Array;
};

export type SolveOptions = {
  /** Residual over source; 1e-6 when left out. */
  readonly tolerance?: number;
  readonly mostIterations?: number;
  readonly onProgress?: Progress | undefined;
  readonly cancel?: Cancel | undefined;
};

export type Potential = Currents & {
  /** V in each cell of the scene; 0 where there is no bath, or bath that no electrode reaches. */
  readonly potentialV: Float64Array;
};

export type Currents = {
  /** A through each face, out of the bath into the electrode: positive at a part that is cleaned. */
  readonly faceCurrentA: Float64Array;
  /** A into each electrode. */
  readonly electrodeCurrentA: readonly number[];
  readonly iterations: number;
  readonly residual: number;
};

/** A scene made ready: its grids are built once and serve any number of drives. */
export type Prepared = {
  readonly scene: Scene;
  /** Solves for one drive, from the last solution on. */
  readonly solve: (drive: Drive, options?: SolveOptions) => Potential;
  /** As `solve`, without copying the potential out. */
  readonly solveCurrents: (drive: Drive, options?: SolveOptions) => Currents;
  /** Gives its memory to the next scene that needs as much; then it solves no more. Not a must. */
  readonly release: () => void;
};

const USUAL_TOLERANCE = 1e-6;
const MOST_ITERATIONS = 200;

/**
 * Builds the grids of a scene: about 45 bytes a cell beside the scene. Each solution then is ∇·(κ∇φ) = 0 by finite
 * volumes, with insulating sides and electrodes at fixed potentials, with or without their polarisation.
 *
 * `solve` throws a RangeError if κ, a potential, a resistance or the tolerance is out of its range, and `Cancelled`
 * when told to end.
 *
 * @example prepare(scene).solve({ conductivitySPerM: 2.33, potentialsV: [1, 0] }).electrodeCurrentA
 */
export function prepare(scene: Scene): Prepared {
  const machine = new Machine(buildLevels(scene), scene.faces);
  let released = false;
  const solveCurrents = (drive: Drive, options: SolveOptions = {}): Currents => {
    if (released) throw new Error("a scene that was released is not solved any more");
    return solveOne(scene, machine, drive, options);
  };
  return {
    scene,
    solveCurrents,
    solve: (drive, options) => ({
      ...solveCurrents(drive, options),
      potentialV: offBoard(machine.finest, machine.potential, scene.grid),
    }),
    release: () => {
      if (!released) machine.release();
      released = true;
    },
  };
}

/**
 * Shape length g of the cell: all anodes at one potential, all parts at another, no polarisation; the bath's
 * resistance is 1/(κ·g).
 *
 * @throws RangeError unless the scene has a part and an anode
 * @example shapeLength(prepare(scene)) // 0.8 m
 */
export function shapeLength(prepared: Prepared, options?: SolveOptions): Metres {
  const { electrodes } = prepared.scene;
  for (const kind of ["PART", "ANODE"] as const) {
    if (!electrodes.some((electrode) => electrode.kind === kind)) {
      throw new RangeError(
        `a shape length takes a part and an anode, got no ${kind.toLowerCase()}`,
      );
    }
  }
  return metres(
    intoParts(prepared.scene, prepared.solveCurrents(primaryDrive(prepared.scene), options)),
  );
}

/** All anodes a volt above all parts in a bath of 1 S/m, no polarisation: the current then is the shape length. */
export function primaryDrive({ electrodes }: Scene): Drive {
  const potentialsV = electrodes.map(({ kind }) => (kind === "ANODE" ? 1 : 0));
  return { conductivitySPerM: 1, potentialsV };
}

/** Current into all parts together, A. */
export function intoParts({ electrodes }: Scene, { electrodeCurrentA }: Currents): number {
  return electrodes.reduce(
    (sum, { kind }, index) => sum + (kind === "PART" ? electrodeCurrentA[index]! : 0),
    0,
  );
}

/**
 * Current into each electrode per volt on each: G in siemens. Symmetric (reciprocity), and each row adds up to
 * 0 (conservation), both to the tolerance.
 *
 * @returns rows of currents into electrode i for 1 V on electrode j and 0 V on the others: −G_ii > 0
 */
export function conductanceMatrix(
  prepared: Prepared,
  conductivitySPerM: number,
  options?: SolveOptions,
): readonly (readonly number[])[] {
  const count = prepared.scene.electrodes.length;
  const columns = Array.from({ length: count }, (_, lit) => {
    const potentialsV = Array.from({ length: count }, (_, index) => (index === lit ? 1 : 0));
    return prepared.solveCurrents({ conductivitySPerM, potentialsV }, options).electrodeCurrentA;
  });
  return columns.map((_, row) => columns.map((column) => column[row]!));
}

/** A value from two grids, with the error that is left in the finer one. */
export type TwoGrids = { readonly value: number; readonly error: number };

/**
 * Error of the finer of two solutions (Richardson): an error that falls with the cell's length to the power of
 * `order` is the difference over (ratio^order − 1). Edges make the order about 1, which is the cautious choice.
 *
 * @param ratio length of a coarse cell over that of a fine one, > 1
 * @throws RangeError if ratio or order is out of its range
 * @example withError(0.82, 0.80, 2) // value 0.80, error 0.02
 */
export function withError(coarse: number, fine: number, ratio: number, order = 1): TwoGrids {
  checkRange("ratio of the grids", ratio, 1 + 1e-9, 100, "(ratio)");
  checkPositive("order of convergence", order, "(power)");
  return { value: fine, error: Math.abs(fine - coarse) / (ratio ** order - 1) };
}

function solveOne(scene: Scene, machine: Machine, drive: Drive, options: SolveOptions): Currents {
  const { faces, grid, electrodes } = scene;
  const { conductivitySPerM: kappa, potentialsV, faceOhmM2, faceOffsetV } = drive;
  checkDrive(scene, drive, options);
  const added = faceOhmM2?.map((ohmM2, face) => {
    const area = faces.areaM2[face]!;
    return ohmM2 === 0 ? 0 : (kappa * ohmM2) / area;
  });
  const leaks = machine.setLeaks(cellLengths(grid), added);
  const metalV = Float64Array.from(
    { length: faces.count },
    (_, face) => potentialsV[faces.electrode[face]!]! + (faceOffsetV?.[face] ?? 0),
  );
  setSource(machine, leaks, metalV);
  const solved = solve(machine, {
    tolerance: options.tolerance ?? USUAL_TOLERANCE,
    mostIterations: options.mostIterations ?? MOST_ITERATIONS,
    onProgress: options.onProgress,
    cancel: options.cancel,
  });
  const faceCurrentA = leaks.map((leak, face) => {
    const cell = machine.rim.facePlace[face]!;
    return cell < 0 ? 0 : kappa * leak * (machine.potential[cell]! - metalV[face]!);
  });
  const electrodeCurrentA = electrodes.map(() => 0);
  faceCurrentA.forEach((current, face) => {
    const electrode = faces.electrode[face]!;
    electrodeCurrentA[electrode] = electrodeCurrentA[electrode]! + current;
  });
  return {
    faceCurrentA,
    electrodeCurrentA,
    ...solved,
  };
}

/** What the electrodes put into the cells beside them; each such cell once. */
function setSource({ source, rim }: Machine, leaks: Float64Array, metalV: Float64Array): void {
  source.fill(0);
  for (let face = 0; face < leaks.length; face++) {
    const place = rim.rimOfFace[face]!;
    if (place >= 0) source[place]! += leaks[face]! * metalV[face]!;
  }
}

function offBoard(board: Board, potential: Float64Array, { nx, ny, nz }: Grid): Float64Array {
  const cells = new Float64Array(nx * ny * nz);
  let cell = 0;
  for (let k = 1; k <= nz; k++) {
    for (let j = 1; j <= ny; j++) {
      const odd = placeOnBoard(board, 1, j, k);
      const even = placeOnBoard(board, 2, j, k);
      for (let i = 0; i < nx; i++, cell++) {
        cells[cell] = potential[(i % 2 === 0 ? odd : even) + (i >> 1)]!;
      }
    }
  }
  return cells;
}

function checkDrive(
  { electrodes, faces }: Scene,
  { conductivitySPerM, potentialsV, faceOhmM2 }: Drive,
  { tolerance = USUAL_TOLERANCE }: SolveOptions,
): void {
  checkPositive("conductivity", conductivitySPerM, "S/m");
  checkRange("tolerance", tolerance, 1e-13, 0.1, "(share)");
  if (potentialsV.length !== electrodes.length || !potentialsV.every(Number.isFinite)) {
    throw new RangeError(
      `a potential in V is needed for each of ${electrodes.length} electrodes, got ${potentialsV.join(", ")}`,
    );
  }
  if (faceOhmM2 && (faceOhmM2.length !== faces.count || faceOhmM2.some((ohm) => !(ohm >= 0)))) {
    throw new RangeError(
      `a resistance of 0 Ω·m² or more is needed for each of ${faces.count} faces`,
    );
  }
}
