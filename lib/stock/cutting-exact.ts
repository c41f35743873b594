import { checkCutting } from "./cutting-check";
import {
  assertCutting,
  compareCutting,
  type CutBar,
  cutBar,
  type CuttingPlan,
  type CuttingProblem,
  type CuttingScore,
  cuttingScore,
  leastNewBars,
  quickCutting,
  type StockBars,
} from "./cutting";
import { type BarKind, barKinds, type Pattern, patternsOf } from "./cutting-patterns";

/** A linear model in whole numbers from 0 to `most`: least cost, every row's sum within its limits. */
export type WholeModel = {
  readonly costs: readonly number[];
  readonly most: readonly number[];
  readonly rows: readonly {
    readonly least: number;
    readonly most: number;
    readonly terms: readonly (readonly [variable: number, by: number])[];
  }[];
};

export type WholeAnswer = {
  readonly status: "OPTIMAL" | "INFEASIBLE" | "STOPPED";
  /** by variable; null when none was found */
  readonly values: readonly number[] | null;
  /** nothing costs less */
  readonly bound: number;
};

/** Whatever solves such models. */
export type WholeSolver = (model: WholeModel, timeLimitS: number) => WholeAnswer;

export type CuttingAnswer = {
  /** null where the pieces do not come out of what is there, or no way was found */
  readonly plan: CuttingPlan | null;
  readonly score: CuttingScore | null;
  /** no plan takes fewer new bars */
  readonly leastNewBars: number;
  /** PROVEN: nothing is better, or no plan exists; FOUND: the best of the time there was */
  readonly proof: "PROVEN" | "FOUND";
};

/** More ways to cut one bar than this are too many for the exact model. */
const MOST_PATTERNS = 6000;

/**
 * The best plan, and whether it is proven. The quick answer comes first; where it meets the bounds that is the proof.
 * Otherwise every way to cut a bar is listed and whole numbers of them are chosen (Gilmore and Gomory 1961), once for
 * each thing that plans are compared by.
 *
 * @param options timeLimitS for all solves together, s, above 0
 * @throws RangeError as `assertCutting`; whatever the solver throws
 * @example (await solveCutting(problem, { timeLimitS: 5, solver: await loadCuttingSolver() })).proof // "PROVEN"
 */
export function solveCutting(
  problem: CuttingProblem,
  options: { readonly timeLimitS: number; readonly solver: WholeSolver },
): CuttingAnswer {
  assertCutting(problem);
  const quick = quickCutting(problem);
  const state: State = { problem, best: null, score: null, bound: leastNewBars(problem) };
  consider(state, quick);
  if (isPlainlyBest(state)) return answerOf(state, "PROVEN");
  const kinds = barKinds(problem.bars);
  const patterns = patternsOf(problem, kinds, MOST_PATTERNS);
  if (!patterns) return answerOf(state, "FOUND");
  const proof = solveInTurn(state, kinds, patterns, options);
  return answerOf(state, proof);
}

type State = {
  readonly problem: CuttingProblem;
  best: CuttingPlan | null;
  score: CuttingScore | null;
  bound: number;
};

function answerOf({ best, score, bound }: State, proof: CuttingAnswer["proof"]): CuttingAnswer {
  return { plan: best, score, proof, leastNewBars: score ? Math.min(bound, score.newBars) : bound };
}

/** Takes a plan over where it can be sawn and is better. */
function consider(state: State, plan: CuttingPlan | null): void {
  if (!plan || checkCutting(state.problem, plan).length > 0) return;
  const score = cuttingScore(state.problem, plan);
  if (state.score && compareCutting(score, state.score) >= 0) return;
  state.best = plan;
  state.score = score;
}

/** Beyond doubt without a model: nothing to cut, or all from one whole bar of the only kind there is. */
function isPlainlyBest({ problem, best, score, bound }: State): boolean {
  if (problem.pieces.length === 0) return true;
  if (!best || score?.newBars !== bound || best.length !== 1) return false;
  return problem.bars.length === 1 && problem.bars[0]?.kind === "BAR";
}

type Solve = { readonly timeLimitS: number; readonly solver: WholeSolver };

function solveInTurn(
  state: State,
  kinds: readonly BarKind[],
  patterns: readonly Pattern[],
  { timeLimitS, solver }: Solve,
): CuttingAnswer["proof"] {
  const turn = { timeLimitS: timeLimitS / 3, solver };
  const rows = commonRows(state.problem, kinds, patterns);
  const isNew = patterns.map(({ kind }) => (kinds[kind]?.kind === "BAR" ? 1 : 0));
  if (state.score?.newBars !== state.bound) {
    const fewest = step(state, kinds, patterns, turn, { costs: isNew, rows });
    if (fewest.status === "INFEASIBLE") return state.best ? "FOUND" : "PROVEN";
    state.bound = Math.max(state.bound, Math.ceil(fewest.bound - 1e-6));
    if (fewest.status !== "OPTIMAL" || state.score?.newBars !== state.bound) return "FOUND";
  }
  const newBars = state.score.newBars;
  rows.push({ least: 0, most: newBars, terms: termsOf(isNew) });
  const lost = patterns.map((pattern) => pattern.lost);
  const least = step(state, kinds, patterns, turn, { costs: lost, rows });
  if (least.status !== "OPTIMAL") return "FOUND";
  rows.push({ least: 0, most: state.score.lost * (1 + 1e-7) + 1e-7, terms: termsOf(lost) });
  return longestOffcut(state, kinds, patterns, turn, rows);
}

