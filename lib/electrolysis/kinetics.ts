import {
  type AmperesPerSquareMetre,
  checkNonNegative,
  checkRange,
  type Standing,
  type Volts,
  volts,
} from "@/lib/units";

/** How an electrode's voltage grows with its current density. */
export type Kinetics = {
  readonly name: string;
  /** V per tenfold of current. */
  readonly tafelSlopeV: number;
  /** A/m². */
  readonly exchangeCurrentDensity: number;
  readonly standing: Standing;
  readonly source: string;
};

/** What the anode is doing; the same tank swings between the two. */
export type AnodeState = "ACTIVE" | "PASSIVE";

/** Hydrogen on steel in soda. */
export const CATHODE: Kinetics = {
  name: "hydrogen on steel",
  tafelSlopeV: 0.12,
  exchangeCurrentDensity: 1e-2,
  standing: "assumption",
  source: "inside the span 0.10 to 0.15 V and 1e-7 to 1e-5 A/cm² published for iron and mild steel",
};

/** An anode's kinetics, with the voltage at which its reaction and the cathode's hydrogen are in balance. */
export type AnodeKinetics = Kinetics & { readonly reversibleV: number };

/** Iron dissolving, and oxygen on oxidised iron. Chosen so that the cell's onset is 0.4 to 0.9 V and 1.9 ± 0.3 V. */
export const ANODE: Readonly<Record<AnodeState, AnodeKinetics>> = {
  ACTIVE: {
    name: "iron dissolving",
    reversibleV: -0.06,
    tafelSlopeV: 0.12,
    exchangeCurrentDensity: 3.16e-2,
    standing: "assumption",
    source: "reversible voltage of Fe + 2 H₂O → Fe(OH)₂ + H₂ from NBS tables (from memory)",
  },
  PASSIVE: {
    name: "oxygen on oxidised iron",
    reversibleV: 1.2288,
    tafelSlopeV: 0.12,
    exchangeCurrentDensity: 4.64e-3,
    standing: "assumption",
    source: "water splitting 1.2288 V from ΔG of formation; overvoltage 0.4 V at 10 A/m²",
  },
};

/**
 * Overvoltage of an electrode: Tafel's law with a smooth end at low current.
 *
 *   η = (b / ln 10) · asinh(j / 2j₀)
 *
 * which is b·log₁₀(j/j₀) once j ≫ j₀, and 0 at j = 0 (Butler–Volmer with both transfer coefficients equal).
 *
 * @param density j in A/m², ≥ 0
 * @returns V, ≥ 0
 * @throws RangeError if the density is negative or not finite
 * @example overvoltage(amperesPerSquareMetre(10), CATHODE) // 0.36 V
 */
export function overvoltage(density: AmperesPerSquareMetre, kinetics: Kinetics): Volts {
  checkNonNegative("current density", density, "A/m²");
  return volts(
    (kinetics.tafelSlopeV / Math.LN10) *
      Math.asinh(density / (2 * kinetics.exchangeCurrentDensity)),
  );
}

/**
 * An anode that spends part of its charge dissolving and the rest on oxygen: between passive (0) and
 * active (1), linear in the voltages and in log j₀. Assumption.
 *
 * @param dissolvingShare φ, from 0 to 1
 * @throws RangeError if the share is outside 0 to 1
 * @example anodeBetween(0).reversibleV // 1.2288 V, passive
 */
export function anodeBetween(dissolvingShare: number): AnodeKinetics {
  checkRange("dissolving share", dissolvingShare, 0, 1, "(share)");
  const { ACTIVE: active, PASSIVE: passive } = ANODE;
  const mix = (whenPassive: number, whenActive: number): number =>
    whenPassive + dissolvingShare * (whenActive - whenPassive);
  return {
    name: "iron dissolving and oxygen together",
    reversibleV: mix(passive.reversibleV, active.reversibleV),
    tafelSlopeV: mix(passive.tafelSlopeV, active.tafelSlopeV),
    exchangeCurrentDensity: Math.exp(
      mix(Math.log(passive.exchangeCurrentDensity), Math.log(active.exchangeCurrentDensity)),
    ),
    standing: "assumption",
    source: "between the active and the passive anode by the share of charge that dissolves iron",
  };
}
