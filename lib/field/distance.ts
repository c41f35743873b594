/*
 * Distance from each cell of a block to the nearest marked one, exact, axis by axis: Felzenszwalb and Huttenlocher,
 * Theory of Computing 8 (2012) 415, "Distance transforms of sampled functions".
 */

/** A block of cells, x fastest. */
export type Block = {
  readonly cells: readonly [number, number, number];
  /** Edges of a cell, m. */
  readonly edges: readonly [number, number, number];
};

/**
 * From each cell's middle to the middle of the nearest marked one, m; Infinity where none is marked.
 *
 * @param marked not 0 where a cell is
 * @example distancesIn({ cells: [3, 1, 1], edges: [0.1, 1, 1] }, Uint8Array.of(1, 0, 0)) // 0, 0.1, 0.2
 */
export function distancesIn({ cells, edges }: Block, marked: Uint8Array): Float64Array {
  const squares = Float64Array.from(marked, (mark) => (mark === 0 ? Infinity : 0));
  const [nx, ny] = cells;
  const strides = [1, nx, nx * ny];
  for (const axis of [0, 1, 2] as const) {
    const count = cells[axis];
    const line = new Line(count, edges[axis]);
    for (let start = 0; start < squares.length; start++) {
      // Each line along the axis once, from its first cell.
      if (Math.floor(start / strides[axis]!) % count === 0)
        line.pass(squares, start, strides[axis]!);
    }
  }
  return squares.map(Math.sqrt);
}

/** The least of the parabolas that stand on a line's cells. */
class Line {
  private readonly values: Float64Array;
  /** Cells whose parabolas are least somewhere, and from where on they are. */
  private readonly least: Int32Array;
  private readonly from: Float64Array;

  constructor(
    private readonly count: number,
    private readonly edgeM: number,
  ) {
    this.values = new Float64Array(count);
    this.least = new Int32Array(count);
    this.from = new Float64Array(count + 1);
  }

  pass(squares: Float64Array, start: number, stride: number): void {
    const { count, values, least, from, edgeM } = this;
    for (let at = 0; at < count; at++) values[at] = squares[start + at * stride]!;
    let last = -1;
    for (let at = 0; at < count; at++) {
      if (values[at] === Infinity) continue;
      let meets = -Infinity;
      while (last >= 0) {
        meets = this.meeting(least[last]!, at);
        if (meets > from[last]!) break;
        last--;
        meets = -Infinity;
      }
      least[++last] = at;
      from[last] = meets;
    }
    if (last < 0) return;
    from[last + 1] = Infinity;
    let now = 0;
    for (let at = 0; at < count; at++) {
      while (from[now + 1]! < at) now++;
      const off = edgeM * (at - least[now]!);
      squares[start + at * stride] = off * off + values[least[now]!]!;
    }
  }

  /** Where the parabola on `after` comes under that on `before`, in cells. */
  private meeting(before: number, after: number): number {
    const square = this.edgeM * this.edgeM;
    const rise = (this.values[after]! - this.values[before]!) / square;
    return (rise + after * after - before * before) / (2 * (after - before));
  }
}
