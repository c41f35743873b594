import { type ByCause, type Cause, normalised } from "./causes";
import { DIAGNOSIS_LIMITS, type Expectation } from "./expectation";

/**
 * How often each is the matter when a person reads a meter, before the reading is looked at: assumption, of the order
 * of one run in four with something amiss.
 */
const BASE_RATE: ByCause = {
  AS_IT_SHOULD: 0.6,
  LEAD_OPEN: 0.02,
  LEAD_CORRODED: 0.03,
  POOR_CONTACT: 0.04,
  ANODE_PASSIVE: 0.04,
  ANODE_WORN: 0.03,
  BATH_WEAK: 0.03,
  BATH_STRONG: 0.03,
  BATH_SPENT: 0.03,
  LEVEL_FALLEN: 0.02,
  TOUCHING: 0.02,
  SUPPLY_OFF: 0.02,
  REVERSED: 0.005,
  SOMETHING_ELSE: 0.001,
};

/** Between 0 and 1, a half at `middle`, three quarters about one `width` above it. */
const rising = (value: number, middle: number, width: number): number =>
  1 / (1 + Math.exp(-(value - middle) / width));

/** Odds that a bath of so much charge is spent, against those of any bath: assumption about `spentAhPerL`. */
function spentOdds(chargeAhPerL: number): number {
  return 0.03 + 6 * rising(chargeAhPerL, DIAGNOSIS_LIMITS.spentAhPerL, 2);
}

/** Odds that an anode of so much wear is worn thin, against those of any anode; 1 where it is not known. */
function wornOdds(wearShare: number | null): number {
  return wearShare === null ? 1 : 0.03 + 6 * rising(wearShare, 0.95, 0.06);
}

/** A clamp looked at just now has not corroded; one of a hundred hours under current may have. */
function leadOdds(clampHours: number | null): number {
  return clampHours === null ? 1 : 0.4 + 1.2 * rising(clampHours, 60, 20);
}

/** A brushed anode is bright; scale gathers in some days under current. */
function passiveOdds(brushedHours: number | null): number {
  return brushedHours === null ? 1 : 0.4 + 1.2 * rising(brushedHours, 60, 20);
}

/**
 * Prior probability of each cause from its base rate and what is known of bath, anode and clamps.
 * @returns sums to 1
 */
export function priorOf(expected: Expectation): ByCause {
  const odds: Partial<Record<Cause, number>> = {
    BATH_SPENT: spentOdds(expected.bathChargeAhPerL),
    ANODE_WORN: wornOdds(expected.anodeWearShare),
    LEAD_CORRODED: leadOdds(expected.clampHours),
    LEAD_OPEN: leadOdds(expected.clampHours),
    ANODE_PASSIVE: passiveOdds(expected.brushedHours),
  };
  return normalised((cause) => BASE_RATE[cause] * (odds[cause] ?? 1));
}
