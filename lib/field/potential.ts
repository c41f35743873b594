import { checkPositive, checkRange, type Metres, metres } from "@/lib/units";
import { type Krylov, krylovFor, solve } from "./conjugate-gradients";
import { buildPyramid, cellLengths, type Pyramid, setLeaks } from "./levels";
import type { Cancel, Progress, Scene } from "./scene";

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

export type Potential = {
  /** V in each cell of the scene; 0 where there is no bath, or bath that no electrode reaches. */
  readonly potentialV: Float64Array;
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
  const pyramid = buildPyramid(scene);
  const krylov = krylovFor(pyramid);
  return {
    scene,
    solve: (drive, options = {}) => solveOne(scene, pyramid, krylov, drive, options),
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
  const potentialsV = electrodes.map(({ kind }) => (kind === "ANODE" ? 1 : 0));
  const { electrodeCurrentA } = prepared.solve({ conductivitySPerM: 1, potentialsV }, options);
  return metres(
    electrodes.reduce(
      (sum, { kind }, index) => sum + (kind === "PART" ? electrodeCurrentA[index]! : 0),
      0,
    ),
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
    return prepared.solve({ conductivitySPerM, potentialsV }, options).electrodeCurrentA;
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

function solveOne(
  scene: Scene,
  pyramid: Pyramid,
  krylov: Krylov,
  drive: Drive,
  options: SolveOptions,
): Potential {
  const { faces, grid, electrodes } = scene;
  const { conductivitySPerM: kappa, potentialsV, faceOhmM2, faceOffsetV } = drive;
  checkDrive(scene, drive, options);
  const added = faceOhmM2?.map((ohmM2, face) => {
    const area = faces.areaM2[face]!;
    return ohmM2 === 0 ? 0 : (kappa * ohmM2) / area;
  });
  const leaks = setLeaks(pyramid, faces, cellLengths(grid), added);
  const metalV = Float64Array.from(
    { length: faces.count },
    (_, face) => potentialsV[faces.electrode[face]!]! + (faceOffsetV?.[face] ?? 0),
  );
  const solved = solve(pyramid, krylov, sourceOf(pyramid, leaks, metalV), {
    tolerance: options.tolerance ?? USUAL_TOLERANCE,
    mostIterations: options.mostIterations ?? MOST_ITERATIONS,
    onProgress: options.onProgress,
    cancel: options.cancel,
  });
  const faceCurrentA = leaks.map((leak, face) => {
    const cell = pyramid.faceCell[face]!;
    return cell < 0 ? 0 : kappa * leak * (krylov.potential[cell]! - metalV[face]!);
  });
  const electrodeCurrentA = electrodes.map(() => 0);
  faceCurrentA.forEach((current, face) => {
    const electrode = faces.electrode[face]!;
    electrodeCurrentA[electrode] = electrodeCurrentA[electrode]! + current;
  });
  return {
    potentialV: withoutMargin(scene, pyramid, krylov.potential),
    faceCurrentA,
    electrodeCurrentA,
    ...solved,
  };
}

/** What the electrodes put into the cells beside them; each such cell once. */
function sourceOf(
  { rims }: Pyramid,
  leaks: Float64Array,
  metalV: Float64Array,
): { readonly cells: Int32Array; readonly values: Float64Array } {
  const rim = rims[0];
  const cells = rim?.cells ?? new Int32Array(0);
  const values = new Float64Array(cells.length);
  for (let face = 0; face < leaks.length; face++) {
    const place = rim?.place[face] ?? -1;
    if (place >= 0) values[place] = values[place]! + leaks[face]! * metalV[face]!;
  }
  return { cells, values };
}

function withoutMargin(
  { grid }: Scene,
  { finest }: Pyramid,
  potential: Float64Array,
): Float64Array {
  const { nx, ny, nz } = grid;
  const inside = new Float64Array(nx * ny * nz);
  for (let k = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      const from = 1 + finest.row * (j + 1) + finest.layer * (k + 1);
      inside.set(potential.subarray(from, from + nx), nx * (j + ny * k));
    }
  }
  return inside;
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
