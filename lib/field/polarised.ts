import { checkNonNegative, checkPositive } from "@/lib/units";
import type { Currents, Drive, Potential, Prepared, SolveOptions } from "./potential";

/** Overvoltage of an electrode and how steeply it grows, at a current density in A/m², ≥ 0. */
export type Polarisation = (densityAPerM2: number) => {
  /** V, ≥ 0 */
  readonly overvoltageV: number;
  /** Ω·m², > 0 */
  readonly slopeOhmM2: number;
};

/**
 * Tafel's law with a smooth end at low current: η = s·asinh(j/2j₀), s = b/ln 10.
 *
 * @param tafelSlopeV b, V per tenfold, > 0
 * @param exchangeCurrentDensity j₀, A/m², > 0
 * @example tafel(0.12, 0.01)(10).overvoltageV // 0.36 V
 */
export function tafel(tafelSlopeV: number, exchangeCurrentDensity: number): Polarisation {
  checkPositive("Tafel slope", tafelSlopeV, "V");
  checkPositive("exchange current density", exchangeCurrentDensity, "A/m²");
  const scale = tafelSlopeV / Math.LN10;
  return (density) => ({
    overvoltageV: scale * Math.asinh(density / (2 * exchangeCurrentDensity)),
    slopeOhmM2: scale / Math.hypot(density, 2 * exchangeCurrentDensity),
  });
}

/** Overvoltage in proportion to the current density: η = r·j. @param ohmM2 r, Ω·m², > 0 */
export function linear(ohmM2: number): Polarisation {
  checkPositive("polarisation resistance", ohmM2, "Ω·m²");
  return (density) => ({ overvoltageV: ohmM2 * density, slopeOhmM2: ohmM2 });
}

/**
 * A curve behind a layer of rust or scale: the layer's own η = r·j on top.
 *
 * @param ohmM2 r of the layer, Ω·m², ≥ 0
 * @example behindLayer(tafel(0.12, 0.01), 0.0136)(10).overvoltageV // 0.496 V
 */
export function behindLayer(curve: Polarisation, ohmM2: number): Polarisation {
  checkNonNegative("resistance of the layer", ohmM2, "Ω·m²");
  return (density) => {
    const { overvoltageV, slopeOhmM2 } = curve(density);
    return { overvoltageV: overvoltageV + ohmM2 * density, slopeOhmM2: slopeOhmM2 + ohmM2 };
  };
}

export type PolarisedDrive = {
  /** κ, S/m, > 0. */
  readonly conductivitySPerM: number;
  /** Current from all anodes to all parts, A, > 0. */
  readonly currentA: number;
  readonly part: Polarisation;
  readonly anode: Polarisation;
};

export type Polarised = Potential & {
  /** Metal of the anodes above metal of the parts, less the reversible voltage, V. */
  readonly drivingV: number;
  /** Rounds of setting the polarisation anew. */
  readonly rounds: number;
};

/** The currents count as settled when no round moves them by more than this share of the whole. */
const SETTLED = 1e-4;
const MOST_ROUNDS = 40;

/**
 * Secondary distribution: each face's overvoltage goes with its own current density, and evens it out.
 *
 * Newton's method face by face: at each face the curve is replaced by its tangent at the present density, the bath
 * is solved with that, and so on until the currents stay. The driving voltage is moved along until the current is
 * the one asked for; both settle together.
 *
 * @throws RangeError if κ or the current is out of range, or it does not settle
 * @throws Cancelled when told to end
 * @example solvePolarised(prepared, { conductivitySPerM: 0.5, currentA: 4, part: tafel(0.12, 0.01), anode: tafel(0.12, 0.03) })
 */
export function solvePolarised(
  prepared: Prepared,
  drive: PolarisedDrive,
  options: SolveOptions = {},
): Polarised {
  const { faces, electrodes } = prepared.scene;
  checkPositive("current", drive.currentA, "A");
  const isPart = electrodes.map(({ kind }) => kind === "PART");
  let density = meanDensities(prepared, drive.currentA);
  let tangents = tangentsAt(prepared, drive, density);
  const response = responseTo(prepared, drive, tangents, options);
  let { drivingV, iterations } = response;
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const solved = prepared.solveCurrents(driveAt(prepared, drive, drivingV, tangents), options);
    iterations += solved.iterations;
    const moreV = (drive.currentA - intoParts(prepared, solved)) / response.perVolt;
    let moved = 0;
    density = solved.faceCurrentA.map((current, face) => {
      const area = faces.areaM2[face]!;
      const all = current + moreV * response.faceCurrentA[face]!;
      // A tangent may overshoot below zero, where the curve does not go.
      const into = (isPart[faces.electrode[face]!] ? all : -all) / area;
      const next = area > 0 ? Math.max(density[face]! / 10, into) : 0;
      moved += Math.abs(next - density[face]!) * area;
      return next;
    });
    drivingV += moreV;
    if (moved < SETTLED * drive.currentA) {
      const last = prepared.solve(driveAt(prepared, drive, drivingV, tangents), options);
      return { ...last, iterations: iterations + last.iterations, drivingV, rounds: round };
    }
    tangents = tangentsAt(prepared, drive, density);
  }
  throw new RangeError(`the polarised field did not settle in ${MOST_ROUNDS} rounds`);
}

