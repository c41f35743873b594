import { checkNonNegative, checkPositive, checkRange } from "@/lib/units";
import { ANODE, anodeBetween, type AnodeKinetics, CATHODE, type Kinetics } from "./kinetics";
import { CLOSED_FORM_ERROR_SHARE } from "./shape";
import {
  checkSupply,
  continuousRating,
  currentLimit,
  innerResistance,
  openVoltage,
  type Supply,
  tripsAt,
} from "./supply";

/** Everything that settles the current of one loaded tank. */
export type Cell = {
  readonly supply: Supply;
  /** κ of the bath, S/m, > 0. */
  readonly conductivitySPerM: number;
  /** g, m, > 0: the bath's resistance is 1/(κ·g). */
  readonly shapeLengthM: number;
  /** g may be this share off either way, ≥ 0; the closed form's own error when left out. */
  readonly shapeLengthErrorShare?: number;
  /** Wetted area of all the parts in the tank, m², > 0. */
  readonly partAreaM2: number;
  /** Anode area facing the bath, m², > 0. */
  readonly anodeAreaM2: number;
  /** Both leads together, Ω, ≥ 0. */
  readonly leadOhm: number;
  /** Clamps and clips together, Ω, ≥ 0. */
  readonly contactOhm: number;
  /** φ, share of the anode's charge that dissolves iron, 0 to 1: sets the middle of the band. */
  readonly dissolvingShare: number;
};

/** Where the supply's open voltage goes, V. The shares add up to the open voltage, or to what is left
 * of it when the supply holds its current. */
export type VoltageShares = {
  readonly reactionV: number;
  readonly cathodeV: number;
  readonly anodeV: number;
  readonly bathV: number;
  readonly leadsV: number;
  readonly contactsV: number;
  readonly supplyV: number;
};

/** What holds the current down. */
export type LimitingTerm =
  | "REACTIONS" // reversible voltage and both overvoltages
  | "BATH"
  | "LEADS"
  | "CONTACTS"
  | "SUPPLY" // sag inside the supply
  | "CURRENT_LIMIT" // the supply holds the current
  | "TOO_FEW_VOLTS"; // the supply cannot start the reaction: no current

export type OperatingPoint = {
  readonly currentA: number;
  /** At the supply's terminals, where its meter reads. */
  readonly terminalVoltageV: number;
  /** Between part and anode. */
  readonly cellVoltageV: number;
  readonly shares: VoltageShares;
  readonly limitedBy: LimitingTerm;
  /** The current would make the supply switch itself off: it cannot be kept up. */
  readonly trips: boolean;
  /** Current over the supply's continuous rating; above 1 it overheats in time. */
  readonly ratingShare: number;
  /** Mean over the part, A/m². */
  readonly partDensityAPerM2: number;
};

/** low: passive anode and small g; mid: φ and g as given; high: active anode and large g. */
export type OperatingBand = {
  readonly low: OperatingPoint;
  readonly mid: OperatingPoint;
  readonly high: OperatingPoint;
};

/**
 * The band of currents a tank draws.
 *
 *   V_supply(I) = E_rev + η_c(I/A_c) + η_a(I/A_a) + I·(1/(κ·g) + R_leads + R_contacts)
 *
 * @throws RangeError naming the figure that is out of range
 * @example
 * operatingBand({ supply: charger, conductivitySPerM: 0.5, shapeLengthM: 0.6, partAreaM2: 0.1,
 *   anodeAreaM2: 0.05, leadOhm: 0.02, contactOhm: 0.02, dissolvingShare: 0.5 }).mid.currentA // about 3 A
 */
export function operatingBand(cell: Cell): OperatingBand {
  checkCell(cell);
  const widening = 1 + (cell.shapeLengthErrorShare ?? CLOSED_FORM_ERROR_SHARE);
  const { shapeLengthM } = cell;
  return {
    low: solve(cell, ANODE.PASSIVE, shapeLengthM / widening),
    mid: solve(cell, anodeBetween(cell.dissolvingShare), shapeLengthM),
    high: solve(cell, ANODE.ACTIVE, shapeLengthM * widening),
  };
}

/**
 * The one operating point of a tank with a known anode.
 * @throws RangeError naming the figure that is out of range
 * @example operatingPoint(cell, ANODE.PASSIVE).currentA
 */
export function operatingPoint(cell: Cell, anode: AnodeKinetics): OperatingPoint {
  checkCell(cell);
  return solve(cell, anode, cell.shapeLengthM);
}

