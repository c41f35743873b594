/** A distribution as nodes in rising order with the probability of each; probabilities add up to 1. */
export type Weighted = {
  readonly nodes: readonly number[];
  readonly weights: readonly number[];
};

/**
 * Turns the logarithm of an unnormalised density on equally spaced nodes into probabilities.
 * The largest is taken out first, so that long histories do not underflow.
 */
export function weighted(nodes: readonly number[], logDensity: readonly number[]): Weighted {
  const most = Math.max(...logDensity);
  const raw = logDensity.map((value) => Math.exp(value - most));
  const total = raw.reduce((sum, value) => sum + value, 0);
  return { nodes, weights: raw.map((value) => value / total) };
}

export function meanOf({ nodes, weights }: Weighted): number {
  return nodes.reduce((sum, node, index) => sum + node * (weights[index] ?? 0), 0);
}

export function deviationOf(distribution: Weighted): number {
  const mean = meanOf(distribution);
  const squares = distribution.nodes.map((node) => (node - mean) ** 2);
  return Math.sqrt(meanOf({ nodes: squares, weights: distribution.weights }));
}

/**
 * The value below which the share p of a distribution lies; each node's weight is spread evenly over its own cell.
 *
 * @param p above 0 and below 1
 */
export function quantileOf({ nodes, weights }: Weighted, p: number): number {
  const first = nodes[0] ?? 0;
  const step = nodes.length > 1 ? (nodes[1] ?? first) - first : 0;
  let below = 0;
  for (const [index, node] of nodes.entries()) {
    const weight = weights[index] ?? 0;
    if (below + weight >= p && weight > 0) {
      const within = node - step / 2 + (step * (p - below)) / weight;
      // The outermost cells end at their node: nothing lies beyond the grid.
      return Math.min(nodes.at(-1) ?? node, Math.max(first, within));
    }
    below += weight;
  }
  return nodes.at(-1) ?? first;
}

/** Equally spaced nodes from `least` to `most`, both included. @param count at least 2 */
export function spaced(least: number, most: number, count: number): readonly number[] {
  return Array.from(
    { length: count },
    (_, index) => least + ((most - least) * index) / (count - 1),
  );
}