type Row = WholeModel["rows"][number];

const termsOf = (by: readonly number[]): (readonly [number, number])[] =>
  by.flatMap((value, index) => (value === 0 ? [] : [[index, value] as const]));

function commonRows(
  { pieces }: CuttingProblem,
  kinds: readonly BarKind[],
  patterns: readonly Pattern[],
): Row[] {
  const lengths = [...new Set(pieces.map(({ lengthMm }) => lengthMm))];
  const asked = lengths.map((length): Row => {
    const count = pieces.reduce(
      (sum, each) => sum + (each.lengthMm === length ? each.count : 0),
      0,
    );
    const terms = patterns.map(({ cut }) => cut.pieces.filter((piece) => piece === length).length);
    return { least: count, most: count, terms: termsOf(terms) };
  });
  const there = kinds.map(({ count }, index): Row => {
    const terms = patterns.map(({ kind }) => (kind === index ? 1 : 0));
    return { least: 0, most: count, terms: termsOf(terms) };
  });
  return [...asked, ...there];
}

function step(
  state: State,
  kinds: readonly BarKind[],
  patterns: readonly Pattern[],
  { solver, timeLimitS }: Solve,
  model: { readonly costs: readonly number[]; readonly rows: readonly Row[] },
): WholeAnswer {
  const most = patterns.map(({ kind }) => kinds[kind]?.count ?? 0);
  const answer = solver(
    { ...model, most: [...most, ...model.costs.slice(most.length).map(() => 1)] },
    timeLimitS,
  );
  if (answer.values) consider(state, planOf(state.problem, kinds, patterns, answer.values));
  return answer;
}

/** Of the plans that are as good so far, one that leaves the longest offcut: a second variable picks the cut that leaves it. */
function longestOffcut(
  state: State,
  kinds: readonly BarKind[],
  patterns: readonly Pattern[],
  solve: Solve,
  rows: readonly Row[],
): CuttingAnswer["proof"] {
  const known = state.score?.longestOffcutMm ?? 0;
  const longer = patterns.flatMap(({ cut }, index) => (cut.offcutMm > known ? [index] : []));
  if (longer.length === 0) return "PROVEN";
  const picked = longer.map((pattern, at) => [patterns.length + at, pattern] as const);
  const answer = step(state, kinds, patterns, solve, {
    costs: [...patterns.map(() => 0), ...longer.map((at) => -(patterns[at]?.cut.offcutMm ?? 0))],
    rows: [
      ...rows,
      { least: 0, most: 1, terms: picked.map(([variable]) => [variable, 1] as const) },
      ...picked.map(([variable, pattern]): Row => ({
        least: 0,
        most: Number.POSITIVE_INFINITY,
        terms: [
          [pattern, 1],
          [variable, -1],
        ],
      })),
    ],
  });
  return answer.status === "OPTIMAL" ? "PROVEN" : "FOUND";
}

/** The chosen cuts on bars one by one, in the order in which bars of a kind are given. */
function planOf(
  problem: CuttingProblem,
  kinds: readonly BarKind[],
  patterns: readonly Pattern[],
  values: readonly number[],
): CuttingPlan {
  const waiting = kinds.map(({ bars }) =>
    bars.flatMap((bar) => Array.from({ length: bar.count }, () => bar)),
  );
  return patterns.flatMap(({ kind, cut }, index) =>
    Array.from({ length: Math.round(values[index] ?? 0) }, () => waiting[kind]?.shift()).flatMap(
      (bar: StockBars | undefined): CutBar[] => {
        const own = bar && cutBar(bar, cut.pieces, problem);
        return own ? [own] : [];
      },
    ),
  );
}

/** How far to trust a plan, in words. */
export function cuttingProofText({
  plan,
  score,
  proof,
  leastNewBars: least,
}: CuttingAnswer): string {
  if (!plan || !score) {
    return proof === "PROVEN"
      ? "Proven: these pieces do not come out of what is on the rack."
      : "No way was found to cut these pieces from what is on the rack.";
  }
  if (proof === "PROVEN") {
    return "Proven best: no plan takes fewer new bars, of those none loses less steel, and of those none leaves a longer offcut.";
  }
  if (score.newBars === least) {
    return "No plan takes fewer new bars: that is proven. That none loses less steel is not.";
  }
  const over = Math.ceil((100 * (score.newBars - least)) / Math.max(1, least));
  return `Best found: ${score.newBars} new bars, where ${least} at least are needed; at most ${over} % off.`;
}
