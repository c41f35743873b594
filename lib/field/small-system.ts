/**
 * Solves a small system of linear equations by elimination with the largest pivot of each column.
 *
 * @param matrix rows, as many as there are columns
 * @throws RangeError if the rows do not tell the unknowns apart
 * @example solveSystem([[2, 1], [1, 3]], [5, 10]) // [1, 3]
 */
export function solveSystem(
  matrix: readonly (readonly number[])[],
  right: readonly number[],
): readonly number[] {
  const rows = matrix.map((row, index) => [...row, right[index]!]);
  const count = rows.length;
  for (let column = 0; column < count; column++) {
    const below = rows.slice(column);
    const pivot = below.reduce((best, row) =>
      Math.abs(row[column]!) > Math.abs(best[column]!) ? row : best,
    );
    if (!(Math.abs(pivot[column]!) > 0)) {
      throw new RangeError(`the equations do not tell unknown ${column + 1} of ${count}`);
    }
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(column, 0, pivot);
    rows.forEach((row, index) => {
      if (index === column) return;
      const times = row[column]! / pivot[column]!;
      rows[index] = row.map((value, at) => value - times * pivot[at]!);
    });
  }
  return rows.map((row, index) => row[count]! / row[index]!);
}
