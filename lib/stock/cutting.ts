/**
 * Cutting pieces out of bars with the least waste: the one-dimensional cutting-stock problem.
 *
 * Lengths are mm and counted exactly to a thousandth. Between two pieces the saw takes its kerf; the last cut frees
 * what is left, and where that is no longer than the kerf, it all becomes chips.
 *
 * Of two plans the better one takes fewer new bars; then loses less steel, by worth (chips and scrap); then leaves the
 * longer offcut. In that order, and nothing else counts.
 */
import { inThousandths } from "./quantity";

export type CutPiece = { readonly lengthMm: number; readonly count: number };

/** Bars of one length that lie together: whole ones, or offcuts of earlier cuts. */
export type StockBars = {
  readonly id: string;
  readonly kind: "BAR" | "OFFCUT";
  readonly lengthMm: number;
  /** whole number, 1 or more */
  readonly count: number;
  /** what a millimetre is worth, above 0, in any unit that is the same for all */
  readonly worthPerMm: number;
};

export type CuttingProblem = {
  readonly pieces: readonly CutPiece[];
  readonly bars: readonly StockBars[];
  /** what one cut takes, mm, 0 or more */
  readonly kerfMm: number;
  /** what is left is kept from this length on, mm, above 0; shorter is scrap */
  readonly leastOffcutMm: number;
};

/** One bar as it is cut: its length is that of its pieces, chips, offcut and scrap together. */
export type CutBar = {
  readonly barId: string;
  readonly lengthMm: number;
  /** mm, longest first */
  readonly pieces: readonly number[];
  readonly chipsMm: number;
  /** kept; 0 where nothing is */
  readonly offcutMm: number;
  readonly scrapMm: number;
};

export type CuttingPlan = readonly CutBar[];

/** What plans are compared by, in this order. */
export type CuttingScore = {
  readonly newBars: number;
  /** worth of chips and scrap */
  readonly lost: number;
  readonly longestOffcutMm: number;
};

/**
 * @throws RangeError naming what is not a length, count or worth
 */
export function assertCutting({ pieces, bars, kerfMm, leastOffcutMm }: CuttingProblem): void {
  const lengths = [...pieces, ...bars];
  if (
    !lengths.every(({ lengthMm, count }) => lengthMm > 0 && Number.isInteger(count) && count > 0)
  ) {
    throw new RangeError(
      "every piece and bar needs a length above 0 and a whole count of 1 or more",
    );
  }
  if (!bars.every(({ worthPerMm }) => worthPerMm > 0 && Number.isFinite(worthPerMm))) {
    throw new RangeError("a millimetre of every bar must be worth something");
  }
  if (!(kerfMm >= 0 && Number.isFinite(kerfMm))) {
    throw new RangeError(`kerf must be 0 mm or more, got ${kerfMm}`);
  }
  if (!(leastOffcutMm > 0)) {
    throw new RangeError(`the least offcut must be above 0 mm, got ${leastOffcutMm}`);
  }
}

/**
 * What becomes of one bar when these pieces come out of it; null where they do not fit.
 *
 * @example cutBar(bar3000, [1400, 1400], { kerfMm: 2, leastOffcutMm: 150 }) // offcut 196, chips 4
 */
export function cutBar(
  bar: StockBars,
  pieces: readonly number[],
  { kerfMm, leastOffcutMm }: Pick<CuttingProblem, "kerfMm" | "leastOffcutMm">,
): CutBar | null {
  const kerf = inThousandths(kerfMm);
  const taken = pieces.reduce((sum, piece) => sum + inThousandths(piece), 0);
  const between = kerf * Math.max(0, pieces.length - 1);
  const rest = inThousandths(bar.lengthMm) - taken - between;
  if (rest < 0) return null;
  const lastCut = Math.min(rest, kerf);
  const left = rest - lastCut;
  const isKept = left >= inThousandths(leastOffcutMm);
  return {
    barId: bar.id,
    lengthMm: bar.lengthMm,
    pieces: [...pieces].sort((a, b) => b - a),
    chipsMm: (between + lastCut) / 1000,
    offcutMm: isKept ? left / 1000 : 0,
    scrapMm: isKept ? 0 : left / 1000,
  };
}

export function cuttingScore(problem: CuttingProblem, plan: CuttingPlan): CuttingScore {
  const barOf = new Map(problem.bars.map((bar) => [bar.id, bar]));
  let lost = 0;
  let newBars = 0;
  for (const { barId, chipsMm, scrapMm } of plan) {
    const bar = barOf.get(barId);
    lost += (chipsMm + scrapMm) * (bar?.worthPerMm ?? 0);
    if (bar?.kind === "BAR") newBars += 1;
  }
  return { newBars, lost, longestOffcutMm: Math.max(0, ...plan.map(({ offcutMm }) => offcutMm)) };
}

