/** A linear model, some of whose variables are whole numbers: least cost, every row's sum within its limits. */
export class Mip {
  readonly costs: number[] = [];
  readonly lower: number[] = [];
  readonly upper: number[] = [];
  readonly isWhole: boolean[] = [];
  readonly rowLower: number[] = [];
  readonly rowUpper: number[] = [];
  readonly #rows: { readonly indices: number[]; readonly values: number[] }[] = [];

  get variableCount(): number {
    return this.costs.length;
  }

  /** A variable that is 0 or 1. */
  choice(cost: number): number {
    this.isWhole.push(true);
    return this.#variable(cost, 0, 1) - 1;
  }

  /** A variable of any value within limits. */
  amount(cost: number, lower: number, upper: number): number {
    this.isWhole.push(false);
    return this.#variable(cost, lower, upper) - 1;
  }

  row(
    lower: number,
    upper: number,
    terms: Iterable<readonly [variable: number, by: number]>,
  ): void {
    this.rowLower.push(lower);
    this.rowUpper.push(upper);
    const sums = new Map<number, number>();
    for (const [variable, by] of terms) sums.set(variable, (sums.get(variable) ?? 0) + by);
    this.#rows.push({ indices: [...sums.keys()], values: [...sums.values()] });
  }

  /** The rows one after another, as sparse matrices are passed on. */
  matrix(): { readonly starts: number[]; readonly indices: number[]; readonly values: number[] } {
    const starts = [0];
    for (const { indices } of this.#rows) starts.push((starts.at(-1) ?? 0) + indices.length);
    return {
      starts,
      indices: this.#rows.flatMap(({ indices }) => indices),
      values: this.#rows.flatMap(({ values }) => values),
    };
  }

  #variable(cost: number, lower: number, upper: number): number {
    this.lower.push(lower);
    this.upper.push(upper);
    return this.costs.push(cost);
  }
}

export type MipAnswer = {
  /** proven best; proven to have none; or out of time */
  readonly status: "OPTIMAL" | "INFEASIBLE" | "STOPPED";
  /** by variable; null when none was found */
  readonly values: readonly number[] | null;
  /** nothing costs less */
  readonly bound: number;
};

/** Whatever solves such models. */
export type MipSolver = (mip: Mip, timeLimitS: number) => MipAnswer;
