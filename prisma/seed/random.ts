/** A repeatable stream of numbers: the example shop is the same every time it is made at the same moment. */
export type Random = {
  /** Uniform in [0, 1). */
  readonly next: () => number;
  /** Uniform in [least, most). */
  readonly between: (least: number, most: number) => number;
  /** Whole number from least to most, both possible. */
  readonly whole: (least: number, most: number) => number;
  /** One of the list. */
  readonly pick: <T>(list: readonly T[]) => T;
  /** True with this chance. */
  readonly chance: (probability: number) => boolean;
  /** Log-normal around 1 with this standard deviation of the logarithm. */
  readonly spread: (sigma: number) => number;
  /** A version-4 shaped UUID. */
  readonly uuid: () => string;
};

/**
 * Mulberry32 (public domain, 32-bit state): small, fast, and good enough for made-up history.
 *
 * @param seed whole number
 */
export function random(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = (least: number, most: number): number => least + (most - least) * next();
  const whole = (least: number, most: number): number => Math.floor(between(least, most + 1));
  const normal = (): number =>
    Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
  const hex = (digits: number): string =>
    Array.from({ length: digits }, () => whole(0, 15).toString(16)).join("");
  return {
    next,
    between,
    whole,
    pick: (list) => {
      const choice = list[whole(0, list.length - 1)];
      if (choice === undefined) throw new RangeError("cannot pick from an empty list");
      return choice;
    },
    chance: (probability) => next() < probability,
    spread: (sigma) => Math.exp(sigma * normal()),
    uuid: () => `${hex(8)}-${hex(4)}-4${hex(3)}-${whole(8, 11).toString(16)}${hex(3)}-${hex(12)}`,
  };
}