/** Below 0 where the first is better. Smaller differences of worth than a millionth are rounding. */
export function compareCutting(a: CuttingScore, b: CuttingScore): number {
  if (a.newBars !== b.newBars) return a.newBars - b.newBars;
  if (Math.abs(a.lost - b.lost) > 1e-6 * Math.max(1, a.lost)) return a.lost - b.lost;
  return b.longestOffcutMm - a.longestOffcutMm;
}

/** Every piece by itself, mm, longest first. */
export const singlePieces = (pieces: readonly CutPiece[]): number[] =>
  pieces
    .flatMap(({ lengthMm, count }) => Array.from({ length: count }, () => lengthMm))
    .sort((a, b) => b - a);

/**
 * First fit, longest first: each piece comes out of the first bar that has room, offcuts before bars and short ones
 * before long ones.
 *
 * @returns null where a piece finds no room so; another order might still find some
 * @throws RangeError as `assertCutting`
 */
export function quickCutting(problem: CuttingProblem): CuttingPlan | null {
  assertCutting(problem);
  const opened = singleBars(problem.bars).map((bar) => ({ bar, pieces: [] as number[] }));
  for (const piece of singlePieces(problem.pieces)) {
    const first = opened.find(({ bar, pieces }) => cutBar(bar, [...pieces, piece], problem));
    if (!first) return null;
    first.pieces.push(piece);
  }
  return opened.flatMap(({ bar, pieces }) => {
    const cut = pieces.length > 0 ? cutBar(bar, pieces, problem) : null;
    return cut ? [cut] : [];
  });
}

function singleBars(bars: readonly StockBars[]): StockBars[] {
  const inOrder = [...bars].sort(
    (a, b) => Number(a.kind === "BAR") - Number(b.kind === "BAR") || a.lengthMm - b.lengthMm,
  );
  return inOrder.flatMap((bar) => Array.from({ length: bar.count }, () => bar));
}

/**
 * No plan takes fewer new bars than this. A piece with its cut is laid in bars that are longer by one cut. What
 * offcuts can hold at most is taken off the whole first (L1 of Martello and Toth 1990, ch. 8); and what is longer
 * than every offcut needs new bars by itself, for which their L2 is taken: with a limit k, pieces over C − k lie
 * alone, no two over C/2 lie together, and what is left beside the latter takes only so much of those from k up.
 *
 * @throws RangeError as `assertCutting`
 */
export function leastNewBars(problem: CuttingProblem): number {
  assertCutting(problem);
  const kerf = inThousandths(problem.kerfMm);
  const roomOf = ({ lengthMm }: StockBars): number => inThousandths(lengthMm) + kerf;
  const bars = problem.bars.filter(({ kind }) => kind === "BAR");
  const offcuts = problem.bars.filter(({ kind }) => kind === "OFFCUT");
  const room = Math.max(0, ...bars.map(roomOf));
  if (room === 0) return 0;
  const sizes = singlePieces(problem.pieces).map((piece) => inThousandths(piece) + kerf);
  const held = offcuts.reduce((sum, bar) => sum + bar.count * roomOf(bar), 0);
  const all = sizes.reduce((sum, size) => sum + size, 0);
  const longestOffcut = Math.max(0, ...offcuts.map(roomOf));
  const mustBeNew = sizes.filter((size) => size > longestOffcut);
  return Math.max(0, Math.ceil((all - held) / room), boundL2(mustBeNew, room));
}

/** L2 of Martello and Toth for sizes in bins of one capacity, whole numbers. */
function boundL2(sizes: readonly number[], capacity: number): number {
  const limits = new Set([0, ...sizes.filter((size) => 2 * size <= capacity)]);
  let best = 0;
  for (const k of limits) {
    const alone = sizes.filter((size) => size > capacity - k).length;
    const large = sizes.filter((size) => size <= capacity - k && 2 * size > capacity);
    const small = sizes.filter((size) => 2 * size <= capacity && size >= k);
    const sum = (of: readonly number[]): number => of.reduce((total, size) => total + size, 0);
    const beside = large.length * capacity - sum(large);
    const more = Math.max(0, Math.ceil((sum(small) - beside) / capacity));
    best = Math.max(best, alone + large.length + more);
  }
  return best;
}
