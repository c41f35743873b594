/**
 * The least sum of one entry a row with no two in a column.
 *
 * The Hungarian method with potentials, in O(n³) (Kuhn 1955, Munkres 1957; this form from memory).
 *
 * @param costs square, finite
 * @example leastAssignment([[4, 1], [2, 3]]) // 3
 */
export function leastAssignment(costs: readonly (readonly number[])[]): number {
  const size = costs.length;
  const rowPotential = new Float64Array(size + 1);
  const columnPotential = new Float64Array(size + 1);
  /** by column, counted from 1: its row; 0 for none */
  const rowOf = new Int32Array(size + 1);
  for (let row = 1; row <= size; row += 1) addRow(costs, row, rowPotential, columnPotential, rowOf);
  return -(columnPotential[0] ?? 0);
}

function addRow(
  costs: readonly (readonly number[])[],
  row: number,
  rowPotential: Float64Array,
  columnPotential: Float64Array,
  rowOf: Int32Array,
): void {
  const size = costs.length;
  const least = new Float64Array(size + 1).fill(Number.POSITIVE_INFINITY);
  const from = new Int32Array(size + 1);
  const isDone = new Uint8Array(size + 1);
  rowOf[0] = row;
  let column = 0;
  while ((rowOf[column] ?? 0) !== 0) {
    isDone[column] = 1;
    const own = rowOf[column] ?? 0;
    let step = Number.POSITIVE_INFINITY;
    let next = 0;
    for (let other = 1; other <= size; other += 1) {
      if (isDone[other] === 1) continue;
      const cost = costs[own - 1]?.[other - 1] ?? 0;
      const reduced = cost - (rowPotential[own] ?? 0) - (columnPotential[other] ?? 0);
      if (reduced < (least[other] ?? 0)) {
        least[other] = reduced;
        from[other] = column;
      }
      if ((least[other] ?? 0) < step) {
        step = least[other] ?? 0;
        next = other;
      }
    }
    for (let other = 0; other <= size; other += 1) {
      if (isDone[other] === 1) {
        const taken = rowOf[other] ?? 0;
        rowPotential[taken] = (rowPotential[taken] ?? 0) + step;
        columnPotential[other] = (columnPotential[other] ?? 0) - step;
      } else least[other] = (least[other] ?? 0) - step;
    }
    column = next;
  }
  while (column !== 0) {
    const before = from[column] ?? 0;
    rowOf[column] = rowOf[before] ?? 0;
    column = before;
  }
}
