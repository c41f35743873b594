/** A sequence of numbers in [0, 1) that looks random and is the same for the same seed. */
export type Dice = () => number;

/**
 * Dice of a seed.
 *
 * Mulberry32 by Tommy Ettinger, public domain, from memory: 32 bits of state are plenty for choosing what to try next.
 *
 * @param seed any whole number; only its last 32 bits count
 * @example diceOf(1)() === diceOf(1)() // true
 */
export function diceOf(seed: number): Dice {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A whole number from 0 up to, but not at, `below`. */
export const roll = (dice: Dice, below: number): number => Math.floor(dice() * below);

/** One of a list; undefined when it is empty. */
export const pick = <Item>(dice: Dice, items: readonly Item[]): Item | undefined =>
  items[roll(dice, items.length)];

/** The list in another order, every order as likely as every other (Fisher and Yates). */
export function shuffled<Item>(dice: Dice, items: readonly Item[]): Item[] {
  const result = [...items];
  for (let last = result.length - 1; last > 0; last -= 1) {
    const other = roll(dice, last + 1);
    const [a, b] = [result[last], result[other]];
    if (a === undefined || b === undefined) continue;
    result[last] = b;
    result[other] = a;
  }
  return result;
}