function solve(cell: Cell, anode: AnodeKinetics, shapeLengthM: number): OperatingPoint {
  const bathOhm = 1 / (cell.conductivitySPerM * shapeLengthM);
  const resistance = bathOhm + cell.leadOhm + cell.contactOhm + innerResistance(cell.supply);
  const spare = openVoltage(cell.supply) - anode.reversibleV;
  const free = freeCurrent(spare, resistance, [
    electrodeCurve(CATHODE, cell.partAreaM2),
    electrodeCurve(anode, cell.anodeAreaM2),
  ]);
  const limit = currentLimit(cell.supply);
  const current = Math.min(free, limit);
  const shares: VoltageShares = {
    reactionV: Math.min(anode.reversibleV, openVoltage(cell.supply)),
    cathodeV: overvoltageAt(CATHODE, cell.partAreaM2, current),
    anodeV: overvoltageAt(anode, cell.anodeAreaM2, current),
    bathV: current * bathOhm,
    leadsV: current * cell.leadOhm,
    contactsV: current * cell.contactOhm,
    supplyV: current * innerResistance(cell.supply),
  };
  const cellVoltageV = shares.reactionV + shares.cathodeV + shares.anodeV + shares.bathV;
  return {
    currentA: current,
    terminalVoltageV: cellVoltageV + shares.leadsV + shares.contactsV,
    cellVoltageV,
    shares,
    limitedBy: limitingTerm(shares, current, free > limit),
    trips: tripsAt(cell.supply, current),
    ratingShare: current / continuousRating(cell.supply),
    partDensityAPerM2: current / cell.partAreaM2,
  };
}

/** An electrode as η(I) = scale · asinh(I / knee). */
type ElectrodeCurve = { readonly scaleV: number; readonly kneeA: number };

function electrodeCurve(kinetics: Kinetics, areaM2: number): ElectrodeCurve {
  return {
    scaleV: kinetics.tafelSlopeV / Math.LN10,
    kneeA: 2 * kinetics.exchangeCurrentDensity * areaM2,
  };
}

function overvoltageAt(kinetics: Kinetics, areaM2: number, current: number): number {
  const { scaleV, kneeA } = electrodeCurve(kinetics, areaM2);
  return scaleV * Math.asinh(current / kneeA);
}

const MOST_STEPS = 200;

/**
 * The root of f(I) = spare − η_c(I) − η_a(I) − I·R, kept between two currents that enclose it.
 *
 * One root: f is continuous and, since asinh rises and R > 0, strictly falling; f(0) = spare > 0 and
 * f(spare/R) = −η_c − η_a ≤ 0. f is also convex, so Newton from either side closes in from the left; a
 * step that would leave the bracket is replaced by halving it, so it ends whatever the rounding.
 */
function freeCurrent(
  spare: number,
  resistance: number,
  electrodes: readonly [ElectrodeCurve, ElectrodeCurve],
): number {
  if (spare <= 0) return 0;
  const [cathode, anode] = electrodes;
  let low = 0;
  let high = spare / resistance;
  let current = high;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const rest =
      spare -
      cathode.scaleV * Math.asinh(current / cathode.kneeA) -
      anode.scaleV * Math.asinh(current / anode.kneeA) -
      current * resistance;
    if (rest > 0) low = current;
    else high = current;
    const slope =
      cathode.scaleV / Math.hypot(current, cathode.kneeA) +
      anode.scaleV / Math.hypot(current, anode.kneeA) +
      resistance;
    const newton = current + rest / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - current) <= 1e-13 * high) return next;
    current = next;
  }
  return current;
}

function limitingTerm(shares: VoltageShares, current: number, heldByLimit: boolean): LimitingTerm {
  if (current === 0) return "TOO_FEW_VOLTS";
  if (heldByLimit) return "CURRENT_LIMIT";
  const terms: readonly (readonly [LimitingTerm, number])[] = [
    ["BATH", shares.bathV],
    ["REACTIONS", shares.reactionV + shares.cathodeV + shares.anodeV],
    ["LEADS", shares.leadsV],
    ["CONTACTS", shares.contactsV],
    ["SUPPLY", shares.supplyV],
  ];
  return terms.reduce((most, term) => (term[1] > most[1] ? term : most))[0];
}

/** @throws RangeError naming the figure of the cell that is out of range */
export function checkCell(cell: Cell): void {
  checkSupply(cell.supply);
  checkPositive("conductivity", cell.conductivitySPerM, "S/m");
  checkPositive("shape length", cell.shapeLengthM, "m");
  checkPositive("part area", cell.partAreaM2, "m²");
  checkPositive("anode area", cell.anodeAreaM2, "m²");
  checkNonNegative("lead resistance", cell.leadOhm, "Ω");
  checkNonNegative("contact resistance", cell.contactOhm, "Ω");
  checkNonNegative("shape length error", cell.shapeLengthErrorShare ?? 0, "share");
  checkRange("dissolving share", cell.dissolvingShare, 0, 1, "(share)");
}