/** The current spread evenly over all parts, and over all anodes: A/m² on each face. */
function meanDensities({ scene }: Prepared, currentA: number): Float64Array {
  const { faces, electrodes } = scene;
  const areas = { PART: 0, ANODE: 0 };
  for (let face = 0; face < faces.count; face++) {
    areas[electrodes[faces.electrode[face]!]!.kind] += faces.areaM2[face]!;
  }
  return Float64Array.from(
    { length: faces.count },
    (_, face) => currentA / areas[electrodes[faces.electrode[face]!]!.kind],
  );
}

type Tangents = { readonly faceOhmM2: Float64Array; readonly faceOffsetV: Float64Array };

/** Each face's curve as a straight line at its present density. */
function tangentsAt({ scene }: Prepared, drive: PolarisedDrive, density: Float64Array): Tangents {
  const { faces, electrodes } = scene;
  const faceOhmM2 = new Float64Array(faces.count);
  const faceOffsetV = new Float64Array(faces.count);
  for (let face = 0; face < faces.count; face++) {
    const part = electrodes[faces.electrode[face]!]!.kind === "PART";
    const { overvoltageV, slopeOhmM2 } = (part ? drive.part : drive.anode)(density[face]!);
    faceOhmM2[face] = slopeOhmM2;
    // At a part the bath stands above the metal, at an anode below it.
    const offset = overvoltageV - slopeOhmM2 * density[face]!;
    faceOffsetV[face] = part ? offset : -offset;
  }
  return { faceOhmM2, faceOffsetV };
}

function driveAt(
  { scene }: Prepared,
  { conductivitySPerM }: PolarisedDrive,
  drivingV: number,
  tangents: Tangents,
): Drive {
  const potentialsV = scene.electrodes.map(({ kind }) => (kind === "ANODE" ? drivingV : 0));
  return { conductivitySPerM, potentialsV, ...tangents };
}

type Response = {
  /** For the current asked for. */
  readonly drivingV: number;
  /** What a volt more adds: A into all parts, and through each face. */
  readonly perVolt: number;
  readonly faceCurrentA: Float64Array;
  readonly iterations: number;
};

/**
 * How the bath of some tangents answers to the driving voltage. It is linear in it, so two solutions tell. Later tangents
 * answer a little otherwise; what that leaves out of each round's correction goes with the correction to nothing.
 */
function responseTo(
  prepared: Prepared,
  drive: PolarisedDrive,
  tangents: Tangents,
  options: SolveOptions,
): Response {
  const none = prepared.solveCurrents(driveAt(prepared, drive, 0, tangents), options);
  const one = prepared.solveCurrents(driveAt(prepared, drive, 1, tangents), options);
  const perVolt = intoParts(prepared, one) - intoParts(prepared, none);
  return {
    drivingV: (drive.currentA - intoParts(prepared, none)) / perVolt,
    perVolt,
    faceCurrentA: one.faceCurrentA.map((current, face) => current - none.faceCurrentA[face]!),
    iterations: none.iterations + one.iterations,
  };
}

function intoParts({ scene }: Prepared, { electrodeCurrentA }: Currents): number {
  return electrodeCurrentA.reduce(
    (sum, current, index) => sum + (scene.electrodes[index]?.kind === "PART" ? current : 0),
    0,
  );
}

/**
 * Wagner number: far above 1 the current spreads evenly, far below as if there were no polarisation.
 *   Wa = κ·(dη/dj)/l
 * IUPAC Gold Book, C01456 (Pure Appl. Chem. 53, 1981, 1827).
 *
 * @param lengthM l, a length of the cell, m, > 0
 * @example wagnerNumber(2.33, 0.12 / Math.LN10 / 10, 0.1) // 0.1214
 */
export function wagnerNumber(
  conductivitySPerM: number,
  slopeOhmM2: number,
  lengthM: number,
): number {
  checkPositive("conductivity", conductivitySPerM, "S/m");
  checkPositive("slope of the overvoltage", slopeOhmM2, "Ω·m²");
  checkPositive("length", lengthM, "m");
  return (conductivitySPerM * slopeOhmM2) / lengthM;
}
