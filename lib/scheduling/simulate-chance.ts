import { checkPositive, checkRange } from "@/lib/units";

/** z of the 90th percentile of the normal distribution: any table of it, here to ten digits from memory. */
const Z90 = 1.281_551_565_5;
/** z that leaves 2.5 % on either side. */
export const Z975 = 1.959_963_984_5;

/** The hours that a load truly takes, as they were foretold. */
export type Spread = {
  /** h, half of such loads are done by then */
  readonly p50Hours: number;
  /** h, nine in ten are; never below `p50Hours` */
  readonly p90Hours: number;
};

/** A share that was counted, with Wilson's 95 % interval; all from 0 to 1. */
export type CountedShare = {
  readonly share: number;
  readonly low: number;
  readonly high: number;
};

/**
 * Chance that follows from numbers: the same numbers, the same draws, on every machine.
 *
 * The generator is Mulberry32 (public domain). Its state is stirred from all the numbers given, so that each play and
 * each purpose within it has a stream of its own: a shop with one more tank then meets the very same hours and
 * arrivals, and what differs is the tank (common random numbers).
 *
 * @example new Chance(7, 12).uniform() // the first draw of play 12 under seed 7, always
 */
export class Chance {
  private state = 0x9e3779b9;
  private spare: number | null = null;

  constructor(...numbers: readonly number[]) {
    for (const number of numbers) {
      this.state = stirred(this.state ^ stirred(Math.trunc(number) >>> 0));
    }
  }

  /** From 0 up to, but not at, 1. */
  uniform(): number {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  /** Standard normal: Box and Muller 1958, both of the pair used. */
  normal(): number {
    if (this.spare !== null) {
      const kept = this.spare;
      this.spare = null;
      return kept;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - this.uniform()));
    const angle = 2 * Math.PI * this.uniform();
    this.spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  }

  /** Exponential with mean 1: the wait for the next of what arrives at rate 1. */
  exponential(): number {
    return -Math.log(1 - this.uniform());
  }

  /** h, log-normal through the spread's two percentiles. */
  hours(spread: Spread): number {
    return hoursAt(spread, this.normal());
  }
}

/**
 * Hours at a standard normal deviate: the log-normal distribution through P50 and P90.
 *
 *   ln t = ln P50 + z · σ,  σ = ln(P90 / P50) / z₉₀
 *
 * @param z standard normal deviate; 0 gives P50, 1.2816 gives P90
 * @returns h
 * @example hoursAt({ p50Hours: 4, p90Hours: 6 }, 0) // 4
 */
export function hoursAt({ p50Hours, p90Hours }: Spread, z: number): number {
  return p50Hours * (p90Hours / p50Hours) ** (z / Z90);
}

/** @throws RangeError unless P50 is above 0 and P90 finite and not below it */
export function checkSpread(name: string, { p50Hours, p90Hours }: Spread): void {
  checkPositive(`P50 of ${name}`, p50Hours, "h");
  checkRange(`P90 of ${name}`, p90Hours, p50Hours, Number.MAX_VALUE, "h (P50 or more)");
}

/**
 * A share with Wilson's score interval, 95 %.
 *
 * E. B. Wilson, J. Amer. Statist. Assoc. 22, 1927: stays within 0 to 1, and says something when nothing or everything
 * was a hit, which a share of plays often is.
 *
 * @param hits  how often it was so, 0 to `tries`
 * @param tries how often it was tried, above 0
 * @throws RangeError outside these
 * @example wilson(8, 10) // { share: 0.8, low: 0.490, high: 0.943 }
 */
export function wilson(hits: number, tries: number): CountedShare {
  checkPositive("number of tries", tries, "");
  checkRange("number of hits", hits, 0, tries, "(the tries)");
  const share = hits / tries;
  const square = Z975 ** 2;
  const middle = share + square / (2 * tries);
  const half = Z975 * Math.sqrt((share * (1 - share)) / tries + square / (4 * tries ** 2));
  const scale = 1 + square / tries;
  return {
    share,
    low: Math.max(0, (middle - half) / scale),
    high: Math.min(1, (middle + half) / scale),
  };
}

/** A well-mixed 32-bit number from another (the finaliser of MurmurHash3, public domain). */
function stirred(number: number): number {
  let mixed = number >>> 0;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return (mixed ^ (mixed >>> 16)) >>> 0;
}
