import { checkNonNegative, checkPositive, checkRange } from "@/lib/units";
import type { Currents, Drive, Potential, Prepared, SolveOptions } from "./potential";
import { solveSystem } from "./small-system";

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
  /** Current from all anodes to all parts, A, > 0; that of all supplies together. */
  readonly currentA: number;
  /**
   * Which anodes hang on which supply, all of them against the same parts; one for all when left out. Each drives its own
   * current, and so settles at its own voltage.
   */
  readonly supplies?: readonly SupplyDrive[];
  readonly part: Polarisation;
  readonly anode: Polarisation;
};

/** A supply with its anodes. */
export type SupplyDrive = {
  /** Ids of electrodes of the scene; every anode hangs on one supply. */
  readonly anodes: readonly string[];
  /** A, > 0 */
  readonly currentA: number;
};

export type Polarised = Potential & {
  /** Metal of the first supply's anodes above metal of the parts, less the reversible voltage, V. */
  readonly drivingV: number;
  /** The same of each supply. */
  readonly drivingsV: readonly number[];
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
 * is solved with that, and so on until the currents stay. The driving voltages are moved along until each supply's
 * current is the one asked for; all settle together.
 *
 * @throws RangeError if κ or a current is out of range, the supplies do not share out the anodes, or it does not settle,
 * as where a supply is so weak that its neighbour would drive current into its anodes
 * @throws Cancelled when told to end
 * @example solvePolarised(prepared, { conductivitySPerM: 0.5, currentA: 4, part: tafel(0.12, 0.01), anode: tafel(0.12, 0.03) })
 */
export function solvePolarised(
  prepared: Prepared,
  drive: PolarisedDrive,
  options: SolveOptions = {},
): Polarised {
  const { faces } = prepared.scene;
  const wiring = wiringOf(prepared, drive);
  let density = meanDensities(prepared, drive, wiring);
  let tangents = tangentsAt(prepared, drive, density);
  const response = responseTo(prepared, drive, wiring, tangents, options);
  let { drivingsV, iterations } = response;
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const at = driveAt(drive, wiring, drivingsV, tangents);
    const solved = prepared.solveCurrents(at, options);
    iterations += solved.iterations;
    const moreV = solveSystem(response.perVolt, lacking(wiring, solved));
    let moved = 0;
    density = solved.faceCurrentA.map((current, face) => {
      const area = faces.areaM2[face]!;
      const all = moreV.reduce((sum, more, supply) => {
        return sum + more * response.faceCurrentA[supply]![face]!;
      }, current);
      // A tangent may overshoot below zero, where the curve does not go.
      const into = (wiring.supplyOf[faces.electrode[face]!]! < 0 ? all : -all) / area;
      const next = area > 0 ? Math.max(density[face]! / 10, into) : 0;
      moved += Math.abs(next - density[face]!) * area;
      return next;
    });
    drivingsV = drivingsV.map((drivingV, supply) => drivingV + moreV[supply]!);
    if (moved < SETTLED * drive.currentA) {
      const last = prepared.solve(driveAt(drive, wiring, drivingsV, tangents), options);
      iterations += last.iterations;
      return { ...last, iterations, drivingV: drivingsV[0]!, drivingsV, rounds: round };
    }
    tangents = tangentsAt(prepared, drive, density);
  }
  throw new RangeError(`the polarised field did not settle in ${MOST_ROUNDS} rounds`);
}

/** Which supply each electrode hangs on: its number, −1 for parts; and what each drives, A. */
type Wiring = { readonly supplyOf: Int32Array; readonly currentsA: readonly number[] };

