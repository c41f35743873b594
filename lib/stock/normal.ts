/** Numerators and denominators of AS241's PPND16, highest power last. */
const MIDDLE = {
  over: [
    3.387132872796366608, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125,
    45921.953931549871457, 67265.770927008700853, 33430.575583588128105, 2509.0809287301226727,
  ],
  under: [
    1, 42.313330701600911252, 687.1870074920579083, 5394.1960214247511077, 21213.794301586595867,
    39307.89580009271061, 28729.085735721942674, 5226.495278852854561,
  ],
} as const;
const TAIL = {
  over: [
    1.42343711074968357734, 4.6303378461565452959, 5.7694972214606914055, 3.64784832476320460504,
    1.27045825245236838258, 0.24178072517745061177, 0.0227238449892691845833,
    7.7454501427834140764e-4,
  ],
  under: [
    1, 2.05319162663775882187, 1.6763848301838038494, 0.68976733498510000455,
    0.14810397642748007459, 0.0151986665636164571966, 5.475938084995344946e-4,
    1.05075007164441684324e-9,
  ],
} as const;

/** Where AS241 goes over to its formula for far tails, which nobody orders by. */
const LEAST = 1e-9;

/**
 * The quantile of the standard normal distribution: below it lies the share `p`.
 *
 * Algorithm AS241 (PPND16) of Wichura, Applied Statistics 37 (1988) 477–484, about 16 digits; its formula for tails
 * beyond 1.4·10⁻¹¹ is left out.
 *
 * @param p from 10⁻⁹ to 1 − 10⁻⁹
 * @throws RangeError outside of that
 * @example normalQuantile(0.95) // 1.6448536…
 */
export function normalQuantile(p: number): number {
  if (!(p >= LEAST && p <= 1 - LEAST)) {
    throw new RangeError(`a probability must be from 1e-9 to 1 − 1e-9, got ${p}`);
  }
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) return q * ratio(MIDDLE, 0.180625 - q * q);
  const tail = ratio(TAIL, Math.sqrt(-Math.log(Math.min(p, 1 - p))) - 1.6);
  return q < 0 ? -tail : tail;
}

type Ratio = { readonly over: readonly number[]; readonly under: readonly number[] };

const ratio = ({ over, under }: Ratio, at: number): number => horner(over, at) / horner(under, at);

const horner = (coefficients: readonly number[], at: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * at + coefficient, 0);
