/** Bits that one pass of the sort looks at. */
const DIGIT_BITS = 11;
const DIGITS = 2 ** DIGIT_BITS;

/** 0, 1, 2 and so on. */
export function upTo(count: number): Uint32Array {
  const numbers = new Uint32Array(count);
  for (let at = 0; at < count; at++) numbers[at] = at;
  return numbers;
}

/**
 * The order in which whole numbers rise; equal ones stay as they were. A counting sort, digit by digit: linear
 * in time whatever the numbers are, so that no file can be made to take long.
 *
 * @param keys  whole numbers from 0 to 2³² − 1
 * @param order places in `keys`, in the order so far; all of them as they stand when left out
 * @returns the same places, by rising key
 * @example orderOf(Uint32Array.of(7, 3, 7)) // 1, 0, 2
 */
export function orderOf(keys: Uint32Array, order = upTo(keys.length)): Uint32Array {
  let sorted = order;
  let most = 0;
  for (let at = 0; at < keys.length; at++) most = Math.max(most, keys[at]!);
  for (let shift = 0; shift < 32 && most >>> shift > 0; shift += DIGIT_BITS) {
    sorted = byDigit(keys, sorted, shift);
  }
  return sorted;
}

function byDigit(keys: Uint32Array, order: Uint32Array, shift: number): Uint32Array {
  const starts = new Uint32Array(DIGITS + 1);
  const sorted = new Uint32Array(order.length);
  const mask = DIGITS - 1;
  for (let at = 0; at < order.length; at++) starts[((keys[order[at]!]! >>> shift) & mask) + 1]!++;
  for (let digit = 0; digit < DIGITS; digit++) starts[digit + 1]! += starts[digit]!;
  for (let at = 0; at < order.length; at++) {
    const place = order[at]!;
    sorted[starts[(keys[place]! >>> shift) & mask]!++] = place;
  }
  return sorted;
}
