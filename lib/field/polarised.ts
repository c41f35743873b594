import { checkNonNegative, checkPositive } from "@/lib/units";
import type { Potential, Prepared, SolveOptions } from "./potential";

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
  const areas = [true, false].map((part) =>
    faces.areaM2.reduce(
      (sum, area, face) => sum + (isPart[faces.electrode[face]!] === part ? area : 0),
      0,
    ),
  );
  const mean = areas.map((area) => drive.currentA / area);
  const faceOhmM2 = new Float64Array(faces.count);
  const faceOffsetV = new Float64Array(faces.count);
  let density: Float64Array = Float64Array.from({ length: faces.count }, (_, face) =>
    isPart[faces.electrode[face]!] ? mean[0]! : mean[1]!,
  );
  let drivingV = 0;
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    for (let face = 0; face < faces.count; face++) {
      const part = isPart[faces.electrode[face]!]!;
      const { overvoltageV, slopeOhmM2 } = (part ? drive.part : drive.anode)(density[face]!);
      faceOhmM2[face] = slopeOhmM2;
      // At a part the bath stands above the metal, at an anode below it.
      const offset = overvoltageV - slopeOhmM2 * density[face]!;
      faceOffsetV[face] = part ? offset : -offset;
    }
    const solved = atCurrent(prepared, drive, { faceOhmM2, faceOffsetV }, options);
    drivingV = solved.drivingV;
    const next = solved.faceCurrentA.map((current, face) => {
      const area = faces.areaM2[face]!;
      const into = isPart[faces.electrode[face]!] ? current : -current;
      // A tangent may overshoot below zero, where the curve does not go.
      return area > 0 ? Math.max(density[face]! / 10, into / area) : 0;
    });
    const moved = next.reduce(
      (sum, value, face) => sum + Math.abs(value - density[face]!) * faces.areaM2[face]!,
      0,
    );
    density = next;
    if (moved < SETTLED * drive.currentA) return { ...solved, drivingV, rounds: round };
  }
  throw new RangeError(`the polarised field did not settle in ${MOST_ROUNDS} rounds`);
}

type Tangents = { readonly faceOhmM2: Float64Array; readonly faceOffsetV: Float64Array };

/**
 * The tangents' bath at the current asked for. It is linear in the driving voltage, so two solutions give it: one
 * with the offsets alone, one with a volt more; both start from the last one.
 */
function atCurrent(
  prepared: Prepared,
  { conductivitySPerM, currentA }: PolarisedDrive,
  tangents: Tangents,
  options: SolveOptions,
): Potential & { readonly drivingV: number } {
  const { electrodes } = prepared.scene;
  const at = (drivingV: number): Potential =>
    prepared.solve(
      {
        conductivitySPerM,
        potentialsV: electrodes.map(({ kind }) => (kind === "ANODE" ? drivingV : 0)),
        ...tangents,
      },
      options,
    );
  const toParts = ({ electrodeCurrentA }: Potential): number =>
    electrodeCurrentA.reduce(
      (sum, current, index) => sum + (electrodes[index]?.kind === "PART" ? current : 0),
      0,
    );
  const none = at(0);
  const one = at(1);
  const perVolt = toParts(one) - toParts(none);
  const drivingV = (currentA - toParts(none)) / perVolt;
  return { ...combined(none, one, drivingV), drivingV };
}

/** none + share·(one − none): solutions add up, since the bath is linear. */
function combined(none: Potential, one: Potential, share: number): Potential {
  const mix = (a: number, b: number): number => a + share * (b - a);
  return {
    potentialV: none.potentialV.map((value, cell) => mix(value, one.potentialV[cell]!)),
    faceCurrentA: none.faceCurrentA.map((value, face) => mix(value, one.faceCurrentA[face]!)),
    electrodeCurrentA: none.electrodeCurrentA.map((value, index) =>
      mix(value, one.electrodeCurrentA[index]!),
    ),
    iterations: none.iterations + one.iterations,
    residual: Math.max(none.residual, one.residual),
  };
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
