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
  while (at(rowOf, column) !== 0) {
    isDone[column] = 1;
    const own = at(rowOf, column);
    const costsOfRow = costs[own - 1] ?? [];
    let next = 0;
    for (let other = 1; other <= size; other += 1) {
      if (isDone[other] === 1) continue;
      const reduced =
        at(costsOfRow, other - 1) - at(rowPotential, own) - at(columnPotential, other);
      if (reduced < at(least, other)) {
        least[other] = reduced;
        from[other] = column;
      }
      if (next === 0 || at(least, other) < at(least, next)) next = other;
    }
    const step = at(least, next);
    for (let other = 0; other <= size; other += 1) {
      if (isDone[other] === 1) {
        rowPotential[at(rowOf, other)] = at(rowPotential, at(rowOf, other)) + step;
        columnPotential[other] = at(columnPotential, other) - step;
      } else least[other] = at(least, other) - step;
    }
    column = next;
  }
  while (column !== 0) {
    const before = at(from, column);
    rowOf[column] = at(rowOf, before);
    column = before;
  }
}

const at = (cells: ArrayLike<number>, index: number): number => cells[index] ?? 0;