function wiringOf({ scene }: Prepared, { currentA, supplies }: PolarisedDrive): Wiring {
  checkPositive("current", currentA, "A");
  const anodes = scene.electrodes.filter(({ kind }) => kind === "ANODE").map(({ id }) => id);
  const all = supplies ?? [{ anodes, currentA }];
  for (const { currentA: one } of all) checkPositive("current of a supply", one, "A");
  const sum = all.reduce((total, one) => total + one.currentA, 0);
  checkRange("current of all supplies", sum, 0.999 * currentA, 1.001 * currentA, "A");
  const hung = all.flatMap((one) => one.anodes);
  if ([...hung].sort().join() !== [...anodes].sort().join()) {
    throw new RangeError(
      `each anode hangs on one supply: expected ${anodes.join(", ")}, got ${hung.join(", ")}`,
    );
  }
  const supplyOf = Int32Array.from(scene.electrodes, ({ kind, id }) =>
    kind === "PART" ? -1 : all.findIndex((one) => one.anodes.includes(id)),
  );
  return { supplyOf, currentsA: all.map((one) => one.currentA) };
}

/** The current spread evenly over all parts, and over the anodes of each supply: A/m² on each face. */
function meanDensities(
  { scene }: Prepared,
  { currentA }: PolarisedDrive,
  { supplyOf, currentsA }: Wiring,
): Float64Array {
  const { faces } = scene;
  // Parts first, then supply by supply.
  const areas = new Float64Array(currentsA.length + 1);
  const group = (face: number): number => supplyOf[faces.electrode[face]!]! + 1;
  for (let face = 0; face < faces.count; face++) areas[group(face)]! += faces.areaM2[face]!;
  const means = [currentA, ...currentsA].map((current, index) => current / areas[index]!);
  return Float64Array.from({ length: faces.count }, (_, face) => means[group(face)]!);
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
  { conductivitySPerM }: PolarisedDrive,
  { supplyOf }: Wiring,
  drivingsV: readonly number[],
  tangents: Tangents,
): Drive {
  const potentialsV = Array.from(supplyOf, (supply) => drivingsV[supply] ?? 0);
  return { conductivitySPerM, potentialsV, ...tangents };
}

type Response = {
  /** For the currents asked for. */
  readonly drivingsV: readonly number[];
  /** What a volt more on each supply adds: A out of each, rows of supplies, and through each face. */
  readonly perVolt: readonly (readonly number[])[];
  readonly faceCurrentA: readonly Float64Array[];
  readonly iterations: number;
};

/**
 * How the bath of some tangents answers to the driving voltages. It is linear in them, so one solution more than there
 * are supplies tells. Later tangents answer a little otherwise; what that leaves out of each round's correction goes
 * with the correction to nothing.
 */
function responseTo(
  prepared: Prepared,
  drive: PolarisedDrive,
  wiring: Wiring,
  tangents: Tangents,
  options: SolveOptions,
): Response {
  const at = (lit: number): Currents => {
    const drivingsV = wiring.currentsA.map((_, supply) => (supply === lit ? 1 : 0));
    return prepared.solveCurrents(driveAt(drive, wiring, drivingsV, tangents), options);
  };
  const none = at(-1);
  const lit = wiring.currentsA.map((_, supply) => at(supply));
  const dark = outOf(wiring, none);
  const columns = lit.map((one) => outOf(wiring, one).map((out, row) => out - dark[row]!));
  const perVolt = wiring.currentsA.map((_, row) => columns.map((column) => column[row]!));
  return {
    perVolt,
    drivingsV: solveSystem(perVolt, lacking(wiring, none)),
    faceCurrentA: lit.map(({ faceCurrentA }) =>
      faceCurrentA.map((current, face) => current - none.faceCurrentA[face]!),
    ),
    iterations: lit.reduce((sum, one) => sum + one.iterations, none.iterations),
  };
}

/** What each supply still has to drive, A. */
function lacking(wiring: Wiring, solved: Currents): readonly number[] {
  const out = outOf(wiring, solved);
  return wiring.currentsA.map((current, supply) => current - out[supply]!);
}

/** A out of the anodes of each supply. */
function outOf({ supplyOf, currentsA }: Wiring, solved: Currents): readonly number[] {
  const out = currentsA.map(() => 0);
  solved.electrodeCurrentA.forEach((current, electrode) => {
    const supply = supplyOf[electrode]!;
    if (supply >= 0) out[supply] = out[supply]! - current;
  });
  return out;
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
