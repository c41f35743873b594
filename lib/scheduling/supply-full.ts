import { joined, type Span } from "./calendar";

/** A load that draws from a supply for a stretch. */
export type Draw = Span & { readonly currentA: number };

/** Sums of currents that differ by less than this are the same, A. */
const SAME_A = 1e-6;

/**
 * The stretches in which a supply has no room for one more load, in order and apart.
 *
 * @param draws    what draws from it, A
 * @param ratingA  what it gives without end, A
 * @param currentA what the load would draw, A; where it alone is over the rating, no stretch is named for that
 * @example supplyFull([{ fromMs: 0, untilMs: 10, currentA: 6 }], 8, 3) // [{ fromMs: 0, untilMs: 10 }]
 */
export function supplyFull(
  draws: readonly Draw[],
  ratingA: number,
  currentA: number,
): readonly Span[] {
  const steps = draws
    .flatMap(({ fromMs, untilMs, currentA: amperes }) => [
      { atMs: fromMs, amperes },
      { atMs: untilMs, amperes: -amperes },
    ])
    .sort((a, b) => a.atMs - b.atMs);
  const full: Span[] = [];
  let drawn = 0;
  for (const [index, { atMs, amperes }] of steps.entries()) {
    drawn += amperes;
    const untilMs = steps[index + 1]?.atMs ?? atMs;
    const isFull = drawn > SAME_A && drawn + currentA > ratingA + SAME_A;
    if (isFull && untilMs > atMs) full.push({ fromMs: atMs, untilMs });
  }
  return joined(full);
}
