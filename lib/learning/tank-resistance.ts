import { checkPositive } from "@/lib/units";
import { Z90 } from "./normal";
import { meanOf, quantileOf, spaced, weighted, type Weighted } from "./weighted";

/** One load as its meter showed it, its readings joined to their mean. */
export type LoadAtMeter = {
  /** A, above 0 */
  readonly currentA: number;
  /** V at the supply's terminals, less what the reactions and the leads take; may be negative */
  readonly leftV: number;
  /** resistance of the bath that the model gives this load, Ω, above 0 */
  readonly bathOhm: number;
};

export type ResistancePrior = {
  /** median of clamps and clips together, Ω, above 0 */
  readonly contactOhm: number;
  /** how far the model's κ·g may be off, a factor either way with one chance in ten beyond it, above 1 */
  readonly bathFactorP90: number;
};

/** What a tank's loads say of its clamps and of the model's bath. */
export type LearnedResistance = {
  readonly loads: number;
  /** Ω of clamps and clips together, below which they lie with probability p */
  readonly contactOhm: (p: number) => number;
  /** κ·g as it is over what the model gives, likewise */
  readonly bathFactor: (p: number) => number;
  /** correlation of the two logarithms, −1 to 1: near 1 they cannot be told apart, only their sum is known */
  readonly tradeOff: number;
};

/** Contacts may be three times better or worse than entered, one chance in ten beyond either: assumption. */
const CONTACT_P90 = 3;
/**
 * Spread of a load's volts about the model, V: the anode may be active or passive, half a volt either way, and the
 * meter reads to a tenth. Assumption.
 */
const LOAD_ERROR_V = 0.34;
/** Degrees of freedom of that spread: tails heavy enough that one day with a loose clamp does not decide. */
const TAIL = 4;
const NODES = 61;
const REACH = 3.5;

/**
 * Resistance of a tank's contacts and the error of the model's bath, from all its loads at once.
 *
 *   V_left = I·(R_contact + R_bath / f) + ε,  R_contact and f log-normal,  ε Student's t
 *
 * Both are learned together on a grid. They trade off: only loads whose baths differ (large and small parts, strong
 * and weak baths) tell them apart, and `tradeOff` says how far they did.
 *
 * @throws RangeError naming the figure that is out of range
 * @example learnResistance({ contactOhm: 0.02, bathFactorP90: 1.35 }, loads).contactOhm(0.5) // Ω
 */
export function learnResistance(
  prior: ResistancePrior,
  loads: readonly LoadAtMeter[],
): LearnedResistance {
  checkPositive("prior contact resistance", prior.contactOhm, "Ω");
  checkPositive("log of the bath factor's P90", Math.log(prior.bathFactorP90), "(log)");
  for (const { currentA, bathOhm } of loads) {
    checkPositive("current of a load", currentA, "A");
    checkPositive("resistance of the bath", bathOhm, "Ω");
  }
  const z = spaced(-REACH, REACH, NODES);
  const logContact = z.map(
    (value) => Math.log(prior.contactOhm) + (value * Math.log(CONTACT_P90)) / Z90,
  );
  const logBath = z.map((value) => (value * Math.log(prior.bathFactorP90)) / Z90);
  const factors = logBath.map(Math.exp);
  const both = logContact.flatMap((contact, row) => {
    const contactOhm = Math.exp(contact);
    return factors.map((factor, column) => {
      const [a, b] = [z[row] ?? 0, z[column] ?? 0];
      return -0.5 * (a * a + b * b) + logLikelihood(loads, contactOhm, factor);
    });
  });
  const { weights } = weighted([], both);
  const contact = marginal(logContact, (row) => weights.slice(row * NODES, (row + 1) * NODES));
  const bath = marginal(logBath, (column) => weights.filter((_, at) => at % NODES === column));
  return {
    loads: loads.length,
    contactOhm: (p) => Math.exp(quantileOf(contact, p)),
    bathFactor: (p) => Math.exp(quantileOf(bath, p)),
    tradeOff: correlation(contact, bath, weights),
  };
}

function logLikelihood(loads: readonly LoadAtMeter[], contactOhm: number, factor: number): number {
  let sum = 0;
  for (const { currentA, leftV, bathOhm } of loads) {
    const off = (leftV - currentA * (contactOhm + bathOhm / factor)) / LOAD_ERROR_V;
    sum -= ((TAIL + 1) / 2) * Math.log(1 + (off * off) / TAIL);
  }
  return sum;
}

function marginal(nodes: readonly number[], cells: (at: number) => readonly number[]): Weighted {
  return {
    nodes,
    weights: nodes.map((_, at) => cells(at).reduce((sum, weight) => sum + weight, 0)),
  };
}

function correlation(a: Weighted, b: Weighted, joint: readonly number[]): number {
  const [meanA, meanB] = [meanOf(a), meanOf(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (const [at, weight] of joint.entries()) {
    const offA = (a.nodes[Math.floor(at / NODES)] ?? 0) - meanA;
    const offB = (b.nodes[at % NODES] ?? 0) - meanB;
    ab += weight * offA * offB;
    aa += weight * offA * offA;
    bb += weight * offB * offB;
  }
  return ab / Math.sqrt(aa * bb);
}
