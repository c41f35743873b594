import { type CutBar, cutBar, type CuttingProblem, type StockBars } from "./cutting";

/** Bars that are alike for a plan: of one kind, length and worth. */
export type BarKind = {
  readonly kind: StockBars["kind"];
  readonly count: number;
  /** at least one, in the order given */
  readonly bars: readonly StockBars[];
};

export function barKinds(bars: readonly StockBars[]): readonly BarKind[] {
  const alike = new Map<string, StockBars[]>();
  for (const bar of bars) {
    const key = `${bar.kind} ${bar.lengthMm} ${bar.worthPerMm}`;
    alike.set(key, [...(alike.get(key) ?? []), bar]);
  }
  return [...alike.values()].map((own) => ({
    kind: own[0]?.kind ?? "BAR",
    count: own.reduce((sum, { count }) => sum + count, 0),
    bars: own,
  }));
}

/** One way to cut a bar of a kind. */
export type Pattern = {
  /** index in the kinds */
  readonly kind: number;
  readonly cut: CutBar;
  /** worth of its chips and scrap */
  readonly lost: number;
};

/** Every way to cut at least one piece from a bar of each kind; null where there are more than `most`. */
export function patternsOf(
  problem: CuttingProblem,
  kinds: readonly BarKind[],
  most: number,
): readonly Pattern[] | null {
  const patterns: Pattern[] = [];
  const lengths = [...new Set(problem.pieces.map(({ lengthMm }) => lengthMm))].sort(
    (a, b) => b - a,
  );
  const demand = lengths.map((length) =>
    problem.pieces.reduce((sum, each) => sum + (each.lengthMm === length ? each.count : 0), 0),
  );
  for (const [kind, { bars }] of kinds.entries()) {
    const [bar] = bars;
    if (!bar) continue;
    const grow = (from: number, pieces: readonly number[]): boolean => {
      for (let at = from; at < lengths.length; at += 1) {
        const length = lengths[at] ?? 0;
        if (pieces.filter((piece) => piece === length).length >= (demand[at] ?? 0)) continue;
        const cut = cutBar(bar, [...pieces, length], problem);
        if (!cut) continue;
        if (patterns.length >= most) return false;
        patterns.push({ kind, cut, lost: (cut.chipsMm + cut.scrapMm) * bar.worthPerMm });
        if (!grow(at, cut.pieces)) return false;
      }
      return true;
    };
    if (!grow(0, [])) return null;
  }
  return patterns;
}
