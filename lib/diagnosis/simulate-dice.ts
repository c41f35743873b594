/** Numbers from 0 to 1 that follow from a seed (Mulberry32, public domain). */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Draws of several kinds from one stream. */
export class Dice {
  private readonly next: () => number;
  constructor(seed: number) {
    this.next = seeded(seed);
  }
  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }
  /** even in the logarithm */
  about(low: number, high: number): number {
    return Math.exp(this.between(Math.log(low), Math.log(high)));
  }
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.next())) * Math.cos(2 * Math.PI * this.next());
  }
  noisy(value: number, deviation: number): number {
    return value * Math.exp(deviation * this.normal());
  }
  chance(share: number): boolean {
    return this.next() < share;
  }
  oneOf<Choice>(choices: readonly [Choice, ...Choice[]]): Choice {
    return choices[Math.floor(this.next() * choices.length)] ?? choices[0];
  }
}
