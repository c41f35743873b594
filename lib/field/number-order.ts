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
 */
export function orderOf(keys: Uint32Array, order?: Uint32Array): Uint32Array {
  let from = order ?? Uint32Array.from(keys.keys());
  let to = new Uint32Array(from.length);
  const most = keys.reduce((largest, key) => Math.max(largest, key), 0);
  const starts = new Uint32Array(DIGITS + 1);
  for (let unit = 1; unit <= most; unit *= DIGITS) {
    starts.fill(0);
    const digit = (place: number): number => Math.floor(keys[place]! / unit) % DIGITS;
    for (const place of from) starts[digit(place) + 1]!++;
    for (let value = 0; value < DIGITS; value++) starts[value + 1]! += starts[value]!;
    const next = new Uint32Array(from.length);
    for (const place of from) next[starts[digit(place)]!++] = place;
    [from, to] = [next, from];
  }
  return from;
}
