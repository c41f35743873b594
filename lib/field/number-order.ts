/** Bits that one pass of the sort looks at. */
const DIGIT_BITS = 11;
const DIGITS = 2 ** DIGIT_BITS;

/**
 * The order in which whole numbers rise; equal ones stay as they were. A counting sort, digit by digit: linear
 * in time whatever the numbers are, so that no file can be made to take long.
 *
 * @param keys  whole numbers from 0 to 2³² − 1
 * @param order places in `keys`, in the order so far; all of them as they stand when left out
 * @returns the same places, by rising key
 * @example orderOf(Uint32Array.of(7, 3, 7)) // 1, 0, 2
 */
export function orderOf(keys: Uint32Array, order?: Uint32Array): Uint32Array {
  let sorted = order ?? Uint32Array.from(keys.keys());
  let most = 0;
  for (const key of keys) if (key > most) most = key;
  for (let shift = 0; shift < 32 && most >>> shift > 0; shift += DIGIT_BITS) {
    const starts = new Uint32Array(DIGITS + 1);
    const next = new Uint32Array(sorted.length);
    for (const place of sorted) starts[((keys[place]! >>> shift) & (DIGITS - 1)) + 1]!++;
    for (let digit = 0; digit < DIGITS; digit++) starts[digit + 1]! += starts[digit]!;
    for (const place of sorted) next[starts[(keys[place]! >>> shift) & (DIGITS - 1)]!++] = place;
    sorted = next;
  }
  return sorted;
}
