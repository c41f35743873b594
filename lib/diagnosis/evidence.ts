/**
 * How well a family of cells explains the readings, with its unknowns averaged out.
 *
 * A family has two unknowns: x, by which this tank's bath differs from the plan when all is well, and s, how severe the
 * fault is. Both are normal before the readings. The average of the likelihood over them is Laplace's: the peak, found
 * by Gauss and Newton's steps, times the volume of the bell about it.
 */

/** What the meter showed at one reading. */
export type Observed = {
  readonly lnAmps: number;
  readonly varianceAmps: number;
  readonly lnVolts: number;
  readonly varianceVolts: number;
};

/** What a family says the meter shows at one reading, with its slopes along x and s. */
export type Predicted = {
  readonly lnAmps: number;
  readonly lnVolts: number;
  readonly ampsByX: number;
  readonly ampsByS: number;
  readonly voltsByX: number;
  readonly voltsByS: number;
  /** variance of ln amps and ln volts from one reading to the next, beside the meter's */
  readonly flickerAmps: number;
  readonly flickerVolts: number;
};

/** Normal before the readings. A severity with deviation 0 is known; x is never quite known. */
export type Unknown = { readonly mean: number; readonly deviation: number };

export type Family = {
  readonly x: Unknown;
  readonly s: Unknown;
  /** one for each reading */
  readonly predict: (x: number, s: number) => readonly Predicted[];
  /** one more thing that was measured: how s is seen directly */
  readonly sideways?: SideView | undefined;
};

/** A measurement of ln κ beside the meter: what the family says of it. */
export type SideView = {
  readonly seen: number;
  readonly variance: number;
  readonly predict: (s: number) => { readonly value: number; readonly byS: number };
};

/** Summed up over the measurements. */
type Step = {
  lnJoint: number;
  gradientX: number;
  gradientS: number;
  xx: number;
  xs: number;
  ss: number;
};

const MOST_STEPS = 12;
/** A step that gains less in ln(likelihood) is the last. */
const SETTLED = 0.01;
/** Levenberg's damping at which a step is too short to matter. */
const TOO_STIFF = 1e4;

/** A family's peak: how well it explains the readings, and x and s at which it does so best. */
export type Weighed = { readonly lnEvidence: number; readonly x: number; readonly s: number };

/**
 * ln of the likelihood of all readings under a family, x and s averaged out.
 * @param observed the readings, in the order in which the family counts them
 */
export function weigh(observed: readonly Observed[], family: Family): Weighed {
  let x = family.x.mean;
  let s = family.s.mean;
  let here = stepAt(observed, family, x, s);
  let damping = 0.01;
  for (let step = 0; step < MOST_STEPS && damping < TOO_STIFF; step += 1) {
    const [moveX, moveS] = newtonMove(here, damping);
    const there = stepAt(observed, family, x + moveX, s + moveS);
    const gained = there.lnJoint - here.lnJoint;
    if (gained < 0) {
      damping *= 10;
      continue;
    }
    x += moveX;
    s += moveS;
    here = there;
    damping /= 5;
    if (gained < SETTLED) break;
  }
  return { lnEvidence: here.lnJoint - lnSharpness(here, family) / 2, x, s };
}

/** ln of the peak's curvature in units of the priors': by how much the data narrowed x and s. */
function lnSharpness(here: Step, { x, s }: Family): number {
  const [a, b] = [x.deviation ** 2, s.deviation ** 2];
  if (b === 0) return Math.log(here.xx * a);
  return Math.log((here.xx * here.ss - here.xs ** 2) * a * b);
}

function newtonMove(here: Step, damping: number): [number, number] {
  const xx = here.xx * (1 + damping);
  const ss = here.ss * (1 + damping);
  const determinant = xx * ss - here.xs ** 2;
  return [
    (here.gradientX * ss - here.gradientS * here.xs) / determinant,
    (here.gradientS * xx - here.gradientX * here.xs) / determinant,
  ];
}

/** A precision so high that a known severity stays where it is. */
const FIXED = 1e12;

/** ln(likelihood × prior, the prior's peak counted as 1), its gradient and its curvature by Gauss and Newton. */
function stepAt(observed: readonly Observed[], family: Family, x: number, s: number): Step {
  const here = priorAt(family, x, s);
  const told = family.predict(x, s);
  for (let reading = 0; reading < observed.length; reading += 1) {
    const seen = observed[reading];
    const shown = told[reading];
    if (!seen || !shown) throw new RangeError(`no prediction of reading ${reading}`);
    see(
      here,
      seen.lnAmps - shown.lnAmps,
      seen.varianceAmps + shown.flickerAmps,
      shown.ampsByX,
      shown.ampsByS,
    );
    see(
      here,
      seen.lnVolts - shown.lnVolts,
      seen.varianceVolts + shown.flickerVolts,
      shown.voltsByX,
      shown.voltsByS,
    );
  }
  const side = family.sideways;
  if (side) {
    const { value, byS } = side.predict(s);
    see(here, side.seen - value, side.variance, 0, byS);
  }
  return here;
}

function priorAt({ x: ofX, s: ofS }: Family, x: number, s: number): Step {
  const precisionX = ofX.deviation ** -2;
  const precisionS = ofS.deviation === 0 ? FIXED : ofS.deviation ** -2;
  const offX = x - ofX.mean;
  const offS = s - ofS.mean;
  return {
    lnJoint: -(precisionX * offX ** 2 + precisionS * offS ** 2) / 2,
    gradientX: -precisionX * offX,
    gradientS: -precisionS * offS,
    xx: precisionX,
    xs: 0,
    ss: precisionS,
  };
}

/** Adds one measurement that is off by so much, with its slopes along x and s. */
function see(here: Step, off: number, variance: number, byX: number, byS: number): void {
  here.lnJoint -= (off * off) / variance / 2 + Math.log(2 * Math.PI * variance) / 2;
  here.gradientX += (byX * off) / variance;
  here.gradientS += (byS * off) / variance;
  here.xx += (byX * byX) / variance;
  here.xs += (byX * byS) / variance;
  here.ss += (byS * byS) / variance;
}
